// What is typed once cutting has begun: a broken blade on a head of several setups, a first seat of another
// valve, old heights that contradict each other, a finished height without its point. Found by a machinist
// who tried to get a program he would regret; the invented examples, working.md "A blade broke", "First seat,
// trim".
#include <algorithm>

#include "spoken.hpp"
#include "typed_job.hpp"

namespace seatwright::plan {
namespace {

using fixtures::job_of;

std::vector<std::string> seats_of(const job::Job& job, const Plan& plan) {
    std::vector<std::string> out;
    for (const auto& program : plan.cut.programs)
        for (const auto& stop : program.route.stops) out.push_back(job.head.valves[stop.valve].id);
    return out;
}

bool has(const std::vector<std::string>& all, const std::string& one) {
    return std::find(all.begin(), all.end(), one) != all.end();
}

const HeldBack* held(const Plan& plan, HeldCode code, const std::string& says) {
    for (const HeldBack& entry : plan.cut.held_back)
        if (entry.code == code && spoken(entry.reason).find(says) != std::string::npos) return &entry;
    return nullptr;
}

Plan from(const job::Job& job, const std::string& head, const std::string& valve) {
    job::Selection selection;
    selection.from = valve;
    return make_plan(job, head, selection);
}

std::string first(const std::string& valve, const std::string& depth, const std::string& more = "",
                  const std::string& head = "6") {
    return "\n[[reading.first]]\nhead = \"" + head + "\"\nvalve = \"" + valve + "\"\ndepth = " + depth +
           "\n" + more;
}

// Setups go in the order of card and files, whatever saves a change of cutter: what came before the broken
// blade is not cut again, what comes after is not forgotten.
TEST(AfterTheStart, ABladeThatBrokeGoesByTheOrderOfTheCard) {
    for (const char* example : {"pent-roof", "canted"}) {
        const job::Job job = job_of(example, {});
        const Plan whole = make_plan(job);
        ASSERT_GT(whole.hold.setups.size(), 1u) << example;
        const auto in_setup = [&](const Plan& plan, std::size_t setup) {
            return std::any_of(plan.cut.programs.begin(), plan.cut.programs.end(),
                               [&](const auto& program) { return program.route.setup == setup; });
        };
        const std::size_t last = whole.hold.setups.size() - 1;
        for (const std::size_t broke : {std::size_t{0}, last}) {
            const std::string id = job.head.valves[whole.hold.setups[broke].valves.back().valve].id;
            const Plan plan = from(job, whole.shape.head, id);
            for (std::size_t setup = 0; setup <= last; ++setup)
                EXPECT_EQ(in_setup(plan, setup), setup >= broke)
                    << example << ", broke at " << id << ", setup " << whole.hold.setups[setup].id;
        }
    }
}

// The order printed is the order of the setups.
TEST(AfterTheStart, SetupsStandInOneOrder) {
    for (const char* example : {"pent-roof", "canted", "wedge"}) {
        const Plan plan = make_plan(job_of(example, {}));
        EXPECT_TRUE(
            std::is_sorted(plan.cut.programs.begin(), plan.cut.programs.end(),
                           [](const auto& a, const auto& b) { return a.route.setup < b.route.setup; }));
    }
}

// Positions count from the readout as it stood at the touches: the file says what it shows over the datum.
TEST(AfterTheStart, NobodyIsToldToZeroAReadoutThatWasTouchedWith) {
    const job::Job job = job_of("wedge", {{"datum = \"1E\"", "datum = \"4I\""}});
    const Plan plan = make_plan(job);
    ASSERT_FALSE(plan.cut.programs.empty());
    for (const auto& program : plan.cut.programs) {
        EXPECT_EQ(program.text.find("the readout zeroed over"), std::string::npos);
        EXPECT_NE(program.text.find("not zeroed since: over guide 4I it shows X 15."), std::string::npos)
            << program.text.substr(0, 600);
    }
    job::Job untouched = job;
    untouched.readings.touches.clear();
    const Plan again = make_plan(untouched, "6");  // its results live as long as it does
    for (const auto& program : again.cut.programs)
        EXPECT_NE(program.text.find("the readout zeroed over guide 4I"), std::string::npos);
}

// A valve typed wrong in the reading of the first seat would move every stop.
TEST(AfterTheStart, AFirstSeatOfAnotherValveIsAskedAbout) {
    const Plan right = make_plan(job_of("wedge", {{"", first("1E", "0.0021")}}));
    EXPECT_GT(right.cut.programs.size(), 0u);
    const Plan wrong = make_plan(job_of("wedge", {{"", first("3E", "0.0020")}}));
    ASSERT_NE(held(wrong, HeldCode::doubt, "names 3E"), nullptr);
    for (const auto& program : wrong.cut.programs) EXPECT_EQ(program.route.zeros.front().trim, 0);
    EXPECT_EQ(held(make_plan(job_of("wedge", {{"", first("3E", "0.0020", "sure = true\n")}})),
                   HeldCode::doubt, "names 3E"),
              nullptr);
    EXPECT_EQ(
        held(make_plan(job_of("wedge", {{"", first("3E", "0.0020")}, {"[cut]", "[cut]\nfirst = \"3E\""}})),
             HeldCode::doubt, "names 3E"),
        nullptr);
}

// "If it needs more, all are planned again" (working.md): the first file cut as planned, then the cleanup is
// raised. Every stop goes deeper by what the plan does, and none by the change once more.
TEST(AfterTheStart, APlanChangedAfterTheFirstSeatIsNoTrim) {
    const std::string found_first = "1E";
    const auto trims = [&](const std::string& more, bool raised) {
        std::vector<Typed> typed{{"", first(found_first, "0.0021", more)}};
        if (raised) typed.push_back({"cleanup_margin = 0.001", "cleanup_margin = 0.003"});
        const Plan plan = make_plan(job_of("wedge", typed));
        std::vector<double> all;
        for (const auto& program : plan.cut.programs)
            for (const auto& stop : program.route.stops)
                if (stop.id == found_first) all.push_back(program.route.zeros.front().trim);
        EXPECT_FALSE(all.empty()) << more << raised;
        const bool assumed =
            std::any_of(plan.cut.assumptions.begin(), plan.cut.assumptions.end(), [](const Sentence& one) {
                return spoken(one).find("was first cut by a file of this plan") != std::string::npos;
            });
        EXPECT_EQ(assumed, more.empty());
        return all.empty() ? 1.0 : all.front();
    };
    const double as_cut = trims("", false);
    EXPECT_NEAR(trims("", true), as_cut - 0.003 * 25.4 + 0.001 * 25.4, 0.02);
    const std::string planned = fmt::format("planned = \"{:.6f} mm\"\n", 0.0021 * 25.4 - as_cut);
    EXPECT_NEAR(trims(planned, false), as_cut, 1e-5);
    EXPECT_NEAR(trims(planned, true), as_cut, 1e-5);
}

// The trim of a blade that broke is void, with lengths from a ball on the deck too; the list is there, and a
// seat of its form measured good is better than the deck.
TEST(AfterTheStart, ANewBladeHasNoTrimOfTheOldOne) {
    const Plan plan = from(job_of("canted", {{"", first("1I", "0.12", "", "1")}}), "1", "4I");
    for (const auto& program : plan.cut.programs) {
        for (const auto& zero : program.route.zeros) EXPECT_EQ(zero.trim, 0) << program.file;
        EXPECT_EQ(program.text.find("trim +"), std::string::npos) << program.file;
    }
}

TEST(AfterTheStart, ANewBladeTakesItsLengthOnASeatMeasuredGood) {
    job::Job job = job_of("canted", {});
    const Plan whole = make_plan(job);
    ASSERT_EQ(job.machine.zero, job::ZeroKept::offsets);
    const auto& seats = whole.shape.seats;
    std::string broke;
    for (const auto& stop : whole.cut.routes.front().stops) broke = job.head.valves[stop.valve].id;
    for (const auto& stop : whole.cut.routes.front().stops) {
        const std::string& id = job.head.valves[stop.valve].id;
        if (id == broke) continue;
        job::SeatAfter after;
        after.head = whole.shape.head;
        after.valve = id;
        after.stem_height = seats[stop.valve].stem_height_after;
        after.runout = 0.01;
        after.width = {job.seat[job.head.valves[stop.valve].kind]->width};
        job.readings.proofs.push_back(after);
    }
    const Plan plan = from(job, whole.shape.head, broke);
    ASSERT_FALSE(plan.cut.programs.empty());
    const auto& route = plan.cut.programs.front().route;
    EXPECT_NE(spoken(route.restart).find("cut and measured good"), std::string::npos)
        << spoken(route.restart);
    EXPECT_EQ(route.zeros.front().taken.on, shape::ZeroOn::finished_seat);
}

// A large trim changes nothing about which seats were cut before the blade broke.
TEST(AfterTheStart, ASeatNobodyCutIsNotCalledCut) {
    const Plan plan = from(job_of("wedge", {{"", first("1E", "0.0061")}}), "6", "3E");
    bool any = false;
    for (const auto& program : plan.cut.programs) {
        const std::string list = spoken(program.route.restart);
        if (list.empty()) continue;
        any = true;
        const auto again = list.find("measure again: ");
        const std::string cut =
            again == std::string::npos ? "" : list.substr(again, list.find(';', again) - again);
        EXPECT_EQ(cut.find("2E"), std::string::npos) << list;
    }
    EXPECT_TRUE(any);
}

// The seat Z0 was taken on, measured as cut while others of its form wait: neither that Z0 nor its trim goes
// on.
TEST(AfterTheStart, ATrimDoesNotOutliveItsZero) {
    job::Job job = job_of("wedge", {{"", first("1E", "0.0035")}});
    const auto zero_on = make_plan(job).cut.programs.front().route.zeros.front();
    ASSERT_TRUE(zero_on.taken.valve);
    ASSERT_NE(zero_on.trim, 0);
    const std::string id = job.head.valves[*zero_on.taken.valve].id;
    job::SeatAfter after;
    after.head = "6";
    after.valve = id;
    after.runout = 0.01;
    job.readings.proofs.push_back(after);
    const Plan plan = make_plan(job, "6");
    EXPECT_NE(held(plan, HeldCode::zero_void, "measured as cut by now"), nullptr);
    EXPECT_FALSE(has(seats_of(job, plan), "3E"));
}

// Two readings of one old seat that cannot both be right.
TEST(AfterTheStart, OldHeightsThatContradictEachOtherAreAskedAbout) {
    const Plan rest = make_plan(job_of("pent-roof", {{"rest_z = -0.03", "rest_z = -0.30"}}));
    EXPECT_NE(held(rest, HeldCode::doubt, "contradict each other"), nullptr);
    const Plan stem =
        make_plan(job_of("wedge", {{"valve = \"1I\"\nstem_height = 1.9120",
                                    "valve = \"1I\"\nrecession = 0.030\nstem_height = 1.9120"}}));
    EXPECT_NE(held(stem, HeldCode::doubt, "contradict each other"), nullptr);
}

// A drawing height or a setting valve that is off by the same on all seats of a kind contradicts nothing.
TEST(AfterTheStart, WhatAllSeatsOfAKindShareAsksNothing) {
    job::Job job = job_of("wedge", {});
    for (job::SeatBefore& read : job.readings.seats)
        if (read.stem_height && read.head == "6") {
            const auto kind = job.head.valves[*job.head.index_of(read.valve)].kind;
            read.recession = *read.stem_height - *job.seat[kind]->stem_height + 0.3;
        }
    EXPECT_EQ(held(make_plan(job, "6"), HeldCode::doubt, "contradict each other"), nullptr);
}

// 13.0 typed for 1.30 below the deck, no seat read: nothing else would ask.
TEST(AfterTheStart, AFinishedHeightFarFromTheDrawingIsAskedAbout) {
    job::Job job = job_of("canted", {});
    ASSERT_EQ(job.depth.from, job::DepthFrom::deck);
    job.readings.seats.clear();
    job.depth.to = job::DepthTo::height;
    for (const job::Kind kind : job::both_kinds) {
        job.seat[kind]->stem_height_max.reset();
        job.seat[kind]->recession_max.reset();
        job.seat[kind]->below_deck = 1.0;
        job.seat[kind]->finish = job::Finish{};
        job.seat[kind]->finish->below_deck = 1.3;
    }
    const auto asks = [&](double below) {
        job.seat.intake->finish->below_deck = below;
        return held(make_plan(job), HeldCode::doubt, "Is a point missing") != nullptr;
    };
    EXPECT_FALSE(asks(1.3));
    EXPECT_TRUE(asks(13.0));
    EXPECT_TRUE(asks(4.3));
}

}  // namespace
}  // namespace seatwright::plan
