// Which files a plan comes to: names, the first seat and the second file, parts of a head, drafts, what is
// held back. Invented data; trims are the worked ones (first seat read 0.035 deeper than planned).
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <sstream>

#include "seatwright/cut/expect.hpp"
#include "seatwright/cut/files.hpp"
#include "seatwright/cut/known.hpp"
#include "seatwright/cut/program.hpp"
#include "shaped.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

using fixtures::shaped;

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

std::vector<std::string> files_of(const Cut& cut) {
    std::vector<std::string> out;
    for (const Program& program : cut.programs) out.push_back(program.file);
    return out;
}

Cut planned(const fixtures::Shaped& s, const job::Selection& selection) {
    return plan(s.job, s.hold, s.find, s.shape, selection);
}

// The readings that the first files ask for, so much deeper than planned.
void measure_first(fixtures::Shaped& s, double deeper) {
    for (const Program& program : s.plan().programs)
        for (const Stop& stop : program.route.stops) {
            job::FirstSeat reading;
            reading.valve = stop.id;
            reading.depth = stop.depth + deeper;
            s.job.readings.firsts.push_back(reading);
        }
}

TEST(Files, TheNewestDateIsThatOfAnyReadingOfTheHead) {
    job::Job job;
    EXPECT_EQ(newest_date(job, "1"), "");
    job::SeatAfter proof;
    proof.date = "2026-02-20";
    job.readings.proofs.push_back(proof);
    job::Touch touch;
    touch.date = "2026-02-23";
    job.readings.touches.push_back(touch);
    EXPECT_EQ(newest_date(job, "1"), "2026-02-23");
    job::FirstSeat first;
    first.date = "2026-02-24";
    job.readings.firsts.push_back(first);
    EXPECT_EQ(newest_date(job, "1"), "2026-02-24");
    touch.head = "2";
    touch.date = "2026-03-01";
    job.readings.touches.push_back(touch);
    EXPECT_EQ(newest_date(job, "1"), "2026-02-24");
}

TEST(Files, TheSecondFileIsMadeOnceTheFirstSeatIsRead) {
    auto s = shaped(fixtures::wedge_job());
    const Cut first = s.plan();
    ASSERT_EQ(files_of(first),
              (std::vector<std::string>{"program-1-A-1-first.ngc", "program-1-A-2-first.ngc"}));
    for (const Program& program : first.programs) {
        ASSERT_EQ(program.route.stops.size(), 1u);
        EXPECT_TRUE(program.route.stops[0].short_cut);
        EXPECT_NEAR(program.route.stops[0].depth, 0.15 - 0.10, 1e-12);
        EXPECT_FALSE(has(program.text, "is in this file"));
    }
    measure_first(s, 0.035);
    const Cut second = s.plan();
    ASSERT_EQ(files_of(second), (std::vector<std::string>{"program-1-A-1.ngc", "program-1-A-2.ngc"}));
    for (std::size_t i = 0; i < 2; ++i) {
        const Route& route = second.programs[i].route;
        EXPECT_EQ(route.part, FilePart::rest);
        ASSERT_EQ(route.stops.size(), 4u);
        EXPECT_NEAR(route.zeros[0].trim, 0.035, 1e-12);
        EXPECT_TRUE(has(second.programs[i].text, "trim +0.0350 is in this file: do not move Z0"));
        // Every stop moves up by e, the first seat's too.
        for (const Stop& stop : route.stops)
            for (const Stop& before : first.routes[i].stops)
                if (stop.id == before.id) {
                    EXPECT_NEAR(stop.z, before.z + 0.035, 1e-12) << stop.id;
                }
        EXPECT_EQ(route.stops.front().id, first.programs[i].route.stops[0].id);
        EXPECT_EQ(route.stops.back().valve, *route.zeros[0].taken.valve);
    }
    // Within what the gauge can tell (0.0283 for 0.01) nothing moves.
    s.job.readings.firsts.clear();
    measure_first(s, -0.020);
    const Cut still = s.plan();
    ASSERT_EQ(still.programs.size(), 2u);
    for (const Program& program : still.programs) EXPECT_EQ(program.route.zeros[0].trim, 0);
    // More than trim_max: nothing more is cut with this Z0.
    s.job.readings.firsts.clear();
    measure_first(s, 0.15);
    const Cut large = s.plan();
    EXPECT_TRUE(large.programs.empty());
    ASSERT_EQ(large.held_back.size(), 8u);
    for (const HeldBack& held : large.held_back) EXPECT_EQ(held.code, HeldCode::trim_large);
}

