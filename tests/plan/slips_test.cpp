// Figures typed wrong in the invented example jobs, found by a machinist who tried to get a program he would
// regret: each brings a question or holds back what it would spoil. Figures of the trade beside the ranges
// they break (job/keys_*, shape/depth_doubts, job/doubts).
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

#include "past_a_stop.hpp"
#include "spoken.hpp"
#include "typed_job.hpp"

namespace seatwright::plan {
namespace {

using fixtures::job_of, fixtures::Typed, fixtures::text_of;

bool holds_all(const Plan& plan, HeldCode code) {
    return std::all_of(plan.hold.setups.begin(), plan.hold.setups.end(), [&](const hold::Setup& setup) {
        return std::any_of(plan.cut.held_back.begin(), plan.cut.held_back.end(), [&](const HeldBack& held) {
            return held.code == code && held.setup == setup.id && !held.valve;
        });
    });
}

struct Slip {
    const char* what;
    const char* example;
    std::vector<Typed> typed;
    HeldCode code;
    const char* says;
    std::string sure = {};  // "sure": what its entry says frees it
};

const char* const first_1E = "\n[[reading.first]]\nhead = \"6\"\nvalve = \"1E\"\n";

TEST(Slips, TheWholeHeadWaits) {
    const Slip slips[] = {
        {"a radius for the diameter of the old face, on the seat Z0 is touched on",
         "pent-roof",
         {{"face_width = 1.50", "face_width = 5.10"}},
         HeldCode::doubt,
         "come to rest",
         "sure"},
        {"an enter feed without its unit",
         "wedge",
         {{"[cut]", "[cut]\nenter_feed = 3"}},
         HeldCode::doubt,
         "the feed with which a pilot goes in",
         "sure"},
        {"a feeler in the other unit",
         "wedge",
         {{"[depth]", "[depth]\nfeeler = 0.05"}},
         HeldCode::doubt,
         "a feeler",
         "sure"},
        {"a first depth with a minus",
         "wedge",
         {{"", std::string(first_1E) + "depth = -0.002\n"}},
         HeldCode::doubt,
         "a depth",
         ""},
        {"a gauge that would hide any error",
         "wedge",
         {{"", std::string(first_1E) + "depth = 0.005\ngauge_u = 0.01\n"}},
         HeldCode::doubt,
         "a gauge's uncertainty",
         ""},
        {"a seat an inch too low",
         "wedge",
         {{"",
           "\n[[head.valve]]\nid = \"3I\"\nkind = \"intake\"\nx = 9.74\ny = 0.15\nz = -1.35\nincline = "
           "19.5\n"}},
         HeldCode::doubt,
         "far from the others of its kind",
         "sure"},
        {"digits changed places in a height",
         "canted",
         {{"z = -12", "z = -21"}},
         HeldCode::doubt,
         "The intake seats lie at -21 mm",
         ""},
        {"the sign of one kind's incline",
         "wedge",
         {{"{ kind = \"intake\", x = 0.94, y = 0.15, z = -0.35, incline = \"19.5 deg\"",
           "{ kind = \"intake\", x = 0.94, y = 0.15, z = -0.35, incline = \"-19.5 deg\""}},
         HeldCode::doubt,
         "Is its sign wrong?",
         ""},
        {"a material's feed without its unit, in an inch file",
         "wedge",
         {{"",
           "\n[[material]]\nname = \"grey iron\"\nkc11 = 1150\nmc = 0.2\nspeed = [20, 40]\nfeed = [0.02, "
           "0.05]\n"}},
         HeldCode::doubt,
         "is fed",
         "sure"},
        {"a place on the deck beside the head",
         "canted",
         {{"deck_at = [60, 40]", "deck_at = [60, 400]"}},
         HeldCode::doubt,
         "is there deck?",
         "sure"},
        {"a place in the chamber, within the bore",
         "canted",
         {{"deck_at = [60, 40]", "deck_at = [20, 45]"}},
         HeldCode::doubt,
         "whose bore reaches 54 mm",
         "sure"},
        {"a ball that rests half over the bore's edge",
         "canted",
         {{"deck_at = [60, 40]", "deck_at = [56, 0]"}},
         HeldCode::doubt,
         "whose bore reaches 54 mm",
         "sure"},
        {"a largest trim without its unit, in an inch file",
         "wedge",
         {{"[cut]", "[cut]\ntrim_max = 0.1"}},
         HeldCode::doubt,
         "a trim lies between",
         "sure"},
        {"a deck cut in the other unit",
         "wedge",
         {{"[depth]", "[depth]\ndeck_cut = \"0.10 in\""}},
         HeldCode::doubt,
         "a deck cut lies between",
         "sure"},
        {"a decimal point moved in a section",
         "canted",
         {{"[26.170, 0.887]", "[261.70, 0.887]"}},
         HeldCode::doubt,
         "no point of its old face lies there",
         ""},
        {"Z of the cutter at rest where Z0 is taken, and not 0",
         "wedge",
         {{"valve = \"2E\"\nstem_height = 1.9080", "valve = \"2E\"\nrest_z = 0.035\nstem_height = 1.9080"},
          {"[depth]", "[depth]\nzero_on = \"2E\""}},
         HeldCode::doubt,
         "shows 0",
         ""},
        {"a head too heavy for the fixture",
         "wedge",
         {{"mass = \"46 lb\"", "mass = \"460 lb\""}},
         HeldCode::safety,
         "does not take this head",
         ""},
        {"holes the posts do not enter",
         "wedge",
         {{"bolt_hole_diameter =", "bolt_hole_diameter = \"0.3 in\"  #"}},
         HeldCode::safety,
         "do not enter",
         ""},
    };
    for (const Slip& slip : slips) {
        job::Job job = job_of(slip.example, slip.typed);
        const Plan plan = make_plan(job);
        EXPECT_TRUE(plan.cut.programs.empty()) << slip.what;
        EXPECT_TRUE(holds_all(plan, slip.code)) << slip.what;
        EXPECT_TRUE(std::any_of(
            plan.cut.held_back.begin(), plan.cut.held_back.end(),
            [&](const HeldBack& held) { return spoken(held.reason).find(slip.says) != std::string::npos; }))
            << slip.what << ": "
            << (plan.cut.held_back.empty() ? "" : spoken(plan.cut.held_back.front().reason));
        EXPECT_TRUE(blocked(plan.notices())) << slip.what;
        EXPECT_FALSE(fixtures::past_a_stop(plan)) << slip.what;
        if (slip.sure.empty()) continue;
        // As the entry says it is freed: sure = ["…"].
        const std::string& frees = spoken(plan.cut.held_back.front().frees);
        const auto from = frees.find("[\"") + 2;
        job.sure.push_back({frees.substr(from, frees.find("\"]") - from), 1, job.units});
        const Plan freed = make_plan(job);
        EXPECT_FALSE(holds_all(freed, slip.code)) << slip.what;
    }
}

TEST(Slips, TheExamplesThemselvesAreAskedNothing) {
    for (const char* example : {"wedge", "canted", "pent-roof"}) {
        const Plan plan = make_plan(job_of(example, {}));
        EXPECT_TRUE(plan.cut.held_back.empty())
            << example << ": " << spoken(plan.cut.held_back.front().reason);
    }
}

// A word of the machinist puts no guide where no casting has one (the touch of 3I was made in 1I).
TEST(Slips, ATouchStoodByFarFromItsPlaceIsHeldAllTheSame) {
    const std::string touch = "[[reading.touch]]\nhead = \"6\"\nvalve = \"3I\"\nkeep = true\ny = 0.0\nx = ";
    const auto held = [&](const char* x) {
        const Plan plan =
            make_plan(job_of("wedge", {{"[[reading.level]]", touch + x + "\n[[reading.level]]"}}));
        return std::any_of(plan.cut.held_back.begin(), plan.cut.held_back.end(), [](const HeldBack& entry) {
            return entry.code == HeldCode::suspect && entry.valve == "3I";
        });
    };
    EXPECT_TRUE(held("1.88"));
    EXPECT_TRUE(held("16.80"));
    EXPECT_FALSE(held("10.67"));
}

// A guide to be repaired stops its seat; what a lead lets pass is said, and stops nothing.
TEST(Slips, WhatALeadLetsPassIsNoStopAnyMore) {
    job::Job job = job_of("wedge", {});
    for (job::GuideBore& read : job.readings.guides)
        if (read.valve == "3I") read.top = read.middle = read.bottom = read.top + 0.2;
    if (std::none_of(job.readings.guides.begin(), job.readings.guides.end(),
                     [](const job::GuideBore& read) { return read.head == "6" && read.valve == "3I"; }))
        job.readings.guides.push_back({"6", "3I", 8.96, 8.96, 8.96});
    job.guide.intake->bore_max = 8.85;
    const auto stops = [](const Plan& plan) {
        const Notices all = plan.notices();
        return std::count_if(all.warnings.begin(), all.warnings.end(), [](const Warning& warning) {
            return warning.severity == Severity::blocking &&
                   (warning.code == "guide-first" || warning.code == "guide-repair");
        });
    };
    EXPECT_GE(stops(make_plan(job, "6")), 1);
    job.allow.push_back({"guide 3I", "new guides come next week", "a lead"});
    EXPECT_EQ(stops(make_plan(job, "6")), 0);
}

// A guide that no setup holds plumb, let pass by a lead: nothing else holds it under another name.
TEST(Slips, AGuideOffPlumbThatALeadLetsPassIsCut) {
    job::Job job = job_of("wedge", {});
    job.head.valves.front().cant += rad(0.3);
    const Plan held = make_plan(job);
    std::vector<std::string> off;
    for (const HeldBack& entry : held.cut.held_back)
        if (entry.code == HeldCode::plumb && entry.valve) off.push_back(*entry.valve);
    ASSERT_FALSE(off.empty());
    for (const std::string& id : off) job.allow.push_back({"plumb " + id, "the old guide leans", "a lead"});
    const Plan plan = make_plan(job);
    for (const HeldBack& entry : plan.cut.held_back)
        EXPECT_EQ(std::find(off.begin(), off.end(), entry.valve.value_or("")), off.end())
            << word_of(entry.code) << ": " << spoken(entry.reason);
    const Notices all = plan.notices();
    for (const Warning& warning : all.warnings)
        EXPECT_EQ(warning.severity, Severity::note)
            << "let pass by a lead, and yet: " << warning.code << ": " << spoken(warning.text);
}

// The head read last on the fixture leans; the one that is planned has its own level.
TEST(Slips, AnotherHeadsLevelHoldsNothing) {
    const Plan plan = make_plan(job_of("wedge", {{"",
                                                  "\n[[reading.level]]\nhead = \"7\"\nvalve = \"1E\"\nfirst "
                                                  "= \"0.1 deg\"\nsecond = \"-0.1 deg\"\n"}}));
    EXPECT_EQ(plan.shape.head, "6");
    EXPECT_TRUE(std::any_of(plan.hold.warnings.begin(), plan.hold.warnings.end(), [](const Warning& warning) {
        return warning.code == "level-off" && warning.severity == Severity::blocking;
    }));
    EXPECT_TRUE(plan.cut.held_back.empty());
}

// Guides of a batch are often read on the bench before: what another head's guide read, then or later,
// neither stops a seat of this head nor lets one pass.
TEST(Slips, AnotherHeadsGuideIsNothingToThisHead) {
    const auto bore = [](const char* head, const char* read) {
        return fmt::format(
            "\n[[reading.guide]]\nhead = \"{}\"\nvalve = \"3I\"\ntop = {}\nmiddle = {}\nbottom = {}\n", head,
            read, read, read);
    };
    const std::string worn = "0.3530", fit = "0.3451";
    const Plan own = make_plan(job_of("wedge", {{"", bore("3", worn.c_str())}}), "6");
    EXPECT_TRUE(own.cut.held_back.empty()) << spoken(own.cut.held_back.front().reason);
    EXPECT_TRUE(std::none_of(own.shape.warnings.begin(), own.shape.warnings.end(),
                             [](const Warning& warning) { return warning.code == "guide-first"; }));
    // It is said all the same, and stops the head it is of.
    const auto repair = [](const Plan& plan) {
        for (const Warning& warning : plan.notices_of_head().warnings)
            if (warning.code == "guide-repair") return std::optional(warning.severity);
        return std::optional<Severity>();
    };
    EXPECT_EQ(repair(own), Severity::note);
    EXPECT_FALSE(blocked(own.notices_of_head()));
    const Plan its = make_plan(job_of("wedge", {{"", bore("3", worn.c_str())}}), "3");
    EXPECT_EQ(repair(its), Severity::blocking);
    EXPECT_TRUE(blocked(its.notices_of_head()));
    // Head 9 has not been touched: its own guide counts, not the one read last.
    const Plan held =
        make_plan(job_of("wedge", {{"", bore("9", worn.c_str()) + bore("6", fit.c_str())}}), "9");
    EXPECT_TRUE(std::any_of(held.cut.held_back.begin(), held.cut.held_back.end(), [](const HeldBack& entry) {
        return entry.code == HeldCode::guide_repair && entry.valve == "3I";
    }));
    EXPECT_FALSE(fixtures::past_a_stop(held));
}

// A blind run's chance is reckoned with the pilots of the guides read last: a head that takes a thicker one
// is touched first.
TEST(Slips, AThickerPilotThanABlindRunIsReckonedWithIsTouchedFirst) {
    const auto says = [](const Plan& plan) {
        return std::any_of(plan.cut.held_back.begin(), plan.cut.held_back.end(), [](const HeldBack& entry) {
            return entry.code == HeldCode::touch_first && !entry.valve &&
                   spoken(entry.reason).find("is thicker") != std::string::npos;
        });
    };
    job::Job job = job_of("wedge", {});
    const Plan before = make_plan(job, "9");
    ASSERT_TRUE(before.find.blind_run);
    EXPECT_FALSE(says(before));
    // The same pilot with a thicker tip, for one guide alone.
    const auto valve = job.head.index_of("3I").value();
    const auto now = before.find.pilots[valve].pilot;
    ASSERT_TRUE(now);
    job::Pilot thick = job.pilots[*now];
    thick.name += " thick";
    thick.diameter += 0.05;
    thick.tip += 0.05;
    job.pilots.push_back(thick);
    job.readings.guides.push_back(
        {"9", "3I", thick.diameter + 0.01, thick.diameter + 0.01, thick.diameter + 0.01});
    const auto reading = std::as_const(job.readings.guides)[0];
    job.readings.guides.push_back({"6", "3I", reading.top, reading.middle, reading.bottom});
    EXPECT_TRUE(says(make_plan(job, "9")));
}

// STOPs that no stage held anything back for: what a machine cannot turn is cut nowhere.
TEST(Slips, WhatTheMachineCannotTurnIsHeldBack) {
    job::Job job = job_of("canted", {});
    job.machine.torque = 2000;  // N·mm
    const Plan plan = make_plan(job);
    EXPECT_TRUE(plan.cut.programs.empty());
    EXPECT_EQ(plan.cut.held_back.size(), job.head.valves.size());
    for (const HeldBack& held : plan.cut.held_back)
        EXPECT_EQ(held.code, HeldCode::safety) << spoken(held.reason);
}

// Z0 from the deck goes by the cutter's lowest edge: one typed without its point, or in another unit, is
// asked about, for it would send the blade as far into the head.
TEST(Slips, ALowestEdgeThatTheFormCannotHaveIsAskedAbout) {
    for (const double lowest : {27.926, 0.27926}) {
        job::Job job = job_of("canted", {});
        ASSERT_EQ(job.depth.from, job::DepthFrom::deck);
        for (job::Cutter& cutter : job.cutters)
            if (cutter.lowest) cutter.lowest = lowest;
        const Plan plan = make_plan(job);
        EXPECT_TRUE(plan.cut.programs.empty()) << lowest;
        EXPECT_TRUE(holds_all(plan, HeldCode::doubt)) << lowest;
    }
}

// What was asked for by name and is in no file says why.
TEST(Slips, ASeatProvenGoodAskedForAloneIsSaid) {
    job::Job job = job_of("wedge", {});
    job::SeatAfter proof;
    proof.head = "6";
    proof.valve = "1E";
    proof.stem_height = 1.9160 * 25.4;
    proof.runout = 0.01;
    proof.width = {1.905};
    job.readings.proofs.push_back(proof);
    job::Selection only;
    only.only = {"1E"};
    const Plan plan = make_plan(job, "6", only);
    EXPECT_TRUE(plan.cut.programs.empty());
    EXPECT_TRUE(std::any_of(plan.cut.warnings.begin(), plan.cut.warnings.end(),
                            [](const Warning& warning) { return warning.code == "done-already"; }));
}

// Within what the gauge tells nothing moves, but the seat read would end past its limit: that is said.
TEST(Slips, AFirstSeatPastItsLimitWithinTheGaugeIsSaid) {
    const auto said = [](double limit_over_plan) {
        job::Job job = job_of("wedge", {{"", std::string(first_1E) + "depth = 0.0031\n"}});
        const Plan whole = make_plan(job);
        const std::size_t at = *job.head.index_of("1E");
        job.seat.exhaust->stem_height_max =
            *whole.shape.seats[at].stem_height_after + limit_over_plan;  // mm; e = 0.0254 - 0.0008
        const Plan plan = make_plan(job);
        return std::any_of(plan.cut.warnings.begin(), plan.cut.warnings.end(),
                           [](const Warning& warning) { return warning.code == "first-past-limit"; });
    };
    EXPECT_TRUE(said(0.010));
    EXPECT_FALSE(said(0.100));
}

// A seat read higher after cutting than before was read wrong: the new blade's Z0 is not taken on it.
TEST(Slips, NoZeroOnASeatReadHigherThanItsOldOne) {
    const auto zero_on = [](double stem) {
        job::Job job = job_of("wedge", {});
        job::SeatAfter proof;
        proof.head = "6";
        proof.valve = "1E";
        proof.stem_height = stem * 25.4;
        proof.runout = 0.01;
        proof.width = {1.905};
        job.readings.proofs.push_back(proof);
        job::Selection from;
        from.from = "4E";
        std::vector<std::string> on;
        const Plan plan = make_plan(job, "6", from);
        for (const auto& program : plan.cut.programs)
            for (const auto& zero : program.route.zeros)
                on.push_back(zero.taken.valve ? job.head.valves[*zero.taken.valve].id : "");
        return on;
    };
    const auto as_planned = zero_on(1.9160), higher = zero_on(1.9062);
    EXPECT_NE(std::find(as_planned.begin(), as_planned.end(), "1E"), as_planned.end());
    EXPECT_EQ(std::find(higher.begin(), higher.end(), "1E"), higher.end());
}

// Of seats held back after their first was read: there is no file that a trim could be in.
TEST(Slips, ATrimIsToldOnlyWhereAFileHasIt) {
    job::Job job = job_of("wedge", {{"", std::string(first_1E) + "depth = 0.0300\n"}});
    job.allow.push_back({"trim 1E", "a test", "a lead"});
    const Plan plan = make_plan(job);
    const auto told = [](const Plan& of) {
        return std::any_of(of.cut.warnings.begin(), of.cut.warnings.end(), [](const Warning& warning) {
            return spoken(warning.text).find("is in this file") != std::string::npos;
        });
    };
    for (const auto& program : plan.cut.programs)
        for (const auto& zero : program.route.zeros) EXPECT_EQ(zero.trim, 0) << program.file;
    EXPECT_FALSE(told(plan));
    job.readings.firsts.back().depth = 0.005 * 25.4;
    const Plan taken = make_plan(job);
    EXPECT_TRUE(told(taken));
}

// working.md's worked example: the ball at (60, 40) of the head stands at X 83.4641, Y 22.1114 in setup A.
TEST(Slips, TheBallsPlaceIsSaidAsTheReadoutShowsIt) {
    job::Job job = job_of("canted", {});
    const auto text_of_A = [&] {
        const Plan plan = make_plan(job);
        for (const auto& program : plan.cut.programs)
            if (program.setup == "A") return program.text;
        return std::string();
    };
    const auto times = [](const std::string& text, const std::string& words) {
        int count = 0;
        for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1))
            ++count;
        return count;
    };
    const std::string plain = text_of_A();
    EXPECT_EQ(times(plain, "X 83.464 mm, Y 22.111 mm on the readout"), 2) << plain.substr(0, 1500);
    job.machine.x_sign = -1;
    job.machine.y_sign = -1;
    for (job::Touch& touch : job.readings.touches) touch.at = -touch.at;
    const std::string mirrored = text_of_A();
    EXPECT_EQ(times(mirrored, "X -83.464 mm, Y -22.111 mm on the readout"), 2) << mirrored.substr(0, 1500);
}

// Where the control moves Z0, a reading that does not say so was trimmed there: no file is shifted for it.
TEST(Slips, AFirstSeatIsTrimmedWhereTheMachineTrims) {
    const std::string first = "\n[[reading.first]]\nvalve = \"1Ia\"\ndepth = 0.085\n";
    const auto where = [&](const std::string& machine, const std::string& said) {
        const job::Job job = job_of("pent-roof", {{"", first + said}, {"machine = \"long table\"", machine}});
        return job.readings.firsts.at(0).trimmed;
    };
    const std::string at_control = "machine = \"short table\"";
    EXPECT_EQ(where(at_control, ""), job::TrimmedAt::control);
    EXPECT_EQ(where(at_control, "trimmed = \"file\"\n"), job::TrimmedAt::file);
    EXPECT_EQ(where("machine = \"long table\"", ""), job::TrimmedAt::file);
}

}  // namespace
}  // namespace seatwright::plan
