#include <gtest/gtest.h>

#include <atomic>
#include <thread>

#include "house.hpp"

namespace seatwright::store {
namespace {

TEST(Entries, SentAgainUnderTheSameKeyIsStoredOnce) {
    TestHouse house;
    const long long job = house.new_job();
    const auto first = house.entries.append(house.owner, job, touch("key-0001", "1I", 1, 2));
    ASSERT_TRUE(first);
    EXPECT_FALSE(first->again);
    const auto again = house.entries.append(house.owner, job, touch("key-0001", "1I", 1, 2));
    ASSERT_TRUE(again);
    EXPECT_TRUE(again->again);
    EXPECT_EQ(again->entry.id, first->entry.id);
    const auto other = house.entries.append(house.owner, job, touch("key-0001", "1I", 1, 3));
    ASSERT_FALSE(other);
    EXPECT_EQ(other.error().why, Why::taken);
    EXPECT_EQ(other.error().entry, first->entry.id);
    EXPECT_EQ(house.entries.list(job).size(), 1u);
    EXPECT_TRUE(house.entries.append(house.owner, house.new_job(), touch("key-0001", "1I", 9, 9)))
        << "another job";
}

TEST(Entries, ComeBackExactlyAsGiven) {
    TestHouse house;
    const long long job = house.new_job();
    NewEntry e;
    e.client_key = "key-0001";
    e.kind = EntryKind::proof;
    e.head = "7 \"left\"";
    e.valve = "3Ea";
    e.values = {{"trace", {0.1 + 0.2, -1e-9, 5}}, {"by", "Zoë"}};
    e.units = LengthUnit::inch;
    e.said_ms = 1234567890123;
    e.repeat = true;
    e.reason = "gauge slipped";
    ASSERT_TRUE(house.entries.append(house.owner, job, e));
    const Entry back = house.entries.list(job).front();
    EXPECT_EQ(back.kind, e.kind);
    EXPECT_EQ(back.head, e.head);
    EXPECT_EQ(back.values, e.values);
    EXPECT_EQ(back.values["trace"][0].get<double>(), 0.1 + 0.2) << "to the last bit";
    EXPECT_EQ(back.units, e.units);
    EXPECT_EQ(back.said_ms, e.said_ms);
    EXPECT_FALSE(back.corrects);
    EXPECT_TRUE(back.repeat);
    EXPECT_EQ(back.reason, e.reason);
    EXPECT_EQ(back.by, "Pat");
    EXPECT_NEAR(static_cast<double>(back.at_ms), static_cast<double>(now_ms()), 60'000);
    EXPECT_EQ(house.entries.one(job, back.id)->sequence, 1);
    EXPECT_FALSE(house.entries.one(job + 1, back.id)) << "of another job";
}

TEST(Entries, FourWritersAtOnceGetNumbersWithoutGapsOrTwins) {
    TestHouse house;
    const long long job = house.new_job();
    constexpr int writers = 4, each = 25;
    std::vector<std::thread> threads;
    for (int w = 0; w < writers; ++w)
        threads.emplace_back([&, w] {
            for (int i = 0; i < each; ++i)
                ASSERT_TRUE(house.entries.append(
                    house.owner, job,
                    touch("writer-" + std::to_string(w) + "-" + std::to_string(i), "1I", i, w)));
        });
    for (auto& thread : threads) thread.join();
    const auto all = house.entries.list(job);
    ASSERT_EQ(all.size(), static_cast<std::size_t>(writers * each));
    for (std::size_t i = 0; i < all.size(); ++i) EXPECT_EQ(all[i].sequence, static_cast<long long>(i + 1));
    EXPECT_EQ(house.entries.list(job, 98).size(), 2u);
    EXPECT_EQ(house.jobs.row(job)->sequence, writers * each);
}

// What is carried out together is carried out again, each by itself, when one of them is refused.
TEST(Entries, ARefusedOneAmongManyWritersLeavesTheOthersAsTheyAre) {
    TestHouse house;
    const long long job = house.new_job();
    constexpr int writers = 12, each = 20;
    std::atomic<int> refused{0}, known{0};
    std::vector<std::thread> threads;
    for (int w = 0; w < writers; ++w)
        threads.emplace_back([&, w] {
            for (int i = 0; i < each; ++i) {
                auto one = touch("writer-" + std::to_string(w) + "-" + std::to_string(i), "1I", i, w);
                if (w == 0) one.corrects = 1'000'000 + i;  // nothing of that number
                if (w == 1 && i % 2 == 1) one = touch("writer-1-" + std::to_string(i - 1), "1I", i - 1, 1);
                const auto answer = house.entries.append(house.owner, job, one);
                if (!answer) ++refused;
                if (answer && answer->again) ++known;
            }
        });
    for (auto& thread : threads) thread.join();
    EXPECT_EQ(refused, each);
    EXPECT_EQ(known, each / 2);
    const auto all = house.entries.list(job);  // throws where a digest does not fit
    ASSERT_EQ(all.size(), static_cast<std::size_t>((writers - 1) * each - each / 2));
    for (std::size_t i = 0; i < all.size(); ++i) EXPECT_EQ(all[i].sequence, static_cast<long long>(i + 1));
    // A line of the Ledger each, that names its entry.
    const auto [lines, of_entries] = house.database.read([](Sql& sql) {
        std::pair<long long, long long> found{0, 0};
        sql << "select count(*), count(distinct entry_id) from ledger where entry_id is not null",
            soci::into(found.first), soci::into(found.second);
        return found;
    });
    EXPECT_EQ(lines, static_cast<long long>(all.size()));
    EXPECT_EQ(of_entries, lines);
}

TEST(Entries, OnlyWhatIsOnRecordCanBeCorrected) {
    TestHouse house;
    const long long job = house.new_job();
    auto e = touch("key-0001", "1I", 1, 2);
    e.corrects = 77;
    EXPECT_EQ(house.entries.append(house.owner, job, e).error().why, Why::not_found);
    EXPECT_EQ(house.entries.append(house.owner, 77, touch("key-0001", "1I", 1, 2)).error().why,
              Why::not_found);
    EXPECT_TRUE(house.entries.list(job).empty());
}

TEST(Backup, WhileWritersRunIsSoundAndRestores) {
    TestHouse house;
    const long long job = house.new_job();
    std::thread writer([&] {
        for (int i = 0; i < 200; ++i)
            ASSERT_TRUE(
                house.entries.append(house.owner, job, touch("key-" + std::to_string(1000 + i), "1I", i, 0)));
    });
    TestFolder elsewhere;
    const std::string file = elsewhere.file("copy.backup");
    const auto made = backup(house.folder.path(), file);
    writer.join();
    ASSERT_TRUE(made) << made.error().text;
    EXPECT_EQ(backup(house.folder.path(), file).error().why, Why::taken) << "nothing is overwritten";
    const auto back = restore(file, elsewhere.file("data"));
    ASSERT_TRUE(back) << back.error().text;
    EXPECT_EQ(*back, *made);
    EXPECT_EQ(back->people, 1);
    EXPECT_EQ(restore(file, elsewhere.file("data")).error().why, Why::taken);

    Database restored(database_file(elsewhere.file("data")));
    Entries entries(restored);
    const auto all = entries.list(job);
    EXPECT_EQ(static_cast<long long>(all.size()), made->entries);
    for (std::size_t i = 0; i < all.size(); ++i) EXPECT_EQ(all[i].sequence, static_cast<long long>(i + 1));
    EXPECT_EQ(Jobs(restored).row(job)->sequence, static_cast<long long>(all.size())) << "as of one moment";
}

TEST(Backup, DamageIsNoticed) {
    TestHouse house;
    const long long job = house.new_job(std::string(200'000, 'x'));
    static_cast<void>(job);
    const std::string file = house.folder.file("copy.backup");
    ASSERT_TRUE(backup(house.folder.path(), file));
    const int size = static_cast<int>(std::filesystem::file_size(file));
    {
        std::FILE* f = std::fopen(file.c_str(), "r+b");
        ASSERT_NE(f, nullptr);
        for (int at = 4096; at + 4096 < size; at += 4096) {
            std::fseek(f, at, SEEK_SET);
            std::fputs("damaged damaged", f);
        }
        std::fclose(f);
    }
    EXPECT_FALSE(inspect(file));
    EXPECT_FALSE(restore(file, house.folder.file("data")));
    EXPECT_FALSE(std::filesystem::exists(house.folder.file("data")));
    EXPECT_FALSE(inspect(house.folder.file("absent")));
}

}  // namespace
}  // namespace seatwright::store