// A seat whose old height nobody read: its depth says nothing of Z, so the height that the form has is asked
// for. Stem height drawn 47.50, f 0.15, cut 0.10 short; below the deck 1.00 drawn, a_z cos 19.5 deg.
TEST(Files, AFirstSeatOfUnknownHeightIsMeasuredByWhatSaysSomething) {
    auto s = shaped(fixtures::wedge_job());
    for (shape::Seat& seat : s.shape.seats) {
        seat.depth.reset();
        seat.stop_s = -0.15;
    }
    const auto asked = [&](const std::string& words) {
        const Cut cut = s.plan();
        EXPECT_FALSE(cut.programs.empty());
        for (const Program& program : cut.programs) {
            EXPECT_FALSE(has(program.text, "should have come")) << program.text;
            EXPECT_TRUE(has(program.text, words)) << program.text;
        }
    };
    asked("its stem height with the setting valve should be 47.55 mm)");
    for (const auto kind : job::both_kinds) s.job.seat[kind]->below_deck = 1.0;
    asked("its stem height with the setting valve should be 47.55 mm)");
    for (const auto kind : job::both_kinds) s.job.seat[kind]->stem_height.reset();
    asked("its valve should lie 1.047 mm below the deck)");
    for (const auto kind : job::both_kinds) s.job.seat[kind]->below_deck.reset();
    asked("no reading tells where Z is");
}

TEST(Files, WithTheTrimAtTheControlOneFileHaltsAfterItsFirstSeat) {
    auto job = fixtures::wedge_job();
    job.machine.trim = job::TrimAt::control;
    job.machine.measure_at = Vec2(-50, -90);
    const Cut cut = shaped(job).plan();
    ASSERT_EQ(files_of(cut), (std::vector<std::string>{"program-1-A-1.ngc", "program-1-A-2.ngc"}));
    for (const Program& program : cut.programs) {
        ASSERT_EQ(program.route.stops.size(), 5u);
        EXPECT_EQ(program.route.stops[0].id, program.route.stops[1].id);
        EXPECT_NEAR(program.route.stops[0].z - program.route.stops[1].z, 0.10, 1e-12);
        EXPECT_TRUE(has(program.text, "G0 X-50.0000 Y-90.0000\n(Measure seat"));
        EXPECT_EQ(program.halts, 4);  // by hand above everything, Z0, the look, the measurement
    }
}

TEST(Files, LengthsInTheControlMakeOneFileASetup) {
    auto job = fixtures::wedge_job();
    job.machine.zero = job::ZeroKept::offsets;
    job.machine.ball = 3;
    job.depth.from = job::DepthFrom::deck;
    job.depth.deck_at = Vec2(0, 30);
    auto s = shaped(job);
    const Cut first = s.plan();
    ASSERT_EQ(files_of(first), (std::vector<std::string>{"program-1-A-first.ngc"}));
    EXPECT_EQ(first.programs[0].route.stops.size(), 2u);
    EXPECT_EQ(first.programs[0].route.zeros.size(), 2u);
    // Both first seats are measured, and both are named with their depths.
    for (const Stop& stop : first.programs[0].route.stops)
        EXPECT_TRUE(has(first.programs[0].text,
                        "(Measure seat " + stop.id + " of head 1: it should have come 0.05 mm deep)"))
            << first.programs[0].text;
    for (const char* words : {"T1 M6\nG43 H1\n(Bring the tool by hand", "look)\nM0\nG43 H1 G1 Z",
                              "T2 M6\nG43 H2\n(Bring the tool by hand"})
        EXPECT_TRUE(has(first.programs[0].text, words)) << first.programs[0].text;
    measure_first(s, 0);
    const Cut second = s.plan();
    ASSERT_EQ(files_of(second), (std::vector<std::string>{"program-1-A.ngc"}));
    EXPECT_EQ(second.programs[0].route.stops.size(), 8u);
    // Trims of both cutters, in a file with one question and a look at the tip.
    s.job.readings.firsts.clear();
    measure_first(s, 0.035);
    const Cut moved = s.plan();
    ASSERT_EQ(files_of(moved), (std::vector<std::string>{"program-1-A.ngc"}));
    for (const char* words : {"Cutter 1: trim +0.0350", "Cutter 2: trim +0.0350", "was taken: look"})
        EXPECT_TRUE(has(moved.programs[0].text, words)) << words;
}

