// The reference page and the table of keys are one.
#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <sstream>

#include "places.hpp"
#include "seatwright/job/keys.hpp"

namespace seatwright::job {
namespace {

TEST(KeyReference, PageInDocsIsWhatTheTableWrites) {
    std::ifstream file(std::string(places::root) + "/docs/job-file-reference.md");
    std::stringstream page;
    page << file.rdbuf();
    EXPECT_EQ(page.str(), key_reference_markdown())
        << "write it anew: seatwright check --reference > docs/job-file-reference.md";
}

TEST(KeyReference, EveryKeyIsListedOnceAndExplained) {
    std::set<std::string_view> seen;
    for (const Key& key : all_keys()) {
        EXPECT_TRUE(seen.insert(key.path).second) << key.path;
        EXPECT_FALSE(key.meaning.empty()) << key.path;
        EXPECT_EQ(key.type == ValueType::choice, !key.choices.empty()) << key.path;
        // Its table stands before it.
        const auto dot = key.path.rfind('.');
        if (dot != std::string_view::npos) {
            auto parent = key.path.substr(0, dot);
            if (parent.ends_with("[]")) parent.remove_suffix(2);
            EXPECT_TRUE(seen.contains(parent)) << key.path;
        }
    }
    EXPECT_GT(seen.size(), 150u);
}

// A scatter is what chances and forecasts hang on: nobody at the machine makes them better by writing it
// smaller.
TEST(WhoChanges, EveryScatterIsALeads) {
    int scatters = 0;
    for (const Key& key : all_keys()) {
        if (!key.path.ends_with("_sd") && !key.path.ends_with(".sd")) continue;
        ++scatters;
        EXPECT_EQ(key.who.hand(), Who::leads) << key.path;
    }
    EXPECT_GE(scatters, 13);
}

TEST(WhoChanges, WhatAForecastIsMadeFromIsTheMachinistsNoLongerThanTheFirstFile) {
    int keys = 0;
    for (const Key& key : forecast_keys()) {
        ++keys;
        EXPECT_NE(key.who.hand(), Who::machinists) << key.path;
    }
    EXPECT_GT(keys, 15);
}

}  // namespace
}  // namespace seatwright::job
