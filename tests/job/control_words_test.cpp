// Words of a control taken off the shelf: what changes plane, unit, offsets or modes is refused wherever it
// stands.
#include <gtest/gtest.h>

#include "seatwright/job/control_words.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

constexpr ControlUse uses[] = {ControlUse::top, ControlUse::tool_change, ControlUse::program_end,
                               ControlUse::float_word};

TEST(ControlWords, WhatIsStatedOnceIsChangedByNone) {
    // Modal groups of NISTIR 6556 table 4, and G70, G71 of ISO 6983-1.
    for (const char* g : {"G17",   "G18",          "G19",    "G20", "G21",    "G70",   "G71",    "G90",
                          "G91",   "G93",          "G94",    "G95", "G54",    "G59.3", "G52 X1", "G92 X0",
                          "G92.1", "G10 L2 P1 Z5", "G43 H1", "G49", "G41 D1", "G68 R1"})
        for (const ControlUse use : uses) {
            const std::string words = std::string(g) + " M6";
            EXPECT_NE(fault_of_control_words(words, use), "") << words;
        }
    EXPECT_NE(fault_of_control_words("G91 G28 Z0", ControlUse::top).find("distance mode"), std::string::npos);
    EXPECT_NE(fault_of_control_words("G20 M6", ControlUse::tool_change).find("length unit"),
              std::string::npos);
    EXPECT_NE(fault_of_control_words("g 1 9 M71", ControlUse::top).find("plane"), std::string::npos);
    EXPECT_NE(fault_of_control_words("M6 G43 H1", ControlUse::tool_change).find("offsets"),
              std::string::npos);
}

TEST(ControlWords, UsualWordsPass) {
    for (const char* top : {"G53 G0 Z0", "g0 g53 z-1.5", "M71", "M66 P1 Q2"})
        EXPECT_EQ(fault_of_control_words(top, ControlUse::top), "") << top;
    for (const char* change : {"M6", "M0", "m06"})
        EXPECT_EQ(fault_of_control_words(change, ControlUse::tool_change), "");
    for (const char* end : {"M2", "M30", "M5 M30", "M9 M2"})
        EXPECT_EQ(fault_of_control_words(end, ControlUse::program_end), "") << end;
    for (const char* word : {"M62 P1", "M10", "M111", "M64 P3 Q1"})
        EXPECT_EQ(fault_of_control_words(word, ControlUse::float_word), "") << word;
}

TEST(ControlWords, AWayUpThatAsksWhereZ0IsIsNoWayUp) {
    for (const char* top : {"G0 Z200", "Z0", "G53 Z0", "G28 Z0", "G28", "G30 Z0", "G53 G0", "G53 G0 Z0 Z1",
                            "G53 G0 X0 Z0", "P1", "M5", "M0", "M30", "M98 P100", "G53 G1 Z0"})
        EXPECT_NE(fault_of_control_words(top, ControlUse::top), "") << top;
}

TEST(ControlWords, AFloatWordNeitherMovesNorTurnsNorStops) {
    for (const char* word :
         {"M0", "M3", "M5",    "M6",   "M30",      "M98 P1",     "G0",   "G1 Z0", "S500", "M62 M63",
          "",   "M",  "M62 P", "hand", "M62\nG91", "M62 (free)", "M62;", "M#1",   "M1.5", "62"})
        EXPECT_NE(fault_of_control_words(word, ControlUse::float_word), "") << word;
}

std::vector<std::string> keys_blamed(const std::string& tables) {
    const auto none = [](const std::string&) -> tl::expected<std::string, std::string> {
        return tl::unexpected(std::string("no such file"));
    };
    const auto job =
        read_job("units = \"mm\"\n[head]\n[[head.valve]]\nid = \"1I\"\nkind = \"intake\"\nx = 0\n" + tables,
                 "j.toml", none);
    std::vector<std::string> keys;
    if (!job)
        for (const Fault& fault : job.error()) keys.push_back(fault.key + ":" + std::to_string(fault.line));
    return keys;
}

TEST(ControlWords, TheJobIsAtFaultWithTheKeyAndItsLine) {
    using Keys = std::vector<std::string>;
    EXPECT_EQ(
        keys_blamed(
            "[dialect]\ntop = \"G53 G0 Z0\"\n[machine]\nfloat = { free = \"M62 P1\", lock = \"M63 P1\", "
            "centre = \"self\" }\n"),
        Keys{});
    EXPECT_EQ(keys_blamed("[dialect]\ntop = \"G91 G28 Z0\"\n"), Keys{"dialect.top:8"});
    EXPECT_EQ(keys_blamed("[dialect]\ntool_change = \"M6 G20\"\n"), Keys{"dialect.tool_change:8"});
    EXPECT_EQ(keys_blamed("[dialect]\nprogram_end = \"G90 M30\"\n"), Keys{"dialect.program_end:8"});
    EXPECT_EQ(keys_blamed("[machine]\nfloat = { free = \"G91 M62\", lock = \"hand\", centre = \"hand\" }\n"),
              Keys{"machine.float.free:8"});
    EXPECT_EQ(keys_blamed("[machine]\nfloat = { free = \"M62\", lock = \"M62\", centre = \"self\" }\n"),
              Keys{"machine.float.lock:8"});
    EXPECT_EQ(keys_blamed("[machine]\nfloat = { free = \"M62\", lock = \"self\" }\n"),
              Keys{"machine.float.lock:8"});
}

}  // namespace
}  // namespace seatwright::job
