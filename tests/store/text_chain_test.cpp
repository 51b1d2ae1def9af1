// A changed letter in a job's text, in the file it was imported from or in the shelf is found and said, and
// never handed out.
#include <gtest/gtest.h>

#include <fstream>

#include "closed.hpp"
#include "house.hpp"
#include "seatwright/base/sha256.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {
namespace {

std::string said(const std::function<void()>& reading) {
    try {
        reading();
        return {};
    } catch (const Damaged& damaged) {
        return damaged.what();
    }
}

// A shop that is closed again: a job of three versions, imported from a file, and a shelf of two.
struct ClosedTexts : ClosedData {
    long long job = 0, other = 0;

    ClosedTexts() {
        Database database(place(), few);
        const Person owner = *People(database, cheap).make_owner("Pat", good_password);
        Shelf shelf(database);
        shelf.stock("pilot = 0.3110\n");
        EXPECT_TRUE(shelf.change(owner, 1, "pilot = 0.3111\n", "a worn one"));
        Jobs jobs(database);
        NewJob fresh;
        fresh.text = "width = 0.0601\n";
        fresh.shop_text = "limit = 0.0021\n";
        fresh.what = "made for the test";
        fresh.original = "width = 0.0600 # as it came\n";
        fresh.original_name = "head.toml";
        job = jobs.make(owner, fresh)->id;
        EXPECT_TRUE(jobs.change(owner, job, {1, "width = 0.0602\n", "wider"}));
        EXPECT_TRUE(jobs.undo(owner, job, 2));
        fresh.text = "width = 0.0701\n";
        other = jobs.make(owner, fresh)->id;
    }
    std::vector<std::string> found() const {
        Database database(place(), few);
        return database.read(damage_of_all_texts);
    }
    std::string version_says(long long of, long long number) const {
        Database database(place(), few);
        return said([&] { Jobs(database).version(of, number); });
    }
};

TEST(TextChain, TheDigestIsThatOfTheTextSaidInTheHeader) {
    TextFacts t{7, 2, "a = 1\n", {}, 1700, 1, "wider", {}, 1, {}};
    // Put together by hand; what SHA-256 makes of a text is base's own test.
    EXPECT_EQ(digest_of(t, no_entry_before),
              sha256(std::string(no_entry_before) + "1:71:24:17001:11:-1:11:-5:wider1:00:6:a = 1\n"));
    t.other_text = "";
    EXPECT_NE(digest_of(t, no_entry_before),
              digest_of({7, 2, "a = 1\n", {}, 1700, 1, "wider", {}, 1, {}}, no_entry_before))
        << "an empty shop file is not none";
}

TEST(TextChain, WhatNobodyTouchedIsSound) {
    const ClosedTexts shop;
    EXPECT_EQ(shop.found(), std::vector<std::string>{});
    for (const long long version : {1, 2, 3}) EXPECT_EQ(shop.version_says(shop.job, version), "");
}

TEST(TextChain, AFlippedFigureIsSaidWhereverItStands) {
    struct Case {
        std::string from, to, words;
        std::function<void(Database&, const ClosedTexts&)> reading;
    };
    const std::vector<Case> cases{
        {"width = 0.0602", "width = 0.0002", "version 2 of its text",
         [](Database& d, const ClosedTexts& shop) { Jobs(d).version(shop.job, 2); }},
        {"limit = 0.0021", "limit = 0.0121", "version 1 of its text",
         [](Database& d, const ClosedTexts& shop) { Jobs(d).version(shop.job, 1); }},
        {"0.0600 # as", "0.0609 # as", "the file it was imported from",
         [](Database& d, const ClosedTexts& shop) { Jobs(d).original(shop.job); }},
        {"pilot = 0.3111", "pilot = 0.3211", "version 2 of the shelf",
         [](Database& d, const ClosedTexts&) { Shelf(d).current(); }},
    };
    for (const Case& one : cases) {
        const ClosedTexts shop;
        ASSERT_GE(shop.change(one.from, one.to), 1) << one.from;
        const auto found = shop.found();
        ASSERT_FALSE(found.empty()) << one.from;
        EXPECT_NE(found.front().find(one.words), std::string::npos) << found.front();
        Database database(shop.place(), few);
        const std::string words = said([&] { one.reading(database, shop); });
        EXPECT_NE(words.find(one.words + " is not as it was stored"), std::string::npos) << words;
    }
}

TEST(TextChain, AVersionThatIsGoneOrPutInIsSaidAndTheOtherJobsGoOn) {
    const ClosedTexts shop;
    shop.unlock("job_version");
    shop.bare("delete from job_version where version = 2 and job_id = " + std::to_string(shop.job));
    EXPECT_EQ(shop.found(), (std::vector<std::string>{"job " + std::to_string(shop.job) +
                                                      ": version 2 of its text is gone"}));
    EXPECT_EQ(shop.version_says(shop.other, 1), "");
    const ClosedTexts more;
    more.bare("insert into job_version (shop, job_id, version, body, made_ms, made_by, what) values (1, " +
              std::to_string(more.job) + ", 4, 'width = 1', 1, 1, 'slipped in')");
    EXPECT_EQ(more.found().size(), 1u);
    EXPECT_NE(more.version_says(more.job, 4).find("version 4 of its text is not as it was stored"),
              std::string::npos);
}

TEST(TextChain, WhatIsAddedToADamagedTextDoesNotCoverItUp) {
    const ClosedTexts shop;
    shop.unlock("text_digest");
    shop.bare("delete from text_digest where version = 3 and job_id = " + std::to_string(shop.job));
    {
        Database database(shop.place(), few);
        const Person pat = *People(database, cheap).named("Pat");
        EXPECT_NE(said([&] { Jobs(database).change(pat, shop.job, {3, "width = 1\n", "on"}); }), "");
    }
    EXPECT_EQ(shop.found().size(), 1u);
}

TEST(TextChain, TextsFromBeforeThereWereDigestsGetTheirs) {
    const ClosedTexts shop;
    // As a database was before that step: what came after it is not there either.
    for (const std::string table :
         {"issue", "issue_body", "head_serial", "job_order", "customer", "screen", "pin", "text_digest",
          "feed", "sending_line", "sending", "place", "survey_entry", "survey", "casting_version",
          "casting_taught", "casting_offer", "casting"})
        shop.bare("drop table " + table);
    shop.bare("alter table entry drop column read_by");
    shop.bare("alter table login drop column by_pin");
    for (const std::string table :
         {"person", "login", "job", "job_original", "job_version", "entry", "shelf_version", "ledger",
          "program_taken", "entry_digest", "shop_digest", "login_from", "login_line", "second_factor",
          "written_code", "limits_open", "limits_accepted"})
        shop.bare("alter table " + table + " drop column shop");
    shop.bare("delete from migration where step >= (select step from migration where name = 'texts')");
    EXPECT_EQ(shop.found(), std::vector<std::string>{});
    EXPECT_EQ(shop.version_says(shop.job, 3), "");
}

// Each text fits its digest, and there is one less than was acknowledged: an older text beside the newest
// entries, as after a copy of one table.
TEST(TextChain, AnOlderTextBesideTheNewestEntriesIsFound) {
    const ClosedTexts texts;
    texts.unlock("job_version");
    texts.unlock("text_digest");
    texts.bare("delete from job_version where job_id = 1 and version = 3");
    texts.bare("delete from text_digest where job_id = 1 and version = 3");
    texts.bare("update job set version = 2 where id = 1");
    EXPECT_TRUE(texts.found().empty()) << "the texts alone do not tell";
    Database database(texts.place(), few);
    ASSERT_EQ(database.last().behind().size(), 1u);
    EXPECT_EQ(database.last().behind().at(texts.job), "job 1: 1 of the 3 versions of its text are missing");
    EXPECT_NE(said([&] { Jobs(database).version(texts.job, 2); }), "") << "it is not handed out";
    EXPECT_EQ(said([&] { Jobs(database).version(texts.other, 1); }), "") << "the others go on";
}

TEST(TextChain, AnOlderShelfBesideTheNewestJobsIsFound) {
    const ClosedTexts texts;
    texts.unlock("shelf_version");
    texts.unlock("text_digest");
    texts.bare("delete from shelf_version where version = 2");
    texts.bare("delete from text_digest where job_id = 0 and version = 2");
    Database database(texts.place(), few);
    ASSERT_EQ(database.last().behind().size(), 1u);
    EXPECT_EQ(database.last().behind().at(the_shelf),
              "the shelf: 1 of the 2 versions of its text are missing");
}

// Data from before the file said anything of texts.
TEST(TextChain, AFileOfEntriesAloneLearnsTheTexts) {
    const ClosedTexts texts;
    {
        std::ifstream in(texts.last_file());
        std::string line, kept;
        while (std::getline(in, line))
            if (line.starts_with("00")) kept += line + "\n";
        std::ofstream(texts.last_file()) << kept;
    }
    { const Database database(texts.place(), few); }
    texts.bare("update job set version = 2 where id = 1");
    { const Database database(texts.place(), few); }
    Database again(texts.place(), few);
    EXPECT_EQ(again.last().behind().count(texts.job), 1u);
}

}  // namespace
}  // namespace seatwright::store
