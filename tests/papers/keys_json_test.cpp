// The pages' table of keys and units is the program's.
#include "seatwright/report/keys_json.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "places.hpp"
#include "seatwright/job/keys.hpp"

namespace seatwright::report {
namespace {

TEST(KeysJson, ThePagesHaveTheProgramsTable) {
    std::ifstream file(std::string(places::root) + "/web/src/made/keys.json");
    std::stringstream text;
    text << file.rdbuf();
    EXPECT_TRUE(text.str() == keys_json().dump(1) + "\n")
        << "write it anew: seatwright check --keys > web/src/made/keys.json";
}

TEST(KeysJson, WhatALimitAndANewHeadCanBeStandsBeside) {
    const auto json = keys_json();
    const auto of = [&](const char* name) {
        for (const auto& key : json["keys"])
            if (key["key"] == name) return key;
        return nlohmann::ordered_json();
    };
    EXPECT_EQ(of("valve.*.head_diameter")["new_head"], nlohmann::ordered_json({3.0, 500.0}));
    EXPECT_EQ(of("seat.*.runout_max")["above"], 0);
    EXPECT_EQ(of("seat.*.width_tol")["from"], 0);
    EXPECT_FALSE(of("seat.*.recession_min").contains("from") || of("seat.*.recession_min").contains("above"));
}

TEST(KeysJson, EveryKeyStandsOnceWithALabelAndFactorsAreExact) {
    const auto json = keys_json();
    ASSERT_EQ(json["keys"].size(), job::all_keys().size());
    for (const auto& key : json["keys"]) EXPECT_FALSE(key["label"].get<std::string>().empty()) << key;
    // International yard and pound agreement (1959): the inch is 25.4 mm, the pound 0.45359237 kg.
    EXPECT_EQ(json["units"]["length"]["factors"]["in"], 25.4);
    EXPECT_EQ(json["units"]["mass"]["factors"]["lb"], 0.45359237);
    EXPECT_EQ(json["units"]["angle"]["bare"], "deg");
    EXPECT_NEAR(json["units"]["angle"]["factors"]["rad"].get<double>(), 57.295779513082321, 1e-12);
}

}  // namespace
}  // namespace seatwright::report
