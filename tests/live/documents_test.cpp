// Documents of an agent: those of the tests' own are held against the standard's schemas by xmllint, where
// the reference data is here (MTConnect 2.0, schemas BSD-3); they are read by local names, whatever the
// version.
#include <gtest/gtest.h>

#include <cstdio>
#include <fstream>
#include <iterator>

#include "live/agent.hpp"
#include "seatwright/live/follow.hpp"
#include "seatwright/live/mtconnect.hpp"
#include "seatwright/live/parts.hpp"
#include "shared_data.hpp"
#include "spoken.hpp"
#include "store/folder.hpp"

namespace seatwright::live {
namespace {

std::string replaced(std::string text, const std::string& what, const std::string& with) {
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += with.size())
        text.replace(at, what.size(), with);
    return text;
}

Agent talking() {
    Agent agent;
    agent.say("xpos", "123.4567");
    agent.say("ypos", "-20.5");
    agent.say("pp", "123.4567 -20.5 -55.25");
    agent.say("ex", "READY");
    return agent;
}

void expect_valid(const std::string& document, const std::string& schema) {
    const auto at = outside::data_file("mtconnect/" + schema);
    ASSERT_TRUE(at);
    const store::TestFolder folder;
    std::ofstream(folder.file("document.xml")) << document;
    const std::string command =
        fmt::format("xmllint --nonet --noout --schema '{}' '{}' 2>&1", *at, folder.file("document.xml"));
    FILE* run = ::popen(command.c_str(), "r");
    ASSERT_NE(run, nullptr);
    std::string said;
    for (int c = 0; (c = std::fgetc(run)) != EOF;) said += static_cast<char>(c);
    EXPECT_EQ(::pclose(run), 0) << said << document;
}

TEST(Documents, OurAgentsAreValid) {
    for (const char* schema : {"Devices_2.0", "Streams_2.0", "Error_2.0"})
        if (!outside::data_file(fmt::format("mtconnect/MTConnect{}_1.0.xsd", schema)))
            GTEST_SKIP() << outside::missing(outside::no_data);
    const Agent agent = talking();
    expect_valid(agent.devices(), "MTConnectDevices_2.0_1.0.xsd");
    expect_valid(agent.current(), "MTConnectStreams_2.0_1.0.xsd");
    expect_valid(agent.sample(agent.first(), 100), "MTConnectStreams_2.0_1.0.xsd");
    expect_valid(agent.error("OUT_OF_RANGE", "beyond"), "MTConnectError_2.0_1.0.xsd");
}

TEST(Documents, TheReferenceExampleIsRead) {
    const auto at = outside::data_file("mtconnect/mtconnect_current_example.xml");
    if (!at) GTEST_SKIP() << outside::missing(outside::no_data);
    std::ifstream in(*at);
    const auto read = read_agent(std::string(std::istreambuf_iterator<char>(in), {}));
    ASSERT_TRUE(read) << spoken(read.error());
    ASSERT_EQ(read->kind, AgentDocument::Kind::streams);
    EXPECT_GT(read->streams.header.next, 0u);
    EXPECT_FALSE(read->streams.observations.empty());
    EXPECT_EQ(read->streams.conditions, 1u);
}

TEST(Documents, DevicesSayWhatThereIs) {
    const auto read = read_agent(talking().devices());
    ASSERT_TRUE(read) << spoken(read.error());
    ASSERT_EQ(read->kind, AgentDocument::Kind::devices);
    EXPECT_EQ(read->devices.header.instance, 1000u);
    ASSERT_EQ(read->devices.items.size(), 5u);
    const auto& x = read->devices.items[0];
    EXPECT_EQ(x.id, "xpos");
    EXPECT_EQ(x.type, "POSITION");
    EXPECT_EQ(x.units, "MILLIMETER");
    EXPECT_EQ(x.component, "Linear X");
    EXPECT_EQ(x.device, "mill");
}

TEST(Documents, StreamsByLocalNamesInEveryVersion) {
    const std::string own = talking().current();
    const std::string prefixed =
        replaced(replaced(replaced(own, "<", "<m:"), "<m:/", "</m:"), "<m:?xml", "<?xml");
    for (const std::string& text : {own, replaced(own, ":2.0\"", ":1.0\""), replaced(own, ":2.0\"", ":2.4\""),
                                    replaced(prefixed, "xmlns=\"", "xmlns:m=\"")}) {
        const auto read = read_agent(text);
        ASSERT_TRUE(read) << spoken(read.error()) << text;
        ASSERT_EQ(read->kind, AgentDocument::Kind::streams);
        const auto& seen = read->streams.observations;
        ASSERT_EQ(seen.size(), 5u);
        EXPECT_EQ(seen[0].key, "xpos");
        EXPECT_EQ(seen[0].numbers, std::vector<double>{123.4567});
        EXPECT_EQ(seen[0].raw, "123.4567");
        EXPECT_EQ(seen[0].sequence, 6u);
        EXPECT_EQ(seen[0].stated, 1795819799500);
        EXPECT_EQ(seen[2].numbers, (std::vector<double>{123.4567, -20.5, -55.25}));
        EXPECT_TRUE(seen[4].unavailable);
        EXPECT_TRUE(seen[4].numbers.empty());
    }
}

TEST(Documents, WhatIsNoneSaysSo) {
    const auto words = [](const std::string& text) { return spoken(read_agent(text).error()); };
    EXPECT_NE(words("").find("no XML document"), std::string::npos);
    EXPECT_NE(words("<html><body>404</body></html>").find("no agent"), std::string::npos);
    const std::string whole = talking().current();
    EXPECT_NE(words(whole.substr(0, whole.size() / 2)).find("no XML document"), std::string::npos);
    EXPECT_NE(words(replaced(whole, "MTConnectStreams ", "MTConnectAssets ")).find("no XML document"),
              std::string::npos);
    // An entity that would grow to gigabytes is not expanded.
    const std::string grows =
        "<!DOCTYPE x [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]>" +
        replaced(replaced(whole, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>", ""), "READY", "&b;&b;");
    const auto read = read_agent(grows);
    if (read) {
        EXPECT_EQ(read->streams.observations[3].raw, "&b;&b;");
    }
    EXPECT_FALSE(read_agent(std::string(2'000'000, '<')));
    std::string deep;
    for (int i = 0; i < 200'000; ++i) deep += "<a>";
    EXPECT_FALSE(read_agent(deep));
}

TEST(Parts, WholeHoweverTheBytesCome) {
    const std::string body =
        "--edge\r\nContent-type: text/xml\r\nContent-length: 5\r\n\r\n<a/>\n\r\n"
        "--edge\r\nContent-Type: text/xml\r\n\r\n<b>--ed</b>\r\n--edge\n\n<c/>\n--edge--";
    for (std::size_t piece : {1u, 2u, 7u, 1000u}) {
        Parts parts("edge");
        std::vector<std::string> all;
        for (std::size_t at = 0; at < body.size(); at += piece)
            for (auto& one : parts.add(std::string_view(body).substr(at, piece)))
                all.push_back(std::move(one));
        EXPECT_EQ(all, (std::vector<std::string>{"<a/>", "<b>--ed</b>", "<c/>"})) << piece;
        EXPECT_TRUE(parts.ended());
    }
    EXPECT_EQ(boundary_of("multipart/x-mixed-replace; boundary=\"a b\""), "a b");
    EXPECT_EQ(boundary_of("Multipart/Mixed;boundary=edge; x=y"), "edge");
    EXPECT_EQ(boundary_of("text/xml"), std::nullopt);
    Parts endless("edge");
    endless.add("--edge\r\nContent-length: 99999999999\r\n\r\n");
    EXPECT_NE(spoken(endless.fault()).find("more than any"), std::string::npos);
}

// A follower against an agent, as the wire would have it, asked from → answered by.
std::string answer(const Agent& agent, const std::string& path) {
    if (path == "/probe") return agent.devices();
    if (path == "/current") return agent.current();
    const auto from = path.find("from=");
    return agent.sample(std::stoull(path.substr(from + 5)),
                        std::stoull(path.substr(path.find("count=") + 6)));
}

std::vector<std::string> seen_by(Followed& followed, const std::string& key) {
    std::vector<std::string> all;
    for (const auto& one : followed.observations)
        if (one.key == key) all.push_back(one.raw);
    return all;
}

TEST(Follow, EverythingOnceAndInOrder) {
    Agent agent = talking();
    Follow follow;
    EXPECT_EQ(follow.next(), "/probe");
    ASSERT_TRUE(follow.take(answer(agent, follow.next())).devices);
    EXPECT_EQ(follow.next(), "/current");
    auto stands = follow.take(answer(agent, follow.next()));
    ASSERT_EQ(stands.observations.size(), 5u);
    EXPECT_TRUE(stands.observations[0].standing);
    EXPECT_TRUE(follow.streams());
    std::vector<std::string> all, said;
    for (int n = 0; n < 500; ++n) {
        said.push_back(fmt::format("{}", n));
        agent.say("xpos", said.back());
        if (n % 7 != 0) continue;
        auto more = follow.take(answer(agent, follow.next()));
        EXPECT_TRUE(more.notes.empty());
        for (auto& one : seen_by(more, "xpos")) all.push_back(one);
    }
    auto rest = follow.take(answer(agent, follow.next()));
    for (auto& one : seen_by(rest, "xpos")) all.push_back(one);
    EXPECT_EQ(all, said);
    auto twice = follow.take(agent.sample(agent.next() - 3, 10));
    EXPECT_TRUE(twice.observations.empty()) << "what was seen is not seen again";
}

TEST(Follow, AGapARestartAndAnErrorAreSaid) {
    Agent agent = talking();
    Follow follow;
    follow.take(answer(agent, follow.next()));
    follow.take(answer(agent, follow.next()));
    for (int n = 0; n < 1000; ++n) agent.say("xpos", fmt::format("{}", n));
    auto gap = follow.take(answer(agent, follow.next()));
    ASSERT_EQ(gap.notes.size(), 1u);
    EXPECT_NE(spoken(gap.notes[0]).find("there is a gap"), std::string::npos);
    EXPECT_TRUE(gap.ask_again);
    EXPECT_EQ(follow.next(), "/current");
    auto stands = follow.take(answer(agent, follow.next()));
    EXPECT_EQ(seen_by(stands, "xpos"), std::vector<std::string>{"999"});

    Agent anew(2000);
    anew.say("xpos", "7");
    auto restarted = follow.take(anew.sample(anew.first(), 10));
    ASSERT_EQ(restarted.notes.size(), 1u);
    EXPECT_NE(spoken(restarted.notes[0]).find("started anew"), std::string::npos);
    EXPECT_TRUE(restarted.observations.empty());
    EXPECT_EQ(follow.next(), "/probe");

    auto refused = follow.take(anew.error("UNAUTHORIZED", "not for you"));
    EXPECT_NE(spoken(refused.notes.at(0)).find("UNAUTHORIZED"), std::string::npos);
    auto nonsense = follow.take("<html/>");
    EXPECT_NE(spoken(nonsense.notes.at(0)).find("no agent"), std::string::npos);
    EXPECT_EQ(follow.next(), "/probe");
}

}  // namespace
}  // namespace seatwright::live
