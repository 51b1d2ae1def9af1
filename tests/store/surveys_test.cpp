// Surveys on disk: entries in order, once each, taken back and corrected but never lost.
#include <gtest/gtest.h>

#include "house.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/surveys.hpp"

namespace seatwright::store {
namespace {

NewSurveyEntry said(const std::string& key, const std::string& kind, const Json& values) {
    NewSurveyEntry e;
    e.client_key = key;
    e.kind = kind;
    e.values = values;
    return e;
}

long long begun(TestHouse& house, Surveys& surveys) {
    return surveys
        .make(house.owner, "an invented head", LengthUnit::inch, said("a", "head", {{"cylinders", 4}}))
        ->id;
}

TEST(Surveys, EntriesStandInOrderWithWhoAndWhen) {
    TestHouse house;
    Surveys surveys(house.database);
    const long long id = begun(house, surveys);
    const auto first = surveys.append(house.owner, id,
                                      said("b", "size", {{"what", "bore"}, {"id", "1I"}, {"value", 0.315}}));
    ASSERT_TRUE(first);
    EXPECT_EQ(first->sequence, 2);
    EXPECT_EQ(first->by, "Pat");
    EXPECT_GT(first->at_ms, 0);
    const auto row = surveys.row(id);
    ASSERT_TRUE(row);
    EXPECT_EQ(row->units, LengthUnit::inch);
    EXPECT_EQ(row->sequence, 2);
    EXPECT_FALSE(row->job);
    const auto entries = surveys.entries(id);
    ASSERT_EQ(entries.size(), 2u);
    EXPECT_EQ(entries[0].values["cylinders"], 4);
    EXPECT_EQ(entries[1].values["value"], 0.315);
}

TEST(Surveys, SendingAgainWritesNothing) {
    TestHouse house;
    Surveys surveys(house.database);
    const long long id = begun(house, surveys);
    EXPECT_EQ(begun(house, surveys), id) << "the answer was lost on the way, the survey was not";
    const auto entry = said("b", "setup", {{"setup", "A"}, {"tilt", 19.4}});
    const auto once = surveys.append(house.owner, id, entry), again = surveys.append(house.owner, id, entry);
    ASSERT_TRUE(once && again);
    EXPECT_EQ(once->id, again->id);
    const auto other = surveys.append(house.owner, id, said("b", "setup", {{"setup", "B"}}));
    ASSERT_FALSE(other);
    EXPECT_EQ(other.error().why, Why::taken);
    EXPECT_EQ(surveys.entries(id).size(), 2u);
}

TEST(Surveys, TheLedgerNamesTheSurveyAndWhatWasRead) {
    TestHouse house;
    Surveys surveys(house.database);
    const long long id = begun(house, surveys);
    const auto bore = surveys.append(
        house.owner, id, said("b", "size", {{"what", "bore"}, {"id", "1I"}, {"from", "bore gauge"}}));
    auto back = said("c", "size", Json::object());
    back.corrects = bore->id;
    back.withdrawn = true;
    ASSERT_TRUE(surveys.append(house.owner, id, back));
    std::vector<std::string> told;
    for (const auto& line : ledger(house.database, {})) told.push_back(line.what);
    ASSERT_GE(told.size(), 3u);
    told.resize(3);
    EXPECT_EQ(told,
              (std::vector<std::string>{"the survey 'an invented head': took back a size: bore 1I",
                                        "the survey 'an invented head': recorded a size: bore 1I, bore gauge",
                                        "began the survey 'an invented head'"}));
}

TEST(Surveys, WhatIsTakenBackStaysOnRecord) {
    TestHouse house;
    Surveys surveys(house.database);
    const long long id = begun(house, surveys);
    const auto wrong = surveys.append(house.owner, id, said("b", "setup", {{"setup", "A"}, {"tilt", 91.4}}));
    auto back = said("c", "setup", Json::object());
    back.corrects = wrong->id;
    back.withdrawn = true;
    const auto taken = surveys.append(house.owner, id, back);
    ASSERT_TRUE(taken);
    EXPECT_EQ(live_entries(surveys.entries(id)), (std::vector<bool>{true, false, false}));
    auto anew = said("d", "setup", Json::object());
    anew.corrects = taken->id;
    anew.withdrawn = true;
    ASSERT_TRUE(surveys.append(house.owner, id, anew));
    EXPECT_EQ(live_entries(surveys.entries(id)), (std::vector<bool>{true, true, false, false}))
        << "taking back what took it back brings it back";
    auto right = said("e", "setup", {{"setup", "A"}, {"tilt", 19.4}});
    right.corrects = wrong->id;
    ASSERT_TRUE(surveys.append(house.owner, id, right));
    EXPECT_EQ(live_entries(surveys.entries(id)), (std::vector<bool>{true, false, false, false, true}));
    auto other_kind = said("f", "point", {{"setup", "A"}});
    other_kind.corrects = wrong->id;
    EXPECT_EQ(surveys.append(house.owner, id, other_kind).error().why, Why::not_found);
    EXPECT_EQ(surveys.append(house.owner, 99, right).error().why, Why::not_found);
}

// The database itself refuses to change an entry.
TEST(Surveys, EntriesAreAppendOnly) {
    TestHouse house;
    Surveys surveys(house.database);
    begun(house, surveys);
    EXPECT_THROW(house.database.write([](Sql& sql) { sql << "update survey_entry set content = '{}'"; }),
                 soci::soci_error);
    EXPECT_THROW(house.database.write([](Sql& sql) { sql << "delete from survey_entry"; }), soci::soci_error);
}

}  // namespace
}  // namespace seatwright::store
