// What disks, copies and mistakes do to the data is found and said, and never handed out as what was stored.
#include <gtest/gtest.h>

#include <filesystem>

#include "closed.hpp"
#include "house.hpp"
#include "seatwright/base/sha256.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/migrations.hpp"
#include "seatwright/store/shop_chain.hpp"

namespace seatwright::store {
namespace {

namespace fs = std::filesystem;

// A shop that is closed again: two jobs, the second with `entries` runouts 0.0040, 0.0041, ….
struct ClosedHouse : ClosedData {
    long long other = 0, job = 0;
    Person owner;

    explicit ClosedHouse(int entries = 9) {
        Database database(place(), few);
        owner = *People(database, cheap).make_owner("Pat", good_password);
        other = made(database);
        job = made(database);
        add(database, other, 3, "0.007");
        add(database, job, entries, "0.004");
    }
    long long made(Database& database) const {
        NewJob fresh;
        fresh.text = "title = \"t\"\n";
        fresh.what = "made for the test";
        return Jobs(database).make(owner, fresh)->id;
    }
    void add(Database& database, long long to, int count, const std::string& start, int from = 0) const {
        for (int i = from; i < from + count; ++i) {
            NewEntry e;
            e.client_key = "key-" + std::to_string(1000 + i);
            e.kind = EntryKind::proof;
            e.valve = "1I";
            e.values = Json::parse("{\"runout\":" + start + std::to_string(i) + "}");
            e.repeat = true;
            ASSERT_TRUE(Entries(database).append(owner, to, e));
        }
    }
    // What reading that job says; empty when it is handed out.
    std::string said(long long of) const {
        Database database(place(), few);
        try {
            Entries(database).list(of);
            return {};
        } catch (const Damaged& damaged) {
            return damaged.what();
        }
    }
};

TEST(Chain, TheDigestIsThatOfTheTextSaidInTheHeader) {
    EntryFacts e{
        7,    2, 1, 1700, 1699, {}, false, true, "key-0001", "proof", "7", "1I", "{\"runout\":0.0048}",
        "in", ""};
    // Put together by hand; what SHA-256 makes of a text is base's own test.
    const std::string text =
        std::string(no_entry_before) +
        "1:71:21:14:17004:16991:-1:01:18:key-00015:proof1:72:1I17:{\"runout\":0.0048}2:in0:";
    EXPECT_EQ(digest_of(e, no_entry_before), sha256(text));
}

TEST(Chain, AFlippedFigureIsFoundAndSaidAndTheOtherJobsGoOn) {
    const ClosedHouse house;
    ASSERT_EQ(house.said(house.job), "");
    ASSERT_EQ(house.change("0.0048", "0.0008"), 1);
    const std::string said = house.said(house.job);
    EXPECT_TRUE(
        said.starts_with("job 2: 1 of its 9 entries is not as it was stored (entry 9): nothing of this "
                         "job is handed out"))
        << said;
    EXPECT_EQ(house.said(house.other), "");
    Database database(house.place(), few);
    EXPECT_THROW(Entries(database).one(house.job, 12), Damaged) << "by itself, too";
    NewEntry again;
    again.client_key = "key-1008";
    EXPECT_THROW(Entries(database).append(house.owner, house.job, again), Damaged)
        << "what was stored under that key is not answered with";
}

TEST(Chain, EveryFieldIsHeldAgainstTheDigest) {
    const ClosedHouse house(4);
    house.unlock("entry");
    house.bare(
        "insert into person (shop, name, person_role, is_owner, is_active, password_hash, made_ms) values "
        "(1, 'Mia', 'lead', 0, 1, '', 0)");
    struct Change {
        std::string column, other, back;
    };
    for (const auto& [column, other, back] :
         std::vector<Change>{{"sequence", "40", "3"},
                             {"client_key", "'other-key'", "'key-1002'"},
                             {"kind", "'seat'", "'proof'"},
                             {"head", "head || '2'", "substr(head, 1, length(head) - 1)"},
                             {"valve", "'1E'", "'1I'"},
                             {"content", "content || ' '", "substr(content, 1, length(content) - 1)"},
                             {"units", "units || ' '", "substr(units, 1, length(units) - 1)"},
                             {"made_by", "2", "1"},
                             {"made_ms", "made_ms + 1", "made_ms - 1"},
                             {"said_ms", "5", "null"},
                             {"corrects", "4", "null"},
                             {"is_withdrawn", "1", "0"},
                             {"is_repeat", "0", "1"},
                             {"reason", "'none'", "''"},
                             {"read_by", "2", "null"}}) {
        ASSERT_EQ(house.said(house.job), "") << "before " << column;
        for (const auto& value : {other, back}) {
            house.bare(
                "update entry set " + column + " = " + value +
                " where job_id = 2 and client_key in ('key-1002', 'other-key') and sequence in (3, 40)");
            if (value == other) EXPECT_NE(house.said(house.job), "") << column;
        }
    }
    EXPECT_EQ(house.said(house.job), "");
}

TEST(Chain, ARowTakenOutOrPutInBetweenShows) {
    const ClosedHouse house;
    house.unlock("entry");
    house.bare("delete from entry where job_id = 2 and sequence = 5");
    EXPECT_TRUE(
        house.said(house.job).starts_with("job 2: 1 of its 9 entries is not as it was stored (entry 5)"))
        << house.said(house.job);
    house.bare("delete from entry where job_id = 2 and sequence > 7");
    EXPECT_TRUE(house.said(house.job).starts_with("job 2: 3 of its 9 entries are not"))
        << house.said(house.job);
}

TEST(Chain, ANameCanBeChanged) {
    const ClosedHouse house;
    house.bare("update person set name = 'Nobody' where id = 1");
    EXPECT_EQ(house.said(house.job), "");
    Database database(house.place(), few);
    EXPECT_EQ(Entries(database).list(house.job).front().by, "Nobody");
}

TEST(Chain, EntriesFromBeforeThereWasOneGetTheirs) {
    const ClosedHouse house;
    for (const std::string table :
         {"issue",        "issue_body",    "head_serial",     "job_order",      "customer",
          "screen",       "pin",           "shop_digest",     "entry_digest",   "login_from",
          "login_line",   "second_factor", "written_code",    "limits_open",    "limits_accepted",
          "text_digest",  "feed",          "sending_line",    "sending",        "place",
          "survey_entry", "survey",        "casting_version", "casting_taught", "casting_offer",
          "casting"})
        house.bare("drop table " + table);
    house.bare("alter table entry drop column read_by");
    house.bare("alter table login drop column address");
    house.bare("alter table login drop column by_pin");
    for (const std::string table : {"person", "login", "job", "job_original", "job_version", "entry",
                                    "shelf_version", "ledger", "program_taken"})
        house.bare("alter table " + table + " drop column shop");
    house.bare("delete from migration where step >= " + std::to_string(chain_step));
    fs::remove(house.last_file());
    EXPECT_EQ(house.said(house.job), "");
    ASSERT_EQ(house.change("0.0048", "0.0008"), 1);
    EXPECT_NE(house.said(house.job), "");
}

TEST(LastDigests, AnOlderDatabaseInItsPlaceIsFound) {
    ClosedHouse house;
    house.copied();
    {
        Database database(house.place(), few);
        house.add(database, house.job, 4, "0.004", 20);
    }
    house.put_copy_in_place();
    Database database(house.place(), few);
    ASSERT_EQ(database.last().behind().size(), 1u);
    EXPECT_EQ(database.last().behind().at(house.job), "job 2: 4 of its 13 acknowledged entries are missing");
    EXPECT_THROW(Entries(database).list(house.job), Damaged);
    EXPECT_THROW(Entries(database).append(house.owner, house.job, touch("key-9999", "1I", 1, 2)), Damaged)
        << "nothing is written over the loss";
    EXPECT_EQ(Entries(database).list(house.other).size(), 3u);
}

TEST(LastDigests, ADeletedLogIsFound) {
    const ClosedHouse house;
    const TestFolder after;
    {
        Database database(house.place(), few);
        house.add(database, house.job, 4, "0.004", 20);
        // As after a power cut, and without the log.
        for (const std::string& file : {house.place(), house.last_file()})
            fs::copy_file(file, after.file(fs::path(file).filename().string()));
    }
    Database database(database_file(after.path()));
    EXPECT_EQ(database.last().behind().count(house.job), 1u);
}

TEST(LastDigests, ADatabaseOfAnotherCourseIsFound) {
    ClosedHouse house;
    const std::string copy = house.copied();
    {
        Database database(house.place(), few);
        house.add(database, house.job, 2, "0.004", 20);
    }
    // The copy went on by itself, with other values.
    {
        Database database(copy);
        house.add(database, house.job, 2, "0.009", 20);
    }
    house.put_copy_in_place();
    Database database(house.place(), few);
    EXPECT_TRUE(database.last().behind().empty());
    EXPECT_EQ(database.last().other().at(house.job),
              "job 2: its entry 11 is another than the one that was acknowledged");
}

TEST(LastDigests, AFileThatFellBehindOrIsTornSaysNothingWrong) {
    const ClosedHouse house;
    const std::string last = house.last_file(), kept = house.file("kept");
    fs::copy_file(last, kept);
    {
        Database database(house.place(), few);
        house.add(database, house.job, 4, "0.004", 20);
    }
    fs::copy_file(kept, last, fs::copy_options::overwrite_existing);
    EXPECT_EQ(house.said(house.job), "") << "not flushed: a power cut may leave it behind";
    // Half a line of one moment, half of another.
    std::string text;
    std::getline(std::ifstream(kept), text, '\0');
    text.replace(text.size() - 60, 20, 20, 'a');
    std::ofstream(last) << text;
    EXPECT_EQ(house.said(house.job), "");
    std::ofstream(last) << "not such a file at all";
    EXPECT_EQ(house.said(house.job), "");
}

TEST(LastDigests, IsMadeAnewWhenItIsNotThere) {
    const ClosedHouse house;
    const std::string last = house.last_file();
    fs::remove(last);
    { const Database database(house.place(), few); }
    EXPECT_EQ(fs::file_size(last), 4 * 116u)
        << "a line of 116 bytes for each job's entries and one for its texts";
}

TEST(Restore, IsRefusedBesideWhatIsKnownOfOtherData) {
    const ClosedHouse house;
    const std::string last = house.last_file(), copy = house.file("copy.backup");
    ASSERT_TRUE(backup(house.data(), copy));
    fs::remove(house.place());
    for (const std::string end : {"-wal", "-shm"}) fs::remove(house.place() + end);
    const auto refusal = restore(copy, house.data());
    ASSERT_FALSE(refusal) << "what it knows of the data that was there would count against the backup";
    EXPECT_TRUE(refusal.error().text.starts_with(last + ": was left by other data"));
}

TEST(Backup, SaysWhichJobsAreDamagedAndHowManyEntries) {
    const ClosedHouse house;
    const std::string sound = house.file("sound.backup"), copy = house.file("copy.backup");
    const auto before = backup(house.data(), sound);
    ASSERT_TRUE(before);
    EXPECT_TRUE(before->damage.empty());
    EXPECT_EQ(before->record.size(), 64u) << "made with the backup";
    EXPECT_NE(to_words(*before).find("record " + before->record.substr(0, 16)), std::string::npos);
    ASSERT_EQ(house.change("0.0048", "0.0008"), 1);
    const auto made = backup(house.data(), copy);
    ASSERT_TRUE(made) << "the other jobs are good: " << made.error().text;
    const std::vector<std::string> words{"job 2: 1 of its 9 entries is not as it was stored (entry 9)"};
    EXPECT_EQ(made->damage, words);
    EXPECT_EQ(inspect(copy)->damage, words);
    const TestFolder elsewhere;
    EXPECT_EQ(restore(copy, elsewhere.file("data"))->damage, words);
}

TEST(ShopChain, AWholeJobPutBackToAnEarlierDayShows) {
    const ClosedHouse house;
    {
        Database database(house.place(), few);
        database.write(chain_shop);
        database.write(chain_shop);  // nothing new: no second one
        house.add(database, house.job, 2, "0.004", 20);
        database.write(chain_shop);
        EXPECT_TRUE(database.read(damage_of_shop_chain).empty());
        EXPECT_EQ(database.read(newest_shop_digest)->id, 2);
        EXPECT_EQ(database.read(newest_shop_digest)->entries, 14);
    }
    for (const std::string table : {"entry", "entry_digest"}) house.unlock(table);
    house.bare("delete from entry_digest where job_id = 2 and sequence > 9");
    house.bare("delete from entry where job_id = 2 and sequence > 9");
    house.bare("update job set sequence = 9 where id = 2");
    Database database(house.place(), few);
    EXPECT_TRUE(database.read(damage_in).empty()) << "the job by itself agrees";
    const auto found = database.read(damage_of_shop_chain);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_NE(found.front().find("(2 jobs, 14 entries) are no longer what they were (2 jobs, 12 entries"),
              std::string::npos)
        << found.front();
}

TEST(ShopChain, WhatCameSinceIsLookedAtByItself) {
    const ClosedHouse house;
    {
        Database database(house.place(), few);
        database.write(chain_shop);
        house.add(database, house.job, 2, "0.005", 20);
    }
    const auto since = [&] {
        Database database(house.place(), few);
        return database.read([](Sql& sql) { return damage_since(sql, newest_shop_digest(sql)->last_entry); });
    };
    EXPECT_TRUE(since().empty());
    ASSERT_EQ(house.change("0.0048", "0.0008"), 1);
    EXPECT_TRUE(since().empty()) << "that one is of before";
    ASSERT_EQ(house.change("0.00521", "0.00021"), 1);
    ASSERT_EQ(since().size(), 1u);
    EXPECT_EQ(since().front().first, 11);
}

}  // namespace
}  // namespace seatwright::store
