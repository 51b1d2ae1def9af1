#include "seatwright/cut/sequence.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

// Two blade settings closer than this are the same setting, mm.
constexpr double same_setting = 1e-6;

std::size_t tool_of(std::vector<Tool>& tools, std::size_t cutter, double setting) {
    for (std::size_t t = 0; t < tools.size(); ++t)
        if (tools[t].cutter == cutter && std::abs(tools[t].blade_setting - setting) < same_setting) return t;
    tools.push_back({cutter, setting, static_cast<int>(tools.size()) + 1});
    return tools.size() - 1;
}

}  // namespace

Sequence sequence_seats(const job::Job& job, const hold::Hold& hold, const shape::Shape& shape,
                        const SeatPlan& plan) {
    Sequence sequence;
    std::vector<Group> groups;
    std::vector<std::vector<std::size_t>> members;
    std::vector<std::string> no_cutter, no_depth;
    for (std::size_t i = 0; i < plan.seats.size(); ++i) {
        const shape::Seat& seat = shape.seats[plan.shaped[i]];
        const HeldAt at = held_at(hold, seat.valve);
        const std::string& id = job.head.valves.at(seat.valve).id;
        if (!seat.cutter) no_cutter.push_back(id);
        const bool has_stop = seat.stop_s || seat.depth;
        if (seat.cutter && !has_stop) no_depth.push_back(id);
        if (!seat.cutter || !has_stop || at.held == nullptr) continue;
        const std::size_t tool =
            tool_of(sequence.tools, *seat.cutter, seat.blade_setting.value_or(seat.section.gauge));
        auto group = std::find_if(groups.begin(), groups.end(),
                                  [&](const Group& g) { return g.setup == at.setup && g.tool == tool; });
        if (group == groups.end()) {
            group = groups.insert(groups.end(), {at.setup, tool, {}});
            members.emplace_back();
        }
        group->seats.push_back(at.held->readout);
        members[static_cast<std::size_t>(group - groups.begin())].push_back(i);
    }
    const auto left_out = [&](const char* code, const std::vector<std::string>& ids, const Sentence& why,
                              Severity severity) {
        if (ids.empty()) return;
        const Sentence text = sentence<"left-out">("seats"_is = list_of(ids), "why"_is = why);
        sequence.warnings.push_back({"cut", code, std::nullopt, text, severity});
    };
    left_out("no-cutter", no_cutter, sentence<"left-out-no-cutter">(), Severity::blocking);
    left_out("no-depth", no_depth, sentence<"left-out-no-depth">(), Severity::note);

    const Order order = best_order(groups);
    sequence.changes = order.changes;
    sequence.path = order.length;
    sequence.path_bound = order.length_bound;
    for (const Visit& visit : order.visits)
        sequence.stops.push_back(
            {members[visit.group][visit.seat], groups[visit.group].setup, groups[visit.group].tool});
    return sequence;
}

}  // namespace seatwright::cut
