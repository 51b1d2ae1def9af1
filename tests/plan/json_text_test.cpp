// JSON written as text is to the letter what the library writes of the same values. Invented values.
#include "seatwright/report/json_text.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <random>

namespace seatwright::report {
namespace {

using nlohmann::ordered_json;

std::string dumped(const ordered_json& json) {
    return json.dump(-1, ' ', false, ordered_json::error_handler_t::replace);
}

TEST(JsonText, WritesNumbersAsTheLibraryDoes) {
    std::mt19937_64 dice(3);
    std::uniform_real_distribution<double> digits(-1, 1), powers(-30, 30);
    for (int i = 0; i < 20'000; ++i) {
        const double value = digits(dice) * std::pow(10, i % 3 == 0 ? 0 : powers(dice));
        ASSERT_EQ(as_json(value).text(), dumped(value));
    }
    for (const double whole : {0.0, 1.0, -12.0, 0.1, 1e15, 1e17, 5e-324})
        EXPECT_EQ(as_json(whole).text(), dumped(whole));
    EXPECT_EQ(as_json(-0.0).text(), "0.0") << "no minus before a zero";
    EXPECT_EQ(as_json(std::nan("")).text(), "null");
    EXPECT_EQ(as_json(std::numeric_limits<double>::max(), 10).text(), "null");
    EXPECT_EQ(as_json(std::nullopt).text(), "null");
    EXPECT_EQ(JsonText(-7).text(), "-7");
    EXPECT_EQ(JsonText(true).text(), "true");
}

TEST(JsonText, WritesTextsAsTheLibraryDoes) {
    const std::string odd[] = {"",        "plain",          "a \"word\" \\ and / more",
                               "19.50 °", "line\nand\ttab", "\x01",
                               "\x7f",    "cut \xff off",   "\xc3",
                               "∅ 6.002"};
    for (const std::string& text : odd) EXPECT_EQ(JsonText(text).text(), dumped(text));
}

TEST(JsonText, SetsObjectsAndListsTogether) {
    JsonText text = JsonText::object();
    text["empty"] = JsonText::object();
    text["list"] = JsonText::array();
    for (int i = 0; i < 3; ++i)
        text["list"].push_back({{"i", i}, {"names", std::vector<std::string>{"1I", "1E"}}});
    text["last"] = nullptr;
    text["last"] = JsonText::array({JsonText(1), JsonText("two"), JsonText()});
    JsonText more = JsonText::object();
    more.join(text);
    more["behind"] = JsonText::array();
    const auto one = [](int i) { return ordered_json{{"i", i}, {"names", {"1I", "1E"}}}; };
    const ordered_json wanted{{"empty", ordered_json::object()},
                              {"list", {one(0), one(1), one(2)}},
                              {"last", {1, "two", nullptr}},
                              {"behind", ordered_json::array()}};
    EXPECT_EQ(more.text(), dumped(wanted));
    EXPECT_EQ(text.text().find("behind"), std::string::npos);

    JsonMembers members;
    members["a"] = JsonText(1);
    members["b"] = JsonText::array();
    members["b"].push_back("x");
    EXPECT_EQ(dumped(json_of(members)), R"({"a":1,"b":["x"]})");
}

}  // namespace
}  // namespace seatwright::report
