#include "seatwright/papers/sheet/card.hpp"

#include <algorithm>

#include "seatwright/cut/known.hpp"
#include "seatwright/papers/sheet/seat_lines.hpp"
#include "seatwright/report/typed.hpp"

namespace seatwright::papers {

namespace {

bool is_held_back(const cut::Cut& cut, const std::string& setup, const std::string& valve) {
    return std::any_of(cut.held_back.begin(), cut.held_back.end(), [&](const HeldBack& held) {
        return (held.valve ? *held.valve == valve : held.setup == setup);
    });
}

const cut::Tool* tool_of(const cut::Cut& cut, const shape::Seat& seat) {
    const auto at = std::find_if(cut.tools.begin(), cut.tools.end(), [&](const cut::Tool& tool) {
        return seat.cutter == tool.cutter && seat.blade_setting.value_or(0) == tool.blade_setting;
    });
    return at == cut.tools.end() ? nullptr : &*at;
}

// What the seat is finished by comes first; else the stem height, where one is known, else below the new
// deck: T_drawing − q + f·a_z (working.md B3), the middle of the valve's head face square to the deck.
std::optional<CardTarget> target_of(const job::Job& job, const shape::Seat& seat) {
    const job::Valve& valve = job.head.valves.at(seat.valve);
    const job::SeatForm& form = *job.seat[valve.kind];
    const bool by_deck = form.finish && form.finish->below_deck;
    if (seat.stem_height_after && !by_deck)
        return CardTarget{"stem", *seat.stem_height_after, form.stem_height_min, form.stem_height_max};
    if (seat.finished_recession && form.below_deck)
        return CardTarget{"below deck",
                          *form.below_deck - job.depth.deck_cut + *seat.finished_recession * valve.axis().z(),
                          form.below_deck_min, form.below_deck_max};
    if (seat.depth) return CardTarget{"deeper", *seat.depth, std::nullopt, std::nullopt};
    return std::nullopt;
}

// Where changing a pilot takes the cutter off, what one pilot leads has its own Z0, so its own block.
std::optional<std::size_t> own_pilot(const job::Job& job, const cut::Cut& cut, std::size_t valve) {
    if (job.machine.pilot_change != job::PilotChange::cutter_off || job.cut.pilot == job::PilotUse::planted)
        return std::nullopt;
    for (const cut::SeatCut& seat : cut.seats)
        if (seat.valve == valve) return seat.pilot;
    return std::nullopt;
}

CardBlock& block_for(std::vector<CardBlock>& blocks, const job::Job& job, const std::string& setup,
                     const cut::Tool& tool, const std::optional<std::size_t>& pilot) {
    const auto at = std::find_if(blocks.begin(), blocks.end(), [&](const CardBlock& block) {
        return block.setup == setup && block.cutter == tool.number && block.pilot == pilot;
    });
    if (at != blocks.end()) return *at;
    CardBlock block;
    block.setup = setup;
    block.cutter = tool.number;
    block.name = job.cutters.at(tool.cutter).name;
    block.blade_setting = tool.blade_setting;
    block.pilot = pilot;
    return blocks.emplace_back(std::move(block));
}

// What the programs say of a block: their names, how Z0 is taken, which seat is first.
void add_programs(CardBlock& block, const cut::Cut& cut, const job::Machine& machine) {
    for (const auto& program : cut.programs) {
        const bool cuts =
            std::any_of(program.route.stops.begin(), program.route.stops.end(), [&](const cut::Stop& stop) {
                return std::any_of(block.rows.begin(), block.rows.end(),
                                   [&](const CardRow& row) { return row.valve == stop.valve; });
            });
        if (!cuts || program.setup != block.setup) continue;
        for (const auto& zero : program.route.zeros) {
            if (zero.cutter != block.cutter) continue;
            block.files.push_back(program.file);
            block.measures_first = block.measures_first || program.route.part == cut::FilePart::first;
            block.second_is_there = block.second_is_there || program.route.part == cut::FilePart::rest;
            block.trims_at_control = block.trims_at_control || (program.route.part == cut::FilePart::whole &&
                                                                program.route.measure_after.has_value());
            const auto& words = zero.taken.words;
            if (!words.empty() &&
                std::find(block.zeros.begin(), block.zeros.end(), words) == block.zeros.end())
                block.zeros.push_back(words);
            if (zero.trim != 0) block.trim = zero.trim;
            for (auto& row : block.rows) row.touched = row.touched || zero.taken.valve == row.valve;
        }
        // With lengths kept in the control the first seat of each cutter is cut before the halt.
        const std::size_t firsts = program.route.measure_after ? *program.route.measure_after + 1 : 0;
        for (std::size_t i = 0; i < firsts; ++i) {
            const cut::Stop& stop = program.route.stops.at(i);
            for (auto& row : block.rows) {
                if (row.valve != stop.valve) continue;
                row.first = true;
                row.first_reads = stop.reads;
                if (stop.short_cut) row.first_z = report::typed_z(machine, machine.z_sign * stop.z);
            }
        }
    }
}

}  // namespace

std::vector<CardBlock> card_blocks(const job::Job& job, const plan::Plan& plan) {
    std::vector<CardBlock> blocks;
    int number = 0;
    for (const std::size_t valve : plan.cut.order) {
        const cut::HeldAt at = cut::held_at(plan.hold, valve);
        const shape::Seat& seat = plan.shape.seats.at(valve);
        const job::Valve& drawn = job.head.valves.at(valve);
        const cut::Tool* tool = tool_of(plan.cut, seat);
        const auto& form = job.seat[drawn.kind];
        if (at.held == nullptr || !tool || !form) continue;
        const hold::Setup& setup = plan.hold.setups[at.setup];
        if (is_held_back(plan.cut, setup.id, drawn.id)) continue;
        CardRow row;
        row.number = ++number;
        row.valve = valve;
        row.id = drawn.id;
        row.width = form->width;
        row.width_tol = form->width_tol;
        row.runout_max = form->runout_max;
        row.target = target_of(job, seat);
        if (seat.program_z) row.z = report::typed_z(job.machine, *seat.program_z);
        const SeatLine line = seat_line(job, plan, setup, *at.held);
        row.at = line.at;
        row.pilot = pilot_words(job, line);
        if (line.cut) {
            row.rpm = line.cut->rpm;
            row.feed = line.cut->feed;
        }
        block_for(blocks, job, setup.id, *tool, own_pilot(job, plan.cut, valve))
            .rows.push_back(std::move(row));
    }
    for (auto& block : blocks) add_programs(block, plan.cut, job.machine);
    return blocks;
}

}  // namespace seatwright::papers
