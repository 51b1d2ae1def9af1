// Writes that come at once are flushed together, yet each is whole or not at all.
#include <gtest/gtest.h>

#include <atomic>
#include <stdexcept>
#include <thread>
#include <vector>

#include "house.hpp"

namespace seatwright::store {
namespace {

constexpr int thread_count = 16, rounds = 25;

// Two rows that belong together, so that half a write would show.
void insert_pair(Sql& sql, long long number) {
    const long long twin = -number;
    sql << "insert into pair (number) values (:a)", soci::use(number);
    sql << "insert into pair (number) values (:b)", soci::use(twin);
}

// `repeatable`: whether thread t's writes may be carried out once more.
void many_writes_at_once(bool (*repeatable)(int t)) {
    TestHouse house;
    Database& database = house.database;
    house.make_table("pair", "number bigint primary key");
    std::atomic<int> kept{0}, refused{0}, thrown{0}, taken{0};
    std::vector<std::thread> all;
    for (int t = 0; t < thread_count; ++t)
        all.emplace_back([&, t] {
            for (int r = 0; r < rounds; ++r) {
                const long long number = 1 + t * rounds + r;
                const int fate = (t + r) % 4;
                try {
                    const auto work = [&](Sql& sql) -> Answer<long long> {
                        insert_pair(sql, number);
                        if (fate == 1) return refuse(Why::bad, "thought better of it");
                        if (fate == 2) throw std::runtime_error("broke off half way");
                        if (fate == 3) insert_pair(sql, number);  // the key is taken: the database refuses
                        return number;
                    };
                    const auto answer =
                        repeatable(t) ? database.write_repeatable(work) : database.write(work);
                    EXPECT_EQ(answer.value_or(number), number);
                    ++(answer ? kept : refused);
                } catch (const soci::soci_error&) {
                    ++taken;
                } catch (const std::runtime_error& fault) {
                    EXPECT_STREQ(fault.what(), "broke off half way");
                    ++thrown;
                }
            }
        });
    for (auto& thread : all) thread.join();
    constexpr int each = thread_count * rounds / 4;
    EXPECT_EQ(kept, each);
    EXPECT_EQ(refused, each);
    EXPECT_EQ(thrown, each);
    EXPECT_EQ(taken, each);
    const auto [rows, sum] = database.read([](Sql& sql) {
        std::pair<long long, long long> found{0, -1};
        sql << "select count(*), coalesce(sum(number), 0) from pair", soci::into(found.first),
            soci::into(found.second);
        return found;
    });
    EXPECT_EQ(rows, 2 * each) << "what was refused or broke off left nothing";
    EXPECT_EQ(sum, 0) << "no half pair";
}

TEST(Database, ManyWritesAtOnceEachWholeOrNotAtAll) {
    many_writes_at_once([](int) { return false; });
}

TEST(Database, ManyWritesThatMayBeRepeatedEachWholeOrNotAtAll) {
    many_writes_at_once([](int) { return true; });
}

TEST(Database, ManyWritesOfBothKindsEachWholeOrNotAtAll) {
    many_writes_at_once([](int t) { return t % 4 != 0; });
}

TEST(Database, WhatWasWrittenIsThereForOthersOnceItReturns) {
    TestHouse house;
    Database other(house.place, {.connections = 2});
    house.make_table("pair", "number bigint primary key");
    for (long long number = 1; number <= 20; ++number) {
        house.database.write([&](Sql& sql) { insert_pair(sql, number); });
        long long seen = 0;
        other.read([&](Sql& sql) { sql << "select max(number) from pair", soci::into(seen); });
        EXPECT_EQ(seen, number);
    }
}

// Who reads anew only when writes() has grown sees each write once it was acknowledged to anybody.
TEST(Database, WhatWasReadHoldsWhileTheCountOfWritesStands) {
    TestHouse house;
    Database& database = house.database;
    house.make_table("pair", "number bigint primary key");
    constexpr long long last = 200;
    std::atomic<long long> acknowledged{0};
    std::vector<std::thread> all;
    for (int reader = 0; reader < 3; ++reader)
        all.emplace_back([&] {
            long long at = -1, seen = 0, asked = 0, read = 0;
            while (acknowledged < last) {
                const long long due = acknowledged, writes = database.writes();
                if (++asked; writes != at) {
                    ++read;
                    at = writes;
                    database.read([&](Sql& sql) {
                        sql << "select coalesce(max(number), 0) from pair", soci::into(seen);
                    });
                }
                EXPECT_GE(seen, due);
            }
            EXPECT_LT(read, asked);
        });
    for (long long number = 1; number <= last; ++number) {
        database.write([&](Sql& sql) { insert_pair(sql, number); });
        acknowledged = number;
    }
    for (auto& thread : all) thread.join();
}

}  // namespace
}  // namespace seatwright::store
