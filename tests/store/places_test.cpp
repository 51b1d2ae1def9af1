// What was sent to which place, and what became of it: kept, said by name, never changed.
#include <gtest/gtest.h>

#include "house.hpp"
#include "seatwright/store/places.hpp"

namespace seatwright::store {
namespace {

struct Sent {
    TestHouse house;
    Places places{house.database};
    long long job = house.new_job();
    PlaceRow stick =
        *places.make(house.owner, {"mill 1", "stick in the mill", "folder", "{\"path\":\"/mnt\"}"});

    NewSending of(const std::string& name = "3-program-7-A-1.ngc", bool to_run = true) const {
        NewSending s;
        s.place = stick.id;
        s.job = job;
        s.head = "7";
        s.file = "program-7-A-1.ngc";
        s.name = name;
        s.temporary = "sw000001.tmp";
        s.bytes = "(é)\nM30\n";
        s.sha256 = std::string(64, 'a');
        s.first_seats = "3I";
        s.to_run = to_run;
        return s;
    }
};

TEST(Places, ASendingIsOnRecordBeforeAnythingAndMayRunUntilAPersonSays) {
    Sent s;
    const auto sending = s.places.begin(s.house.owner, s.of());
    auto now = *s.places.sending(sending.id);
    EXPECT_TRUE(now.open());
    EXPECT_TRUE(now.may_stand());
    EXPECT_TRUE(now.may_run()) << "cut off, it may have arrived";
    EXPECT_EQ(now.bytes, s.of().bytes);
    EXPECT_EQ(s.places.at_place(s.stick.id).at(0).bytes, s.of().bytes);
    s.places.note({}, sending.id, Became::arrived, "");
    EXPECT_TRUE(s.places.sending(sending.id)->may_run());
    EXPECT_EQ(s.places.at_place(s.stick.id).at(0).bytes, "") << "what has ended is asked for by its number";
    EXPECT_EQ(s.places.sending(sending.id)->bytes, s.of().bytes);
    s.places.note({}, sending.id, Became::gone, "");
    EXPECT_TRUE(s.places.sending(sending.id)->may_run()) << "a control may have taken it into its memory";
    s.places.note(s.house.owner, sending.id, Became::stopped, "");
    now = *s.places.sending(sending.id);
    EXPECT_FALSE(now.may_run());
    EXPECT_FALSE(now.may_stand());
    ASSERT_EQ(now.lines.size(), 3u);
    EXPECT_EQ(now.lines[2].by, "Pat");
    EXPECT_EQ(now.lines[0].by, "");
    EXPECT_EQ(now.said(), Became::stopped);
    EXPECT_EQ(s.places.of_head(s.job, "7").size(), 1u);
    EXPECT_TRUE(s.places.of_head(s.job, "8").empty());
    const auto lines = ledger(s.house.database, {});
    EXPECT_EQ(lines.at(0).what, "3-program-7-A-1.ngc at 'stick in the mill': stopped");
    EXPECT_EQ(lines.at(0).by, "Pat");
    EXPECT_EQ(lines.at(3).what,
              "sends program-7-A-1.ngc to 'stick in the mill' as 3-program-7-A-1.ngc, to be run (SHA-256 "
              "aaaaaaaaaaaaaaaa)");
}

TEST(Places, WhatFailedOrWasSentAheadHoldsUpNothing) {
    Sent s;
    const auto failed = s.places.begin(s.house.owner, s.of());
    s.places.note({}, failed.id, Became::failed, "the folder is full");
    EXPECT_FALSE(s.places.sending(failed.id)->may_run());
    EXPECT_FALSE(s.places.sending(failed.id)->may_stand());
    const auto ahead = s.places.begin(s.house.owner, s.of("b.ngc", false));
    EXPECT_FALSE(s.places.sending(ahead.id)->may_run());
    EXPECT_TRUE(s.places.put_away(s.house.owner, s.stick.id));
    EXPECT_TRUE(s.places.rows().empty());
    EXPECT_EQ(s.places.sending(ahead.id)->name, "b.ngc") << "the record stays";
}

TEST(Places, APlaceIsNotMovedFromUnderAFileThatMayBeRunning) {
    Sent s;
    const auto sending = s.places.begin(s.house.owner, s.of());
    s.places.note({}, sending.id, Became::arrived, "");
    NewPlace moved = s.stick;
    moved.settings = "{\"path\":\"/elsewhere\"}";
    EXPECT_NE(s.places.change(s.house.owner, s.stick.id, 1, moved).error().text.find("may be running"),
              std::string::npos);
    EXPECT_FALSE(s.places.put_away(s.house.owner, s.stick.id));
    s.places.note(s.house.owner, sending.id, Became::cut, "");
    const auto changed = s.places.change(s.house.owner, s.stick.id, 1, moved);
    ASSERT_TRUE(changed);
    EXPECT_EQ(changed->version, 2);
    EXPECT_EQ(s.places.change(s.house.owner, s.stick.id, 1, moved).error().why, Why::stale);
}

TEST(Places, NamesAreOnesOwnAndNothingIsChangedInTheRecord) {
    Sent s;
    EXPECT_EQ(s.places.make(s.house.owner, {"mill 2", "stick in the mill", "folder", "{}"}).error().why,
              Why::taken);
    EXPECT_FALSE(s.places.make(s.house.owner, {"mill 2", "", "folder", "{}"}));
    EXPECT_FALSE(s.places.make(s.house.owner, {"", "other", "folder", "{}"}));
    const auto sending = s.places.begin(s.house.owner, s.of());
    EXPECT_THROW(s.house.database.write([](Sql& sql) { sql << "update sending set sha256 = 'b'"; }),
                 soci::soci_error);
    s.places.note({}, sending.id, Became::arrived, "");
    EXPECT_THROW(s.house.database.write([](Sql& sql) { sql << "delete from sending_line"; }),
                 soci::soci_error);
}

}  // namespace
}  // namespace seatwright::store
