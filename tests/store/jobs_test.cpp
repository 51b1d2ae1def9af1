#include <gtest/gtest.h>

#include "closed.hpp"
#include "house.hpp"

namespace seatwright::store {
namespace {

long long change(TestHouse& house, long long job, long long on, const std::string& text) {
    return house.jobs.change(house.owner, job, {on, text, "made it " + text})->number;
}

TEST(Jobs, AChangeOnAnOldVersionIsRefusedWithTheNewOne) {
    TestHouse house;
    const long long job = house.new_job("a");
    EXPECT_EQ(change(house, job, 1, "b"), 2);
    const auto stale = house.jobs.change(house.owner, job, {1, "c", "c"});
    ASSERT_FALSE(stale);
    EXPECT_EQ(stale.error().why, Why::stale);
    EXPECT_EQ(stale.error().version, 2);
    EXPECT_EQ(house.jobs.version(job, 2)->text, "b");
    EXPECT_EQ(house.jobs.version(job, 1)->text, "a") << "an old version stays as it was";
    EXPECT_EQ(house.jobs.row(job)->version, 2);
}

// The rules of undo everybody knows from an editor: back and forth along the line, and a new change cuts off
// what had been undone.
TEST(Jobs, UndoAndRedoWalkLikeAnEditorsAndEraseNothing) {
    TestHouse house;
    const long long job = house.new_job("a");
    long long at = change(house, job, change(house, job, 1, "b"), "c");
    const auto text = [&] { return house.jobs.version(job, at)->text; };
    const auto undo = [&] { at = house.jobs.undo(house.owner, job, at)->number; };
    const auto redo = [&] { at = house.jobs.redo(house.owner, job, at)->number; };
    undo();
    EXPECT_EQ(text(), "b");
    EXPECT_EQ(house.jobs.version(job, at)->what, "undid: made it c");
    undo();
    EXPECT_EQ(text(), "a");
    EXPECT_EQ(house.jobs.version(job, at)->what, "undid: made it b");
    EXPECT_FALSE(house.jobs.undo(house.owner, job, at)) << "nothing before the first";
    redo();
    EXPECT_EQ(text(), "b");
    redo();
    EXPECT_EQ(text(), "c");
    EXPECT_FALSE(house.jobs.redo(house.owner, job, at));
    undo();
    at = change(house, job, at, "d");
    EXPECT_FALSE(house.jobs.redo(house.owner, job, at)) << "a new change cuts off the undone";
    undo();
    EXPECT_EQ(text(), "b");
    redo();
    EXPECT_EQ(text(), "d");
    EXPECT_EQ(house.jobs.versions(job).size(), static_cast<std::size_t>(at)) << "every step is on record";
    EXPECT_EQ(house.jobs.versions(job).front().number, at);
}

TEST(Jobs, AnImportKeepsTheOriginalAndItsReadings) {
    TestHouse house;
    NewJob job;
    job.text = "x";
    job.original = "x and readings\r\n";
    job.original_name = "wedge.toml";
    job.entries = {touch("import:1", "1I", 0, 0), touch("import:2", "1E", 1, 2)};
    const auto row = house.jobs.make(house.owner, job);
    ASSERT_TRUE(row);
    EXPECT_EQ(row->sequence, 2);
    EXPECT_EQ(house.jobs.original(row->id), "x and readings\r\n");
    EXPECT_EQ(house.entries.list(row->id).size(), 2u);
    EXPECT_FALSE(house.jobs.original(house.new_job()));
}

TEST(Jobs, ACancelledImportKeepsNothing) {
    TestHouse house;
    NewJob job;
    job.text = "x";
    for (int i = 0; i < 2000; ++i) job.entries.push_back(touch("import:" + std::to_string(i), "1I", i, 0));
    int calls = 0;
    const auto row = house.jobs.make(house.owner, job, [&](std::size_t, std::size_t total) {
        EXPECT_EQ(total, 2000u);
        return ++calls < 3;
    });
    EXPECT_FALSE(row);
    EXPECT_EQ(calls, 3);
    EXPECT_TRUE(house.jobs.rows(true).empty());
    EXPECT_EQ(ledger(house.database, {}).size(), 1u) << "only the owner's making";
}

TEST(Jobs, PutAwayIsHiddenNotErased) {
    TestHouse house;
    const long long job = house.new_job();
    ASSERT_TRUE(house.jobs.archive(house.owner, job, true));
    EXPECT_TRUE(house.jobs.rows(false).empty());
    EXPECT_EQ(house.jobs.rows(true).size(), 1u);
    EXPECT_EQ(house.jobs.archive(house.owner, 99, true).error().why, Why::not_found);
    EXPECT_EQ(house.jobs.change(house.owner, 99, {1, "", ""}).error().why, Why::not_found);
}

TEST(Jobs, TheDatabaseItselfRefusesToChangeOrEraseWhatIsOnRecord) {
    TestHouse house;
    const long long job = house.new_job();
    ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-0001", "1I", 1, 2)));
    for (const std::string table : {"entry", "job_version", "ledger"}) {
        EXPECT_THROW(house.database.write([&](Sql& sql) { sql << "delete from " + table; }), soci::soci_error)
            << table;
    }
    EXPECT_THROW(house.database.write([&](Sql& sql) { sql << "update entry set content = '{}'"; }),
                 soci::soci_error);
    EXPECT_EQ(house.entries.list(job).front().values["y"], 2.0);
}

TEST(Shelf, IsStockedOnceAndVersioned) {
    TestHouse house;
    house.shelf.stock("one");
    house.shelf.stock("two");
    EXPECT_EQ(house.shelf.current().text, "one");
    ASSERT_TRUE(house.shelf.change(house.owner, 1, "three", "a new pilot"));
    EXPECT_EQ(house.shelf.current().number, 2);
    EXPECT_EQ(house.shelf.current().by, "Pat");
    EXPECT_EQ(house.shelf.change(house.owner, 1, "four", "").error().version, 2);
    EXPECT_EQ(house.shelf.versions().size(), 2u);
}

TEST(Ledger, SaysWhoDidWhatNewestFirstInPages) {
    TestHouse house;
    const long long job = house.new_job(), other = house.new_job();
    for (int i = 0; i < 5; ++i)
        ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-000" + std::to_string(i), "1I", i, 0)));
    const auto page = ledger(house.database, {job, {}, 3});
    ASSERT_EQ(page.size(), 3u);
    EXPECT_GT(page[0].id, page[2].id);
    EXPECT_EQ(page[0].by, "Pat");
    EXPECT_EQ(page[0].what, "recorded a touch of valve 1I, head 1");
    EXPECT_TRUE(page[0].entry);
    EXPECT_EQ(ledger(house.database, {job, page[2].id, 100}).size(), 3u) << "two touches and the making";
    EXPECT_EQ(ledger(house.database, {other, {}, 100}).size(), 1u);
    EXPECT_EQ(ledger(house.database, {}).size(), 8u);
}

TEST(Migrations, ANewerDatabaseIsRefusedWithASentence) {
    const ClosedData data;
    { const Database database(data.place()); }
    data.bare("insert into migration (step, name, made_ms) values (99, 'later', 0)");
    EXPECT_THROW(
        {
            try {
                Database again(data.place());
            } catch (const std::runtime_error& error) {
                EXPECT_NE(std::string(error.what()).find("newer program"), std::string::npos);
                throw;
            }
        },
        std::runtime_error);
}

TEST(Database, EveryConnectionIsSafeAgainstPowerCutsAndLooseEnds) {
    TestFolder folder;
    Database database(folder.file("seatwright.db"), {3});
    // A nested read holds one connection while the next is asked.
    const auto ask = [&](const std::string& pragma) {
        return database.read([&](Sql& sql) {
            std::string word;
            sql << "pragma " + pragma, soci::into(word);
            return word;
        });
    };
    database.read([&](Sql&) {
        database.read([&](Sql&) {
            EXPECT_EQ(ask("synchronous"), "2");
            EXPECT_EQ(ask("foreign_keys"), "1");
            EXPECT_EQ(ask("journal_mode"), "wal");
            EXPECT_EQ(ask("busy_timeout"), "10000");
        });
    });
}

}  // namespace
}  // namespace seatwright::store
