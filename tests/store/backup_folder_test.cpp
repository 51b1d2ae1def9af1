// Which backups are kept as the days go by, and what is never touched.
#include "seatwright/store/backup_folder.hpp"

#include <gtest/gtest.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <filesystem>
#include <fstream>

#include "house.hpp"
#include "seatwright/store/dialect.hpp"

namespace seatwright::store {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono;

sys_days day_of(int y, unsigned m, unsigned d) {
    return sys_days(year(y) / month(m) / day(d));
}

TEST(BackupFolder, NamesAreDaysAndNothingElse) {
    const sys_days day = day_of(2026, 2, 28);
    EXPECT_EQ(nightly_name(day), "seatwright-2026-02-28.db");
    EXPECT_EQ(day_of_name("seatwright-2026-02-28.db"), day);
    for (const char* other : {"seatwright-2026-02-30.db", "seatwright-2026-02-28.db.trial",
                              "seatwright-26-2-28.db", "seatwright.db", "", "seatwright-before-step-9.db"})
        EXPECT_FALSE(day_of_name(other)) << other;
}

// A backup each night for 500 nights, thinned out after each: what stands at the end is what the rule says of
// all.
TEST(BackupFolder, SevenDaysFourWeeksTwelveMonthsStayOverTheYears) {
    const TestFolder folder;
    const sys_days first = day_of(2025, 1, 1);
    std::ofstream(folder.file("notes.txt")) << "not ours";
    std::ofstream(folder.file("seatwright-before-step-3.db")) << "kept";
    sys_days today = first;
    for (int night = 0; night < 500; ++night, today += days(1)) {
        std::ofstream(folder.file(nightly_name(today))) << night;
        prune(folder.path(), today);
    }
    today -= days(1);
    const auto left = backups_in(folder.path());
    // 2026-05-15, a Friday. Weeks and months share nights with the days and with one another.
    EXPECT_EQ(today, day_of(2026, 5, 15));
    std::set<sys_days> wanted;
    for (int back = 0; back < 7; ++back) wanted.insert(today - days(back));
    for (const sys_days sunday : {day_of(2026, 5, 10), day_of(2026, 5, 3), day_of(2026, 4, 26)})
        wanted.insert(sunday);
    for (int back = 1; back < 12; ++back) {
        const year_month then = year_month(year(2026), month(5)) - months(back);
        wanted.insert(sys_days(then / last));
    }
    EXPECT_EQ(std::set<sys_days>(left.begin(), left.end()), wanted);
    EXPECT_TRUE(fs::exists(folder.file("notes.txt")));
    EXPECT_TRUE(fs::exists(folder.file("seatwright-before-step-3.db")));
}

TEST(BackupFolder, ThinningOutTwiceTakesNothingMore) {
    std::vector<sys_days> all;
    for (int i = 0; i < 900; i += 1 + i % 5) all.push_back(day_of(2024, 3, 3) + days(i));
    const auto once = kept_of(all);
    EXPECT_EQ(kept_of({once.begin(), once.end()}), once);
    EXPECT_TRUE(once.contains(all.back()));
    EXPECT_LE(once.size(), 7U + 4U + 12U);
    EXPECT_TRUE(kept_of({}).empty());
}

TEST(BackupFolder, OlderDataAreSavedBeforeTheyAreChanged) {
    const TestHouse house;
    const std::string data = house.folder.path();
    const auto none = back_up_before_migration(data, house.folder.file("saved"));
    ASSERT_TRUE(none);
    EXPECT_EQ(*none, "") << "the newest need none";
    const TestFolder other;
    EXPECT_EQ(back_up_before_migration(other.path(), other.path()).value_or("refused"), "");
    // Data of an older program: the newest step has not been done.
    const std::string copy = other.file("seatwright.db");
    ASSERT_TRUE(backup(data, copy));
    {
        soci::session sql(soci::sqlite3, sqlite_dialect().connect(copy));
        sql << "delete from migration where step = (select max(step) from migration)";
    }
    const auto saved = back_up_before_migration(other.path(), other.path());
    ASSERT_TRUE(saved) << saved.error().text;
    EXPECT_TRUE(fs::exists(*saved)) << *saved;
    EXPECT_EQ(migration_of(*saved), migration_of(copy));
    const auto refused = back_up_before_migration(other.path(), "/proc/nowhere");
    EXPECT_FALSE(refused);
}

}  // namespace
}  // namespace seatwright::store