TEST(Files, PartsOfAHeadHaveTheirNames) {
    auto s = shaped(fixtures::wedge_job());
    s.shape.head = "6/1";
    for (auto& read : s.job.readings.guides) read.head = "6/1";
    job::Selection only;
    only.only = {"3I", "4I"};
    EXPECT_EQ(files_of(planned(s, only)), (std::vector<std::string>{"program-6-1-A-2-only3I-4I-first.ngc"}));
    // A blade broke at 3I: nothing is measured good, and no old seat's height is known.
    job::Selection from;
    from.from = "3I";
    const Cut broken = planned(s, from);
    EXPECT_TRUE(broken.programs.empty());
    ASSERT_FALSE(broken.held_back.empty());
    EXPECT_EQ(broken.held_back[0].code, HeldCode::zero_void);
    for (const auto& valve : s.job.head.valves) {
        job::SeatBefore seat;
        seat.head = "6/1";
        seat.valve = valve.id;
        seat.recession = 0.25;
        s.job.readings.seats.push_back(seat);
    }
    const Cut anew = planned(s, from);
    ASSERT_EQ(files_of(anew), (std::vector<std::string>{"program-6-1-A-2-from3I-first.ngc"}));
    EXPECT_TRUE(has(anew.programs[0].text, "From 3I on, with a new blade"));
    s.job.dialect.names = job::Dialect::Names::eight_three;
    for (const std::string& name : files_of(s.plan())) EXPECT_LE(name.size(), 12u) << name;
    // The valves stand in the name, so that the file of 3I is not taken for that of 4I.
    s.shape.head = "6";
    for (auto& read : s.job.readings.guides) read.head = "6";
    for (auto& read : s.job.readings.seats) read.head = "6";
    only.only = {"3I"};
    EXPECT_EQ(files_of(planned(s, only)), (std::vector<std::string>{"o6A23If.ngc"}));
    only.only = {"4I"};
    EXPECT_EQ(files_of(planned(s, only)), (std::vector<std::string>{"o6A24If.ngc"}));
}

// A name that two files of one plan come to, as "1/a" and "1-a" do: neither is handed out, and what holds
// them back is on the list.
TEST(Files, TwoFilesOfOneNameAreHeldBack) {
    auto job = fixtures::pent_roof_job();
    job.machine.zero = job::ZeroKept::offsets;  // so that no cutter's number stands in a name
    auto s = shaped(job);
    ASSERT_EQ(s.hold.setups.size(), 2u);
    ASSERT_GE(s.plan().programs.size(), 2u);
    s.hold.setups[0].id = "A/1";
    s.hold.setups[1].id = "a-1";
    const Cut cut = s.plan();
    EXPECT_TRUE(cut.programs.empty());
    ASSERT_EQ(cut.held_back.size(), 2u);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_EQ(cut.held_back[i].setup, s.hold.setups[i].id);
        EXPECT_TRUE(has(spoken(cut.held_back[i].reason), "would both be called"))
            << spoken(cut.held_back[i].reason);
    }
}

// The new blade's first seat is read and the same restart asked for again: its file finishes that seat and
// goes on with what the first file left, whichever seat was first.
TEST(Files, ARestartIsFinishedByItsSecondFile) {
    for (const char* const zero_on : {"", "1I", "2I", "4I"}) {
        auto s = shaped(fixtures::wedge_job());
        if (*zero_on) s.job.depth.zero_on = zero_on;
        for (const auto& valve : s.job.head.valves) {
            job::SeatBefore seat;
            seat.valve = valve.id;
            seat.recession = 0.25;
            s.job.readings.seats.push_back(seat);
        }
        job::Selection from;
        std::vector<std::string> left;  // of the intakes, as the whole head's file cuts them
        for (const Route& route : s.plan().routes)
            for (const Stop& stop : route.stops)
                if (stop.id.back() == 'I') left.push_back(stop.id);
        ASSERT_EQ(left.size(), 4u);
        from.from = left[1];
        left.erase(left.begin());
        const Cut first = planned(s, from);
        ASSERT_EQ(first.programs.size(), 1u);
        const Stop shortened = first.programs[0].route.stops.at(0);
        job::FirstSeat reading;
        reading.valve = shortened.id;
        reading.depth = shortened.depth;
        s.job.readings.firsts.push_back(reading);
        const Cut second = planned(s, from);
        ASSERT_EQ(second.programs.size(), 1u) << zero_on;
        const Route& route = second.programs[0].route;
        EXPECT_EQ(route.part, FilePart::rest);
        EXPECT_EQ(route.stops.front().id, shortened.id);
        std::vector<std::string> ids;
        for (const Stop& stop : route.stops) ids.push_back(stop.id);
        std::sort(ids.begin(), ids.end());
        std::sort(left.begin(), left.end());
        EXPECT_EQ(ids, left) << zero_on;
    }
}

