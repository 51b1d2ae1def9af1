// What goes wrong in shops, on the simulated machine (working.md, "Tests worth having"): readings that are
// wrong, a Z0 that is wrong, words that are missing. Each either is caught with a reading or a sentence, or
// errs to the shallow side.
#include <gtest/gtest.h>

#include <random>
#include <regex>

#include "floor.hpp"
#include "generate.hpp"
#include "missing.hpp"
#include "spoken.hpp"

namespace seatwright::sim {
namespace {

constexpr double agreement = 2e-3;

class Scenario : public ::testing::Test {
  protected:
    void SetUp() override {
        const auto found = interpreter_folder();
        if (!found) GTEST_SKIP() << outside::missing(outside::no_interpreter);
        folder_ = *found;
    }

    Work worked(Case c, const Person& person = {},
                const std::function<void(std::string&)>& spoil = {}) const {
        std::vector<Work> works(1);
        works[0].c = std::move(c);
        works[0].person = person;
        works[0].spoil = spoil;
        plan_first(works[0]);
        run_all(works, folder_);
        return std::move(works[0]);
    }

    std::string folder_;
};

// Three cylinders in a row, generous cleanups, everything read and true.
Case plain() {
    Case c = wedge(3, 110, 18);
    c.name = "scenario";
    c.measure_at = P2{-90, -60};
    double recession = 0.2;
    for (Seat& seat : c.seats) {
        seat.recession = seat.recession_read = recession += 0.02;
        seat.cleanup = 0.25;
    }
    return c;
}

std::string said(const Work& work) {
    std::string all;
    for (const std::string& wrong : work.wrong) all += wrong + "\n";
    for (const auto& held : work.plan->cut.held_back)
        all += held.valve.value_or("-") + " " + std::string(word_of(held.code)) + ": " + spoken(held.reason) +
               "\n";
    for (const auto& warning : work.plan->cut.warnings)
        all += warning.code + ": " + spoken(warning.text) + "\n";
    return all;
}

int seats_cut(const Work& work) {
    int count = 0;
    for (const auto& [id, now] : work.left.seats) count += now.cut ? 1 : 0;
    return count;
}

bool holds(const Work& work, HeldCode code) {
    for (const auto& held : work.plan->cut.held_back)
        if (held.code == code) return true;
    return false;
}

void all_as_planned(const Work& work, double within) {
    EXPECT_TRUE(work.wrong.empty()) << said(work);
    EXPECT_EQ(seats_cut(work), static_cast<int>(work.c.seats.size())) << said(work);
    for (const auto& [id, now] : work.left.seats) {
        const auto planned = planned_height(work, id);
        if (now.cut && planned) {
            EXPECT_NEAR(*now.cut, *planned, within) << id << "\n" << said(work);
        }
    }
}

TEST_F(Scenario, ReadingsThatAreTrueComeOutAsPlanned) {
    const Work work = worked(plain());
    all_as_planned(work, agreement);
    EXPECT_EQ(work.measured.size(), 2u);  // one first seat a cutter
    EXPECT_EQ(work.run.size(), 4u);
}

// Z0 was taken on a seat whose recession was read 0.1 too deep: it itself comes out right, the others 0.1
// short, and the first of them says so before they are cut.
TEST_F(Scenario, ARecessionMisreadIsSeenOnTheFirstSeat) {
    Case c = plain();
    c.zero_on = "2E";
    for (Seat& seat : c.seats)
        if (seat.id == "2E") seat.recession_read += 0.10;
    const Work work = worked(c);
    double least = 1;
    for (const auto& [id, depth] : work.measured) least = std::min(least, depth);
    EXPECT_NEAR(least, 0.25 - 0.10 - 0.10, 0.015) << said(work);  // planned, cut short, 0.10 short
    for (const Seat& seat : c.seats)
        if (!seat.intake && seat.id != "2E" && work.left.seats.at(seat.id).cut) {
            EXPECT_NEAR(*work.left.seats.at(seat.id).cut, *planned_height(work, seat.id), 0.011)
                << seat.id << said(work);
        }
}

// Old faces 0.7 wider than the new form and nobody read them: the cutter rests high, so that everything is
// shallow.
TEST_F(Scenario, OldSeatsWiderThanReadEndShallowNeverDeep) {
    for (const bool stop : {true, false}) {
        Case c = plain();
        c.first_stop = stop;
        for (Seat& seat : c.seats) {
            seat.read_face = false;
            seat.outside_wider = seat.inside_wider = 0.5 * 0.7 * std::sqrt(0.5);
        }
        EXPECT_NEAR(true_rest(c, c.seats[0]), 0.1812, 1e-4);  // working.md, B2
        const Work work = worked(c);
        EXPECT_TRUE(work.wrong.empty()) << said(work);
        EXPECT_GT(seats_cut(work), 0);
        for (const auto& [id, now] : work.left.seats) {
            const auto planned = planned_height(work, id);
            if (now.cut && planned) {
                EXPECT_GE(*now.cut, *planned - agreement) << id;
            }
        }
    }
}

// The same error of Z0 under both ways to trim: it is taken out once, not twice and not never.
TEST_F(Scenario, ATrimIsMadeOnceUnderBothWays) {
    for (const bool control : {false, true})
        for (const double error : {0.04, -0.04}) {
            Case c = plain();
            c.trim_at_control = control;
            Person person;
            person.zero_error = error;
            person.trim_at_control = -error;  // as the card says: by e, which is - error
            const Work work = worked(c, person);
            all_as_planned(work, 0.011);
        }
}

// A new blade 0.2 longer and the old Z0 let stand: the first seat, cut short, is 0.1 too deep; no other is
// cut.
TEST_F(Scenario, ABladeChangedWithoutANewZeroStopsAtTheFirstSeat) {
    Person person;
    person.zero_error = -0.2;
    const Work work = worked(plain(), person);
    EXPECT_EQ(seats_cut(work), 2) << said(work);  // one first seat a cutter
    EXPECT_TRUE(holds(work, HeldCode::trim_large)) << said(work);
    for (const auto& [id, now] : work.left.seats)
        if (now.cut) {
            EXPECT_GE(*now.cut, *planned_height(work, id) - 0.1 - agreement) << id;
        }
}

// A guide 8 um tighter than read locks the pilot 16 mm higher: with the slide the job has it is never driven
// solid; with a slide that could be, the seats are held back.
TEST_F(Scenario, AGuideTighterThanReadNeverDrivesTheSlideSolid) {
    Case c = plain();
    c.slide = 35;
    for (Seat& seat : c.seats) seat.bore = seat.bore_read + 0.008 - 0.016;
    all_as_planned(worked(c), agreement);
    c.slide = 20;
    const Work held = worked(c);
    EXPECT_EQ(seats_cut(held), 0);
    EXPECT_TRUE(holds(held, HeldCode::pilot_window)) << said(held);
}

// What the machine would do with a program that the read-back refuses: the simulation is not blind.
TEST_F(Scenario, SpoiltProgramsAreSeenByTheMachine) {
    const auto drop = [](const char* pattern) {
        return [pattern](std::string& text) { text = std::regex_replace(text, std::regex(pattern), ""); };
    };
    const auto swap = [](const char* pattern, const char* with) {
        return [pattern, with](std::string& text) {
            text = std::regex_replace(text, std::regex(pattern), with);
        };
    };
    struct Spoilt {
        const char* what;
        std::function<void(std::string&)> how;
        const char* seen;
    };
    const Spoilt spoilt[] = {
        {"float word missing before going across", drop("\nM64 P1\n"), "float loose"},
        {"float not freed", drop("\nM62 P1(?=\n)"), "float held"},
        {"no slow way after a halt", drop("\nG1 Z1[0-9.]+ F300.00(?=\n[(]valve)"), "after a halt is fast"},
        {"rapid out of the guide", swap("G1 (Z[0-9]+\\.[0-9]+) F300.00\nM64", "G0 $1\nM64"),
         "a rapid with the pilot"},
        {"spindle not started", drop("\nS[0-9]+ M3(?=\n)"), "standing still"},
        {"spindle not stopped", drop("\nM5(?=\n)"), "turning"},
        {"started before the guide", swap("\nM62 P1\nG1", "\nM62 P1\nS100 M3\nG1"), "turning"},
        {"no wait", drop("\nG4 P2.00(?=\nG1 Z-?[0-9.]+ F[0-9][0-9]?\\.)"), "up to speed"},
        {"goes in fast", swap("(G1 Z1\\.[0-9]+) F300", "$1 F900"), "goes in fast"},
        {"another place", swap("G0 X[1-9][0-9.]+", "G0 X50.0000"), "no guide is"},
        {"Z0 not asked for", drop("\\(Z0 of cutter [^\n]*\\?\\)\n"), "asked for Z0"},
        {"approach too low", swap("G1 Z1\\.[0-9]+ F300", "G1 Z-1.0000 F300"), "standing still"},
    };
    for (const Spoilt& s : spoilt) {
        const Work work = worked(plain(), {}, s.how);
        EXPECT_NE(said(work).find(s.seen), std::string::npos) << s.what << "\n" << said(work);
    }
}

// Two sizes of pilot on one head. The person changes them only at a halt that says so.
TEST_F(Scenario, TwoPilotsAreChangedWhereTheFileSaysSo) {
    Case c = plain();
    c.pilots.push_back({"two", 8.71 + reamed, 2});
    for (Seat& seat : c.seats) {
        seat.large = seat.id[0] == '2';
        if (seat.large) seat.bore = seat.bore_read = seat.bore + reamed;
    }
    const Work sound = worked(c);
    EXPECT_TRUE(sound.wrong.empty()) << said(sound);
    EXPECT_EQ(seats_cut(sound), 6);
    EXPECT_GE(sound.pilots_put, 4);
    const auto swap = [](const char* pattern, const char* with) {
        return [pattern, with](std::string& text) {
            text = std::regex_replace(text, std::regex(pattern), with);
        };
    };
    struct Spoilt {
        const char* what;
        std::function<void(std::string&)> how;
        const char* seen;
    };
    const Spoilt spoilt[] = {
        {"not put in", swap("\\(Put pilot two in cutter [12]\\)\nM0\n", ""), "is reached with pilot one"},
        {"not put in", swap("\\(Put pilot one in cutter [12]\\)\nM0\n", ""), "is reached with pilot two"},
        {"the other one", swap("Put pilot two", "Put pilot one"), "is reached with pilot one"},
        {"over the head", swap("G0 X[-0-9.]+ Y[-0-9.]+\n(?=\\(Put)", ""), "over the head"},
        {"for Z0 the other one", swap("For Z0 pilot (one|two)", "For Z0 pilot none"), "there is no pilot"},
    };
    for (const Spoilt& s : spoilt) {
        const Work work = worked(c, {}, s.how);
        EXPECT_NE(said(work).find(s.seen), std::string::npos) << s.what << "\n" << said(work);
    }
    // Where the change takes the cutter off each pilot has its own Z0, and none is asked for in a file.
    c.cutter_off = true;
    const Work off = worked(c);
    EXPECT_TRUE(off.wrong.empty()) << said(off);
    EXPECT_EQ(seats_cut(off), 6);
    EXPECT_EQ(off.pilots_put, 0);
    EXPECT_GT(off.run.size(), sound.run.size());
    const auto one_z0 = [](std::string& text) {
        text = std::regex_replace(text, std::regex("taken on [0-9]([EI])"), "taken on 1$1");
    };
    EXPECT_NE(said(worked(c, {}, one_z0)).find("does not go into guide 1"), std::string::npos);
}

// Z0 set 4 mm too low: the tool stands 4 mm lower over the deck than the file says, and a person who looks
// stops it there. A Z0 as the file asks is never stopped.
TEST_F(Scenario, AZeroFarOffIsSeenByLookingAtTheTip) {
    for (const double error : {0.0, -4.0}) {
        Person person;
        person.looks = true;
        person.zero_error = error;
        const Work work = worked(plain(), person);
        EXPECT_EQ(work.stopped, error != 0) << said(work);
        EXPECT_EQ(seats_cut(work), error == 0 ? 6 : 0) << said(work);
    }
}

// A block forgotten under the blade, or the last cutter's Z0: whatever it comes to, no move of the file has
// gone anywhere on it before the person looked.
TEST_F(Scenario, NoMoveGoesDownOnAZeroThatNobodyLookedAt) {
    for (const bool offsets : {false, true})
        for (const double error : {-4.0, -9.0, -25.0, -80.0}) {
            Case c = plain();
            c.offsets = offsets;
            if (offsets) c.zero = ZeroBy::ball;
            Person person;
            person.looks = true;
            person.zero_error = error;
            const Work work = worked(c, person);
            EXPECT_TRUE(work.stopped) << error;
            EXPECT_EQ(seats_cut(work), 0);
            EXPECT_TRUE(work.wrong.empty()) << error << (offsets ? ", offsets" : "") << "\n" << said(work);
        }
}

TEST_F(Scenario, AHeightPlanWithoutAnySeatReadingGivesAProgram) {
    Case c = plain();
    c.to_height = true;
    c.finish = 0.6;
    c.zero = ZeroBy::ball;
    c.offsets = true;
    for (Seat& seat : c.seats) {
        seat.read_height = seat.read_face = false;
        seat.cleanup.reset();
    }
    const Work work = worked(c);
    all_as_planned(work, agreement);
}

// One new ring in 3I, nothing else read: the form meets the ring's flat top 2.5 over where it ends, and the
// spindle turns before it does.
TEST_F(Scenario, OneNewRingAloneIsCutToItsHeight) {
    Case c = plain();
    c.to_height = true;
    c.finish = 0.2;
    c.zero = ZeroBy::ball;
    c.offsets = true;
    for (Seat& seat : c.seats) {
        seat.read_height = seat.read_face = false;
        seat.cleanup.reset();
        if (seat.id != "3I") continue;
        seat.recession = 0;
        seat.ring_top = 0.4;
    }
    EXPECT_GT(true_rest(c, c.seat("3I")), 2);
    std::vector<Work> works(1);
    works[0].c = c;
    works[0].selection.only = {"3I"};
    plan_first(works[0]);
    run_all(works, folder_);
    const Work& work = works[0];
    EXPECT_TRUE(work.wrong.empty()) << said(work);
    EXPECT_EQ(seats_cut(work), 1) << said(work);
    ASSERT_TRUE(work.left.seats.count("3I")) << said(work);
    EXPECT_NEAR(work.left.seats.at("3I").cut.value_or(0), -c.finish, agreement) << said(work);
}

// Forty heads to one height from the deck; one seat of the first head was read, none of the others.
TEST_F(Scenario, ABatchOfFortyWithOneReading) {
    std::vector<Work> works;
    std::mt19937 random(40);
    for (int head = 1; head <= 40; ++head) {
        Case c = plain();
        c.head = std::to_string(head);
        c.to_height = true;
        c.finish = 0.6;
        c.zero = ZeroBy::ball;
        c.offsets = true;
        for (Seat& seat : c.seats) {
            seat.recession = std::uniform_real_distribution<double>(0.05, 0.4)(random);
            seat.stray = {std::uniform_real_distribution<double>(-0.06, 0.06)(random), 0};
            seat.read_height = seat.read_face = false;
            seat.cleanup.reset();
        }
        c.extra.push_back("[[reading.seat]]\nhead = \"1\"\nvalve = \"2E\"\nrecession = 0.25\n");
        if (head == 1) c.seats[2].recession = 0.25;
        works.emplace_back();
        works.back().c = std::move(c);
        plan_first(works.back());
    }
    run_all(works, folder_);
    ASSERT_EQ(works.size(), 40u);
    for (const Work& work : works) all_as_planned(work, agreement);
}

}  // namespace
}  // namespace seatwright::sim
