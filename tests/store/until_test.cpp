// Back to a moment: a restored folder holds all that was acknowledged until then, and nothing that came
// later.
#include <gtest/gtest.h>

#include <chrono>
#include <random>
#include <thread>

#include "house.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/issues.hpp"
#include "seatwright/store/moment.hpp"

namespace seatwright::store {
namespace {

// All that can be said of a shop, in words.
std::string words_of(Database& database) {
    std::string all;
    Jobs jobs(database);
    auto rows = jobs.rows(true);
    std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
    for (const auto& row : rows) {
        all += fmt::format("job {} version {} entries {} away {} changed {} by {}\n", row.id, row.version,
                           row.sequence, row.archived, row.changed_ms, row.changed_by);
        for (const auto& v : jobs.versions(row.id))
            all += fmt::format("  {} {} {}\n", v.number, v.what, jobs.version(row.id, v.number)->text);
        for (const auto& e : Entries(database).list(row.id))
            all += fmt::format("  {} {} {} {}\n", e.sequence, e.client_key, e.values.dump(), e.digest);
        for (const auto& i : Issues(database).of_job(row.id))
            all += fmt::format("  issue {} {} {}\n", i.number, i.paper.file, i.sha256);
    }
    return all + fmt::format("shelf {}\n", Shelf(database).current().text);
}

// Each change is a few milliseconds after the one before: the clock of the store counts those.
void a_moment() {
    std::this_thread::sleep_for(std::chrono::milliseconds(3));
}

struct Moments {
    TestHouse house;
    std::vector<std::pair<long long, std::string>> known;  // time, what stood then