// Two seats, the blade broke at the first of them and Z0 is taken on the other: that one is cut short first,
// since the begun seat tells nothing, and finished last.
TEST(Files, TheTouchedSeatCutShortForWantOfAnotherIsFinishedLast) {
    auto s = shaped(fixtures::wedge_job(2));
    s.job.depth.zero_on = "1I";
    for (const auto& valve : s.job.head.valves) {
        job::SeatBefore seat;
        seat.valve = valve.id;
        seat.recession = 0.25;
        s.job.readings.seats.push_back(seat);
    }
    job::Selection from;
    from.from = "2I";
    const Cut first = planned(s, from);
    ASSERT_EQ(first.programs.size(), 1u);
    ASSERT_EQ(first.programs[0].route.stops.at(0).id, "1I");
    job::FirstSeat reading;
    reading.valve = "1I";
    reading.depth = first.programs[0].route.stops[0].depth;
    s.job.readings.firsts.push_back(reading);
    const Cut second = planned(s, from);
    ASSERT_EQ(second.programs.size(), 1u);
    ASSERT_EQ(second.programs[0].route.stops.size(), 2u);
    EXPECT_EQ(second.programs[0].route.stops[0].id, "2I");
    EXPECT_EQ(second.programs[0].route.stops[1].id, "1I");
}

// A file that may not be handed out leaves its reason and the key that frees it with what is held back.
TEST(Files, TravelThatDoesNotSufficeIsHeldBackByItsKey) {
    auto s = shaped(fixtures::wedge_job());
    s.job.machine.travel_x = 1250;
    s.job.machine.load_at = Vec2(5000, -140);
    const auto held = [&] {
        const Cut cut = s.plan();
        EXPECT_TRUE(cut.programs.empty());
        EXPECT_EQ(cut.held_back.size(), 1u);
        return cut.held_back.empty() ? HeldBack{} : cut.held_back[0];
    };
    EXPECT_EQ(held().code, HeldCode::travel);
    EXPECT_EQ(spoken(held().frees), "machine.load_at");
    s.job.machine.load_at.reset();
    s.job.machine.travel_z = 60;
    EXPECT_EQ(held().code, HeldCode::travel);
    EXPECT_EQ(spoken(held().frees), "machine.travel_z");
    s.job.machine.travel_z.reset();
    EXPECT_EQ(s.plan().programs.size(), 2u);
}

// Measured after cutting: it counts as cut, is no first seat, nothing is touched on it, and it has no stop.
TEST(Files, ASeatMeasuredAfterCuttingIsNotCutAgain) {
    auto s = shaped(fixtures::wedge_job());
    const auto cuts = [](const Cut& cut, const std::string& id) {
        for (const Route& route : cut.routes)
            for (const Stop& stop : route.stops)
                if (stop.id == id) return true;
        return false;
    };
    const std::string first = s.plan().programs.at(0).route.stops.at(0).id;
    ASSERT_TRUE(cuts(s.plan(), first));
    job::SeatAfter after;
    after.head = "1";
    after.valve = first;
    after.stem_height = 47.6;
    s.job.readings.proofs.push_back(after);
    const Cut cut = s.plan();
    EXPECT_FALSE(cuts(cut, first));
    ASSERT_EQ(cut.programs.size(), 2u);
    for (std::size_t i = 0; i < cut.seats.size(); ++i)
        EXPECT_EQ(cut.seats[i].program_z.has_value(), s.job.head.valves[cut.seats[i].valve].id != first);
    s.job.depth.zero_on = first;
    const Cut zero_gone = s.plan();
    ASSERT_FALSE(zero_gone.held_back.empty());
    EXPECT_EQ(zero_gone.held_back[0].code, HeldCode::zero_void);
}

// A lead lets a seat pass that already stands below its finished height: the blade turns in air over it.
TEST(Files, BelowFinishAllowedIsWrittenAndOneNotAllowedIsNotRun) {
    auto s = shaped(fixtures::wedge_job());
    job::SeatBefore seat;
    seat.valve = "1I";
    seat.recession = 0.25;
    s.job.readings.seats.push_back(seat);
    const auto fault = [&] {
        Expected expected = expected_in({s.job, s.hold, s.find, s.shape}, s.hold.setups[0]);
        const ExpectedSeat& one = *expected.seat(*s.job.head.index_of("1I"));
        const Between between = stop_between(one, 0);
        return one.m - 0.20 > between.most;
    };
    EXPECT_TRUE(fault());
    s.job.allow = {{"below finish 1I", "the customer's wish", "lead", 1}};
    EXPECT_FALSE(fault());
}

