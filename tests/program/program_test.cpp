// 200 generated jobs (2 000 in ./check --all) over all ways of working, dialects and zeros: every program
// handed out is read by the outside interpreter and run on the simulated machine, whose person changes pilots
// only where a halt says so, and every seat it cuts comes out where it was planned, led by the pilot it was
// planned with.
#include <gtest/gtest.h>

#include <iostream>

#include "draws.hpp"
#include "floor.hpp"
#include "generate.hpp"
#include "missing.hpp"
#include "past_a_stop.hpp"
#include "spoken.hpp"

namespace seatwright::sim {
namespace {

constexpr int at_once = 50;

// Readings are true: what is left is rounding to the dialect's decimals, the depth step taken whole.
constexpr double agreement = 2e-3;

struct Tally {
    int jobs = 0, programs = 0, seats = 0, held = 0, moves = 0, halts = 0, firsts = 0;
    int pilots_put = 0;
    std::map<std::string, int> codes;                   // of what is held back
    std::map<int, int> ways, zeros, floats, two_sizes;  // the last by way, seats of heads with two pilots
};

void judge(const Work& work, Tally& tally) {
    ++tally.jobs;
    tally.programs += static_cast<int>(work.run.size());
    tally.moves += work.moves;
    tally.halts += work.halts;
    tally.pilots_put += work.pilots_put;
    tally.firsts += static_cast<int>(work.measured.size());
    for (const std::string& wrong : work.wrong) ADD_FAILURE() << work.c.name << ": " << wrong;
    const auto past = fixtures::past_a_stop(*work.plan);
    EXPECT_FALSE(past) << work.c.name << ": " << past.value_or("");
    std::map<std::string, bool> held;
    for (const HeldBack& entry : work.plan->cut.held_back) {
        ++tally.codes[std::string(word_of(entry.code))];
        if (entry.valve) held[*entry.valve] = true;
        for (const hold::Setup& setup : work.plan->hold.setups)
            if (!entry.valve && setup.id == entry.setup)
                for (const hold::Held& valve : setup.valves) held[work.c.seats.at(valve.valve).id] = true;
    }
    for (const Seat& seat : work.c.seats) {
        const auto at = work.left.seats.find(seat.id);
        const bool cut = at != work.left.seats.end() && at->second.cut;
        if (held.count(seat.id) != 0) {
            ++tally.held;
            EXPECT_FALSE(cut) << work.c.name << ": " << seat.id << " is held back and was cut\n"
                              << spoken(work.plan->cut.held_back.front().reason);
            continue;
        }
        EXPECT_TRUE(cut) << work.c.name << ": " << seat.id << " was not cut";
        const auto planned = planned_height(work, seat.id);
        if (!cut || !planned) continue;
        EXPECT_NEAR(*at->second.cut, *planned, agreement) << work.c.name << ": " << seat.id;
        ++tally.seats;
        ++tally.ways[static_cast<int>(work.c.way)];
        ++tally.zeros[static_cast<int>(work.c.zero)];
        ++tally.floats[static_cast<int>(work.c.floats)];
        if (work.c.pilots.size() > 1) ++tally.two_sizes[static_cast<int>(work.c.way)];
    }
}

TEST(SimulatedMachine, GeneratedJobsComeOutAsPlannedAndTouchNothingElse) {
    const auto folder = interpreter_folder();
    if (!folder) GTEST_SKIP() << outside::missing(outside::no_interpreter);
    const int jobs = drawn(200, 2'000, 50);
    std::mt19937 random(20);
    Tally tally;
    for (int begin = 0; begin < jobs; begin += at_once) {
        std::vector<Work> works(at_once);
        for (int i = 0; i < at_once; ++i) {
            works[static_cast<std::size_t>(i)].c = generated(random, begin + i);
            plan_first(works[static_cast<std::size_t>(i)]);
        }
        run_all(works, *folder);
        for (const Work& work : works) judge(work, tally);
        if (HasFailure()) break;
    }
    std::cout << tally.jobs << " jobs, " << tally.programs << " programs, " << tally.seats << " seats, "
              << tally.held << " held back, " << tally.firsts << " first seats measured, " << tally.moves
              << " moves, " << tally.halts << " halts, " << tally.pilots_put << " of them for pilots\n";
    for (const auto& [code, count] : tally.codes) std::cout << code << ": " << count << "\n";
    EXPECT_EQ(tally.jobs, jobs);
    EXPECT_GT(tally.seats, 3 * jobs);
    EXPECT_GT(tally.firsts, 2 * jobs / 5);
    // Each way of working, each zero and each float has cut seats.
    EXPECT_EQ(tally.ways.size(), 4u);
    EXPECT_EQ(tally.zeros.size(), 3u);
    EXPECT_EQ(tally.floats.size(), 5u);
    // Heads with two sizes of pilot, in every way of working, are led through by the halts alone.
    EXPECT_EQ(tally.two_sizes.size(), 4u);
    for (const auto& [way, seats] : tally.two_sizes) EXPECT_GT(seats, jobs / 10) << way;
    EXPECT_GT(tally.pilots_put, 2 * jobs / 5);
}

}  // namespace
}  // namespace seatwright::sim