    explicit Moments(int changes) {
        house.shelf.stock("pilot = 1\n");
        std::mt19937 dice(20261129);
        std::vector<long long> jobs{house.new_job()};
        remember();
        for (int n = 0; n < changes; ++n) {
            const long long job = jobs[dice() % jobs.size()];
            change(static_cast<int>(dice() % 8), n, job, jobs);
            remember();
        }
    }
    void remember() {
        a_moment();
        known.emplace_back(now_ms(), words_of(house.database));
        a_moment();
    }
    void change(int kind, int n, long long job, std::vector<long long>& jobs) {
        const auto row = *house.jobs.row(job);
        if (kind == 0) {
            NewJob more;
            more.text = "title = \"more\"\n";
            more.what = "made for the test";
            more.original = "as it came";
            more.entries = {touch("import:1", "1I", 1, 2), touch("import:2", "2I", 1, n)};
            jobs.push_back(house.jobs.make(house.owner, more)->id);
        } else if (kind == 1) {
            ASSERT_TRUE(house.jobs.change(
                house.owner, job, {row.version, fmt::format("title = \"{}\"\n", n), "another title"}));
        } else if (kind == 2) {
            static_cast<void>(house.jobs.undo(house.owner, job, row.version));
        } else if (kind == 3) {
            ASSERT_TRUE(house.jobs.archive(house.owner, job, !row.archived));
        } else if (kind == 4) {
            const auto shelf = house.shelf.current();
            ASSERT_TRUE(
                house.shelf.change(house.owner, shelf.number, fmt::format("pilot = {}\n", n), "worn"));
        } else if (kind == 5) {
            Issues issues(house.database);
            const PaperName paper{job, "1", "", "", "sheet.pdf"};
            const std::string bytes = fmt::format("sheet {}", n);
            ASSERT_TRUE(issues.keep(house.owner, paper, bytes, bytes, issues.newest(paper)));
        } else {
            ASSERT_TRUE(
                house.entries.append(house.owner, job, touch(fmt::format("key-{:05}", n), "1I", n, kind)));
        }
    }
};

TEST(Until, EveryMomentComesBackAsItWas) {
    Moments moments(60);
    const std::string copy = moments.house.folder.file("copy.db");
    ASSERT_TRUE(backup(moments.house.folder.path(), copy));
    for (std::size_t i = 0; i < moments.known.size(); i += 3) {
        const auto& [at, words] = moments.known[i];
        const std::string folder = moments.house.folder.file(fmt::format("then {}", i));
        const auto held = restore_until(copy, folder, at);
        ASSERT_TRUE(held) << i << ": " << held.error().text;
        EXPECT_TRUE(held->damage.empty()) << i << ": " << held->damage.front();
        Database then(database_file(folder));
        EXPECT_EQ(words_of(then), words) << i;
        EXPECT_TRUE(then.read(damage_in).empty());
        EXPECT_NE(ledger(then, {{}, {}, 1}).front().what.find("put back to what was recorded by"),
                  std::string::npos);
        // It is a shop like any other: what was refused is refused, what can be recorded is.
        Person pat = People(then, cheap).all().front();
        ASSERT_TRUE(Entries(then).append(pat, 1, touch("later-0001", "1I", 9, 9)));
        EXPECT_THROW(then.write([](Sql& sql) { sql << "delete from entry"; }), soci::soci_error)
            << "append-only again";
    }
    EXPECT_EQ(words_of(moments.house.database), moments.known.back().second)
        << "the shop itself is untouched";
}

TEST(Until, BeforeTheFirstRecordIsRefusedAndLeavesNothing) {
    TestHouse house;
    house.new_job();
    const std::string copy = house.folder.file("copy.db"), folder = house.folder.file("then");
    ASSERT_TRUE(backup(house.folder.path(), copy));
    const auto held = restore_until(copy, folder, 1000);
    ASSERT_FALSE(held);
    EXPECT_TRUE(
        held.error().text.starts_with("nothing had been recorded by 1970-01-01T00:00:01.000Z; the first"))
        << held.error().text;
    EXPECT_FALSE(std::filesystem::exists(folder));
}

// Entries recorded before a clock was set back have later times than those after: none of them is lost.
TEST(Until, AClockThatWasSetBackLosesNothing) {
    TestHouse house;
    const long long job = house.new_job();
    ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-0001", "1I", 1, 1)));
    a_moment();
    const long long now = now_ms();
    // The line of the entry above was written while the clock was a day ahead.
    house.database.write([&](Sql& sql) {
        sql << "drop trigger ledger_no_update";
        sql << "update ledger set made_ms = made_ms + 86400000 where entry_id is not null";
    });
    ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-0002", "1I", 1, 2)));
    a_moment();
    const std::string copy = house.folder.file("copy.db"), folder = house.folder.file("then");
    ASSERT_TRUE(backup(house.folder.path(), copy));
    ASSERT_TRUE(restore_until(copy, folder, now + 1000));
    Database then(database_file(folder));
    EXPECT_EQ(Entries(then).list(job).size(), 2u);
}

TEST(Moments, TheLedgerSaysWithWhichTextsAJobStoodAtEachEntry) {
    TestHouse house;
    house.shelf.stock("a = 1\n");
    NewJob fresh;
    fresh.text = "title = \"t\"\n";
    fresh.what = "made for the test";
    fresh.entries = {touch("import:1", "1I", 1, 2)};
    const long long job = house.jobs.make(house.owner, fresh)->id;
    const auto at = [&](long long sequence) {
        return house.database.read([&](Sql& sql) { return moment_of(sql, job, sequence); });
    };
    ASSERT_TRUE(house.shelf.change(house.owner, 1, "a = 2\n", "worn"));
    ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-0002", "1I", 1, 2)));
    ASSERT_TRUE(house.jobs.change(house.owner, job, {1, "title = \"u\"\n", "another"}));
    ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-0003", "2I", 1, 2)));
    EXPECT_FALSE(at(4));
    EXPECT_FALSE(at(-1));
    const std::vector<std::pair<long long, long long>> known{{1, 1}, {1, 1}, {1, 2}, {2, 2}};  // text, shelf
    for (std::size_t n = 0; n < known.size(); ++n) {
        const auto moment = at(static_cast<long long>(n));
        ASSERT_TRUE(moment) << n;
        EXPECT_EQ(moment->version, known[n].first) << n;
        EXPECT_EQ(moment->shelf, known[n].second) << n;
    }
}

}  // namespace
}  // namespace seatwright::store