TEST(Files, WhatIsHeldBackIsInADraftAloneAndThatCannotRun) {
    auto job = fixtures::wedge_job();
    job.machine.travel_x = 300;  // less than the row
    const auto s = shaped(job);
    const Cut held = s.plan();
    EXPECT_TRUE(held.programs.empty());
    ASSERT_EQ(held.held_back.size(), 1u);
    EXPECT_EQ(held.held_back[0].code, HeldCode::travel);
    EXPECT_EQ(held.held_back[0].setup, "A");
    EXPECT_FALSE(held.held_back[0].valve);
    job::Selection draft;
    draft.writes = job::Writes::draft;
    const Cut drawn = planned(s, draft);
    ASSERT_EQ(drawn.programs.size(), 2u);
    EXPECT_EQ(drawn.held_back.size(), 1u);
    for (const Program& program : drawn.programs) {
        std::string blocks;  // without comments
        std::istringstream lines(program.text);
        for (std::string line; std::getline(lines, line);)
            if (line[0] != '(') blocks += line + "\n";
        EXPECT_TRUE(blocks.starts_with("M0\nM30\n")) << blocks;
    }
}

// Whatever holds a seat back, the draft has it: no zero, no pilot, a figure lacking, no reading, an insert, a
// cutter that suits no form. Under no program's name.
TEST(Files, ADraftHasEverySeatWhateverHoldsItBack) {
    job::Selection draft;
    draft.writes = job::Writes::draft;
    std::vector<fixtures::Shaped> heads(6, shaped(fixtures::wedge_job()));
    heads[0].job.depth.from = job::DepthFrom::finished;                 // and none is
    for (job::Pilot& pilot : heads[1].job.pilots) pilot.diameter = 5;   // none fits
    for (job::Pilot& pilot : heads[2].job.pilots) pilot.reach.reset();  // a figure that the way needs
    for (shape::Seat& seat : heads[3].shape.seats) {
        seat.decision = seat.valve % 2 == 0 ? shape::Decision::not_measured : shape::Decision::insert;
        seat.depth.reset();
    }
    for (shape::Seat& seat : heads[4].shape.seats) seat.cutter.reset();
    heads[5].job.cut.pilot = job::PilotUse::planted;
    for (job::Cutter& cutter : heads[5].job.cutters) cutter.bore_depth.reset();
    for (std::size_t i = 0; i < heads.size(); ++i) {
        const fixtures::Shaped& s = heads[i];
        const Cut held = s.plan();
        EXPECT_FALSE(held.held_back.empty()) << i;
        EXPECT_TRUE(held.programs.empty()) << i;
        const Cut drawn = planned(s, draft);
        EXPECT_EQ(drawn.held_back.size(), held.held_back.size()) << i;
        std::set<std::string> seats;
        for (const Program& program : drawn.programs) {
            EXPECT_TRUE(has(program.file, "-draft.")) << program.file;
            EXPECT_FALSE(program.checked);
            for (const Stop& stop : program.route.stops) seats.insert(stop.id);
            EXPECT_TRUE(has(program.text, "Held back, here for looking only: ")) << i;
        }
        EXPECT_EQ(seats.size(), s.job.head.valves.size()) << i;
    }
}

TEST(Files, AGuideToBeRepairedIsLeftOutByNameUnlessALeadLetsItPass) {
    auto s = shaped(fixtures::wedge_job());
    s.job.guide.intake->bore_max = 8.74;
    s.job.readings.guides.push_back({s.shape.head, "2I", 8.745, 8.745, 8.745});
    const Cut cut = s.plan();
    ASSERT_EQ(cut.held_back.size(), 1u);
    EXPECT_EQ(cut.held_back[0].code, HeldCode::guide_repair);
    EXPECT_EQ(cut.held_back[0].valve, "2I");
    EXPECT_EQ(cut.held_back[0].setup, "A");
    for (const Route& route : cut.routes)
        for (const Stop& stop : route.stops) EXPECT_NE(stop.id, "2I");
    for (const Program& program : cut.programs)
        EXPECT_TRUE(has(program.text, "(Held back, not in this file: 2I)"));
    s.job.allow.push_back({"guide 2I", "a bush is in", "a lead"});
    EXPECT_TRUE(s.plan().held_back.empty());
}

TEST(Files, CommentsCarryPlainMarksAlone) {
    EXPECT_EQ(comment_words("50 % (of it); a~b! \"c\" #4 [x]"), "50 - -of it-, a-b- -c- -4 -x-");
    EXPECT_EQ(comment_words("1,5 mm: x-y + 2 = 'z' ?"), "1,5 mm: x-y + 2 = 'z' ?");
    EXPECT_EQ(comment_words("3 \xC2\xB5m"), "3 -m");
}

}  // namespace
}  // namespace seatwright::cut
