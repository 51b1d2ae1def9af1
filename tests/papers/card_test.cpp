// The work card: rows in cutting order, targets a person can gauge, nothing that is held back.
#include "seatwright/papers/sheet/card.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "first_read.hpp"
#include "job_fixtures.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/sheet/sheet.hpp"
#include "seatwright/plan/walk.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {
namespace {

// The invented wedge head, touched where it lies.
job::Job touched(double incline_deg = 19.5, int cylinders = 4) {
    job::Job job = fixtures::wedge_job(cylinders, 112, incline_deg);
    const hold::Hold held = hold::plan(job);
    for (const auto& valve : held.setups.at(0).valves)
        job.readings.touches.push_back({.valve = job.head.valves[valve.valve].id, .at = valve.readout});
    return job;
}

std::string all_pages(const job::Job& job, const plan::Plan& plan) {
    std::string all;
    for (const auto& page : setup_sheet(job, plan, {a4, LengthUnit::mm})) all += page;
    return all;
}

// The words of pages, without how they are drawn, each drawn line between blanks.
struct Placed {
    double x = 0, y = 0, size = 0, width = 0;
    std::string words;
};
std::vector<Placed> placed_words(const std::string& page) {
    static const std::regex text(
        R"re(<text x="([^"]*)" y="([^"]*)" font-size="([^"]*)" text-anchor="start"[^>]*?(font-weight="bold")?>([^<]*)</text>)re");
    std::vector<Placed> out;
    for (std::sregex_iterator at(page.begin(), page.end(), text), end; at != end; ++at) {
        Placed one{std::stod((*at)[1]), std::stod((*at)[2]), std::stod((*at)[3]), 0, (*at)[5]};
        one.width = words_width(one.words, one.size, (*at)[4].matched ? Face::bold : Face::plain);
        out.push_back(std::move(one));
    }
    return out;
}
std::string words_of(const std::string& pages) {
    static const std::regex text(R"re(<text [^>]*>([^<]*)</text>)re");
    std::string out = " ";
    for (std::sregex_iterator at(pages.begin(), pages.end(), text), end; at != end; ++at)
        out += (*at)[1].str() + " ";
    return out;
}

// The screen leads through the same steps in the same words (plan/walk.hpp).
TEST(WorkCard, HasTheHeadStepByStepAsTheScreenHas) {
    const auto job = touched();
    const auto plan = plan::make_plan(job);
    const auto walk = plan::walk_of(job, plan, "1");
    ASSERT_GT(walk.size(), 8u);
    const std::string words = words_of(all_pages(job, plan));
    std::size_t at = 0;
    for (const auto& step : walk) {
        const std::string said = in_words(step.words, Speech{});
        const std::size_t found = words.find(said, at);
        EXPECT_NE(found, std::string::npos) << said;
        if (found != std::string::npos) at = found;
    }
}

TEST(WorkCard, RowsStandInCuttingOrderTheFirstSeatFirstAndTheTouchedOneLast) {
    const auto job = touched();
    const auto plan = plan::make_plan(job);
    const auto blocks = card_blocks(job, plan);
    ASSERT_EQ(blocks.size(), 2u);
    int number = 0;
    for (const auto& block : blocks) {
        ASSERT_EQ(block.rows.size(), 4u);
        EXPECT_TRUE(block.rows.front().first) << block.rows.front().id;
        EXPECT_TRUE(block.rows.back().touched) << block.rows.back().id;
        for (const auto& row : block.rows) EXPECT_EQ(row.number, ++number);
        ASSERT_EQ(block.files.size(), 1u);
        EXPECT_NE(block.files.front().find("-first"), std::string::npos);
        ASSERT_EQ(block.zeros.size(), 1u);
    }
    EXPECT_NE(blocks[0].files.front(), blocks[1].files.front());
}

// Where a pilot change takes the cutter off, each pilot's seats have a Z0, files and a trim of their own.
TEST(WorkCard, EachPilotHasItsBlockWhereChangingItTakesTheCutterOff) {
    auto job = touched();
    for (const auto& valve : job.head.valves) {
        const double bore = valve.id[0] <= '2' ? 8.735 : 8.715;
        job.readings.guides.push_back({"1", valve.id, bore, bore, bore});
    }
    EXPECT_EQ(card_blocks(job, plan::make_plan(job)).size(), 2u);
    job.machine.pilot_change = job::PilotChange::cutter_off;
    const auto plan = plan::make_plan(job);
    ASSERT_EQ(plan.cut.programs.size(), 4u);
    const auto blocks = card_blocks(job, plan);
    ASSERT_EQ(blocks.size(), 4u);
    int number = 0;
    for (const auto& block : blocks) {
        ASSERT_EQ(block.files.size(), 1u);
        ASSERT_EQ(block.zeros.size(), 1u);
        ASSERT_EQ(block.rows.size(), 2u);
        for (const auto& row : block.rows) {
            EXPECT_EQ(row.number, ++number);
            EXPECT_EQ(row.pilot, block.rows[0].pilot);
        }
        EXPECT_TRUE(block.rows[1].touched);
        const std::string zero = in_words(block.zeros[0], {});
        EXPECT_NE(zero.find("on " + block.rows[1].id), std::string::npos) << zero;
    }
    EXPECT_NE(blocks[0].rows[0].pilot, blocks[1].rows[0].pilot);
    EXPECT_EQ(blocks[0].cutter, blocks[1].cutter);
}

// Who stands by what looks odd, and since when, is read at the machine.
TEST(WorkCard, WhatSomebodyStandsByIsOnTheSheetWithWhoAndWhen) {
    auto job = touched();
    EXPECT_EQ(all_pages(job, plan::make_plan(job)).find("Odd, and said to be right"), std::string::npos);
    job.sure.push_back({"head.valve.1I.z = -8 mm", 1, LengthUnit::mm, "Mia, 2026-01-31"});
    job.readings.touches.front().keep = true;
    job.readings.touches.front().by = "Zoe";
    job.readings.touches.front().date = "2026-02-01";
    job.readings.touches.push_back(job.readings.touches.front());
    job.readings.touches.back().head = "another";
    job.readings.touches.back().by = "Ute";
    const std::string all = all_pages(job, plan::make_plan(job, "1"));
    EXPECT_NE(all.find("Odd, and said to be right"), std::string::npos);
    EXPECT_NE(all.find("8 mm (Mia, 2026-01-31)"), std::string::npos);
    EXPECT_NE(all.find("stands by it (Zoe, 2026-02-01)"), std::string::npos);
    EXPECT_EQ(all.find("Ute"), std::string::npos);
}

// After a broken blade the list of what is cut, begun and left stands before the rows, not on what may stay
// off the machine; and words that every file begins with are tried by hand once.
TEST(WorkCard, ABrokenBladesListAndTheWordsOfTheTopStandAtTheMachine) {
    auto job = touched();
    job.dialect.top = "G53 G0 Z0";
    const std::string whole = all_pages(job, plan::make_plan(job));
    EXPECT_EQ(whole.find("After the broken blade"), std::string::npos);
    EXPECT_NE(whole.find("G53 G0 Z0"), std::string::npos);
    job::Selection from;
    from.from = "3I";
    const std::string rest = all_pages(job, plan::make_plan(job, "1", from));
    const auto list = rest.find("After the broken blade");
    ASSERT_NE(list, std::string::npos);
    EXPECT_LT(list, rest.find("What follows may stay off the machine"));
    EXPECT_LT(list, rest.find("as measured"));
}

TEST(WorkCard, WhatIsHeldBackIsInNoRowAndOnTheSheetByName) {
    auto job = touched();
    job.readings.guides.push_back({.valve = "3I", .top = 8.95, .middle = 8.90, .bottom = 8.95});
    job.guide.intake->bore_max = 8.83;
    const auto plan = plan::make_plan(job);
    ASSERT_FALSE(plan.cut.held_back.empty());
    for (const auto& block : card_blocks(job, plan))
        for (const auto& row : block.rows) EXPECT_NE(row.id, "3I");
    const std::string all = all_pages(job, plan);
    EXPECT_NE(all.find("Held back: in no program"), std::string::npos);
    EXPECT_NE(all.find("3I: "), std::string::npos);
}

// The program was checked with the pilots cut chose, the fewest that serve all guides: the card names those.
TEST(WorkCard, NamesThePilotsTheProgramsAskFor) {
    const auto job = touched();
    const auto plan = plan::make_plan(job);
    int rows = 0;
    for (const auto& block : card_blocks(job, plan))
        for (const auto& row : block.rows)
            for (const auto& seat : plan.cut.seats)
                if (seat.valve == row.valve) {
                    ASSERT_TRUE(seat.pilot) << row.id;
                    EXPECT_EQ(row.pilot, job.pilots[*seat.pilot].name) << row.id;
                    ++rows;
                }
    EXPECT_EQ(rows, 8);
}

TEST(WorkCard, ATrimAtTheControlSaysWhichWayZ0Moves) {
    auto job = touched();
    job.machine.trim = job::TrimAt::control;
    const std::string all = all_pages(job, plan::make_plan(job));
    EXPECT_NE(all.find("deeper than planned by e: set Z0 up by e"), std::string::npos);
}

// What a readout counts downwards is typed the other way round; a length in the control is not Z0.
TEST(WorkCard, ATrimAtTheControlSaysWhatToType) {
    auto job = touched();
    job.machine.trim = job::TrimAt::control;
    const auto said = [&] { return words_of(all_pages(job, plan::make_plan(job))); };
    EXPECT_NE(said().find("type the Z shown less e as its new Z"), std::string::npos) << said();
    job.machine.z_sign = -1;
    EXPECT_NE(said().find("type the Z shown plus e as its new Z"), std::string::npos);
    job.machine.zero = job::ZeroKept::offsets;
    job.machine.z_sign = 1;
    EXPECT_NE(said().find("add e to the length of cutter 1 (H1)"), std::string::npos) << said();
}

// One file of a setup cuts the first seat of each cutter before it ends: each block says so.
TEST(WorkCard, EachCuttersFirstSeatIsNamedWhereOneFileCutsBoth) {
    auto job = touched();
    job.machine.zero = job::ZeroKept::offsets;
    for (const auto& valve : job.head.valves)
        job.readings.seats.push_back({.valve = valve.id, .recession = 0.1, .cleanup = 0.15});
    const auto plan = plan::make_plan(job);
    ASSERT_EQ(plan.cut.programs.size(), 1u);
    const auto blocks = card_blocks(job, plan);
    ASSERT_EQ(blocks.size(), 2u);
    const std::string said = words_of(all_pages(job, plan));
    for (const auto& block : blocks) {
        EXPECT_TRUE(block.rows.front().first) << block.rows.front().id;
        EXPECT_NE(said.find("Then measure " + block.rows.front().id + ", planned "), std::string::npos);
    }
}

// No words over others: typed by hand the first cut has a Z of its own beside its place and tolerance.
TEST(WorkCard, NothingIsPrintedOverAnotherWord) {
    for (const auto runs : {job::Runs::file, job::Runs::hand})
        for (const auto unit : {LengthUnit::mm, LengthUnit::inch}) {
            auto job = touched();
            job.machine.runs = runs;
            for (const auto& valve : job.head.valves)
                job.readings.seats.push_back({.valve = valve.id, .recession = 0.1, .cleanup = 0.15});
            int cards = 0;
            for (const auto& page : setup_sheet(job, plan::make_plan(job), {a4, unit})) {
                if (page.find("as measured") == std::string::npos) continue;
                ++cards;
                const auto words = placed_words(page);
                for (const Placed& one : words)
                    for (const Placed& other : words) {
                        const bool beside = &one != &other && std::abs(one.y - other.y) < 0.5 * one.size;
                        EXPECT_FALSE(beside && one.x <= other.x && other.x < one.x + one.width)
                            << one.words << " / " << other.words;
                    }
            }
            EXPECT_GE(cards, 1);
        }
}

// With Z0 on an old seat the sheet's table has the stops of the card, the cutter's rest in them, and calls
// them so.
TEST(WorkCard, TheSheetsTableHasTheZOfTheCard) {
    auto job = touched(19.5, 2);
    for (const auto& valve : job.head.valves) {
        const bool intake = valve.kind == job::Kind::intake;
        job.readings.seats.push_back({.valve = valve.id, .recession = 0.1, .cleanup = 0.15});
        job.readings.seats.back().face_outside = intake ? 44.6 : 38.2;  // wider than the form: κ is not 0
        job.readings.seats.back().face_width = 2.0;
    }
    const auto plan = plan::make_plan(job);
    const std::string said = words_of(all_pages(job, plan));
    EXPECT_EQ(said.find("Z from touch"), std::string::npos);
    EXPECT_NE(said.find("program Z"), std::string::npos) << said;
    int seen = 0;
    for (const auto& block : card_blocks(job, plan))
        for (const auto& row : block.rows) {
            ASSERT_TRUE(row.z) << row.id;
            const std::string z = fmt::format(" {:.3f} ", *row.z);
            std::size_t alone = 0;  // in a cell of its own
            for (std::size_t at = said.find(z); at != std::string::npos; at = said.find(z, at + 1)) ++alone;
            EXPECT_GE(alone, 1u) << row.id << z;
            ++seen;
        }
    EXPECT_EQ(seen, 4);
}

// The first cut is short: what is typed for it, and what the gauge then reads, stand in its row.
TEST(WorkCard, TheFirstSeatHasItsShortStopBesideItsOwn) {
    for (const auto runs : {job::Runs::file, job::Runs::hand}) {
        auto job = touched();
        job.machine.runs = runs;
        for (const auto& valve : job.head.valves)
            job.readings.seats.push_back({.valve = valve.id, .recession = 0.1, .cleanup = 0.15});
        const auto plan = plan::make_plan(job);
        int firsts = 0;
        for (const auto& block : card_blocks(job, plan))
            for (const auto& row : block.rows) {
                EXPECT_EQ(row.first, row.first_z.has_value()) << row.id;
                if (!row.first_z) continue;
                ++firsts;
                ASSERT_TRUE(row.z);
                EXPECT_EQ(row.first_reads.by, cut::ShallRead::By::depth);
                EXPECT_GT(*row.first_z, *row.z);
                const std::string all = all_pages(job, plan);
                const std::string planned = fmt::format("planned {:.3f} mm deep", row.first_reads.value);
                const std::string stop =
                    runs == job::Runs::hand
                        ? fmt::format("first Z {:.3f}: {:.3f} deep", *row.first_z, row.first_reads.value)
                        : fmt::format("first {:.3f}", *row.first_z);
                EXPECT_NE(all.find(planned), std::string::npos) << planned;
                EXPECT_NE(all.find(stop), std::string::npos) << stop;
            }
        EXPECT_EQ(firsts, 2);
    }
}

// working.md B3: parallel diesel, T_drawing 1.00, wanted 1.10 below the new deck, q 0.20, upright guide.
TEST(WorkCard, ATargetBelowTheDeckIsThatOfTheNewDeck) {
    auto job = touched(0);
    job.sure.push_back({"head.lies = as declared", 1});  // upright, it might lie end for end
    for (const auto kind : job::both_kinds) {
        job.seat[kind]->below_deck = 1.00;
        job.seat[kind]->below_deck_max = 1.62;
        job.seat[kind]->finish = job::Finish{std::nullopt, 1.10, std::nullopt};
    }
    job.depth.to = job::DepthTo::height;
    job.depth.deck_cut = 0.20;
    const auto plan = plan::make_plan(job);
    const auto blocks = card_blocks(job, plan);
    ASSERT_FALSE(blocks.empty());
    for (const auto& block : blocks)
        for (const auto& row : block.rows) {
            ASSERT_TRUE(row.target) << row.id;
            EXPECT_EQ(row.target->what, "below deck");
            EXPECT_NEAR(row.target->value, 1.10, 0.006) << row.id;  // whole steps of 0.01
            EXPECT_EQ(row.target->high, 1.62);
        }
    // Before the first cut, on the card and in the file, since such a first seat would not show it.
    EXPECT_NE(all_pages(job, plan).find("0.200 mm is off the deck already"), std::string::npos);
    ASSERT_FALSE(plan.cut.programs.empty());
    for (const auto& program : plan.cut.programs) {
        bool by_deck = false;
        for (const auto& stop : program.route.stops)
            by_deck = by_deck || (stop.short_cut && stop.reads.by == cut::ShallRead::By::below_deck);
        EXPECT_EQ(program.text.find("0.2 mm off the deck already?") != std::string::npos, by_deck)
            << program.file;
    }
}

// The second file goes by what was read after the first: whether that was a file of this plan is looked at.
TEST(WorkCard, TheFileThatCutAFirstSeatHasTheMarkOfThisSheet) {
    auto job = touched();
    for (const auto& valve : job.head.valves)
        job.readings.seats.push_back({.valve = valve.id, .recession = 0.2, .cleanup = 0.1});
    const auto before = plan::make_plan(job);
    EXPECT_EQ(all_pages(job, before).find("has the mark of this sheet"), std::string::npos);
    const auto firsts = fixtures::firsts_as_planned(before);
    ASSERT_FALSE(firsts.empty());
    for (const auto& reading : firsts) job.readings.firsts.push_back(reading);
    const auto plan = plan::make_plan(job);
    EXPECT_EQ(plan.selection.digest, before.selection.digest);
    EXPECT_NE(all_pages(job, plan).find("has the mark of this sheet, " + plan.selection.digest),
              std::string::npos);
    for (auto& reading : job.readings.firsts)
        reading.planned = reading.depth         ? reading.depth
                          : reading.stem_height ? reading.stem_height
                                                : reading.below_deck;
    EXPECT_EQ(all_pages(job, plan::make_plan(job)).find("has the mark of this sheet"), std::string::npos);
}

TEST(WorkCard, TheSheetHasFileZeroMarkAndRoomToWrite) {
    auto job = touched();
    const auto plan = plan::make_plan(job);
    const std::string all = all_pages(job, plan);
    for (const std::string words : {"program-1-A-1-first.ngc", "program-1-A-2-first.ngc", "as measured",
                                    "type its depth", "What follows may stay off the machine"})
        EXPECT_NE(all.find(words), std::string::npos) << words;
    EXPECT_EQ(plan.selection.digest.size(), 8u);
    EXPECT_NE(all.find(plan.selection.digest), std::string::npos);
    for (const auto& program : plan.cut.programs)
        EXPECT_NE(program.text.find(plan.selection.digest), std::string::npos) << program.file;
    job.machine.runs = job::Runs::hand;
    const auto by_hand = plan::make_plan(job);
    EXPECT_NE(all_pages(job, by_hand).find("type these"), std::string::npos);
    // On the readout's step, as X and Y are.
    job.machine.resolution = 0.005;
    for (const auto& block : card_blocks(job, plan::make_plan(job)))
        for (const auto& row : block.rows)
            EXPECT_NEAR(*row.z / 0.005, std::round(*row.z / 0.005), 1e-6) << row.id << " " << *row.z;
}

}  // namespace
}  // namespace seatwright::papers
