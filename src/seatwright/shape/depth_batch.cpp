#include <algorithm>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// One problem of all the heads' seats; every head's cylinders stay its own.
DepthProblem join(const std::vector<DepthProblem>& heads, const std::vector<std::string>& names) {
    DepthProblem all = heads.front();
    all.seats.clear();
    all.chamber.clear();
    all.cylinder_name.clear();
    for (std::size_t h = 0; h < heads.size(); ++h) {
        for (DepthSeat seat : heads[h].seats) {
            seat.name += " of head " + names[h];
            if (seat.cylinder) *seat.cylinder += all.chamber.size();
            all.seats.push_back(std::move(seat));
        }
        all.chamber.insert(all.chamber.end(), heads[h].chamber.begin(), heads[h].chamber.end());
        all.cylinder_name.insert(all.cylinder_name.end(), heads[h].cylinder_name.begin(),
                                 heads[h].cylinder_name.end());
    }
    return all;
}

// In order of their first seat reading; the head asked for last if it has none.
std::vector<std::string> heads_of(const job::Job& job, const std::string& head) {
    std::vector<std::string> heads;
    const auto note = [&](const std::string& id) {
        if (std::find(heads.begin(), heads.end(), id) == heads.end()) heads.push_back(id);
    };
    for (const auto& reading : job.readings.seats) note(reading.head);
    note(head);
    return heads;
}

// Highest stem after cutting; none where none is known.
job::PerKind<std::optional<double>> highest_stem(const DepthProblem& problem,
                                                 const std::vector<double>& depth) {
    job::PerKind<std::optional<double>> high;
    for (std::size_t i = 0; i < problem.seats.size(); ++i)
        if (const auto& stem = problem.seats[i].stem) {
            auto& most = high[problem.seats[i].kind];
            most = std::max(most.value_or(-no_limit), *stem + depth[i]);
        }
    return high;
}

// Depths of the seats that stay, in order; none if one of them has none.
std::optional<std::vector<double>> depths_of(const DepthOutcome& outcome) {
    std::vector<double> depth;
    for (std::size_t i = 0; i < outcome.depth.size(); ++i) {
        if (outcome.for_insert[i]) continue;
        if (!outcome.depth[i]) return std::nullopt;
        depth.push_back(*outcome.depth[i]);
    }
    return depth;
}

Batch batch_of(const DepthProblem& all, const DepthOutcome& outcome, std::vector<std::string> heads) {
    Batch batch;
    batch.heads = std::move(heads);
    batch.total = outcome.plan.total;
    batch.stem_spread = outcome.plan.stem_spread;
    batch.chamber_spread = outcome.plan.chamber_spread;
    if (const auto depth = depths_of(outcome))
        batch.common_stem = highest_stem(without(all, outcome.for_insert), *depth);
    return batch;
}

// One head's part of the whole, its figures counted anew.
DepthOutcome part_of(const DepthOutcome& whole, const DepthProblem& own, std::size_t first) {
    const auto from = static_cast<std::ptrdiff_t>(first);
    const auto to = from + static_cast<std::ptrdiff_t>(own.seats.size());
    DepthOutcome part;
    part.depth.assign(whole.depth.begin() + from, whole.depth.begin() + to);
    part.for_insert.assign(whole.for_insert.begin() + from, whole.for_insert.begin() + to);
    part.plan.feasible = whole.plan.feasible;
    part.plan.conflict = whole.plan.conflict;
    part.plan.conflicts = whole.plan.conflicts;
    part.warnings = whole.warnings;
    if (const auto depth = depths_of(part)) {
        const DepthProblem rest = without(own, part.for_insert);
        double total = 0;
        for (const double d : *depth) total += d;
        part.plan.total = total;
        part.plan.stem_spread = stem_spread_after(rest, *depth);
        part.plan.chamber_spread = chamber_spread_after(rest, *depth);
    }
    return part;
}

// Warnings name valves of this head by their ids; those of other heads are of no valve here.
void name_valves(std::vector<Warning>& warnings, const std::string& head) {
    const std::string tail = " of head " + head;
    for (auto& warning : warnings) {
        if (!warning.valve) continue;
        if (warning.valve->ends_with(tail))
            warning.valve->resize(warning.valve->size() - tail.size());
        else
            warning.valve.reset();
    }
}

DepthOutcome too_many(const job::Job& job, const hold::Hold& hold, const std::string& head,
                      std::size_t heads) {
    DepthOutcome alone = plan_depths(before_cutting(job, hold, head).problem, job.units);
    alone.warnings.push_back(
        {"shape", "batch-too-large", std::nullopt,
         sentence<"batch-too-large">("heads"_is = heads, "valves"_is = job.head.valves.size(),
                                     "most"_is = most_batch_seats, "head"_is = head),
         Severity::blocking});
    return alone;
}

}  // namespace

DepthOutcome plan_in_batch(const job::Job& job, const hold::Hold& hold, const std::string& head) {
    const auto heads = heads_of(job, head);
    if (heads.size() * job.head.valves.size() > most_batch_seats)
        return too_many(job, hold, head, heads.size());
    std::vector<DepthProblem> problems;
    problems.reserve(heads.size());
    for (const auto& each : heads) problems.push_back(before_cutting(job, hold, each).problem);
    const DepthProblem all = join(problems, heads);
    const DepthOutcome whole = plan_depths(all, job.units);
    const auto own = static_cast<std::size_t>(std::find(heads.begin(), heads.end(), head) - heads.begin());
    std::size_t first = 0;
    for (std::size_t h = 0; h < own; ++h) first += problems[h].seats.size();
    DepthOutcome part = part_of(whole, problems[own], first);
    part.plan.batch = batch_of(all, whole, heads);
    name_valves(part.warnings, head);
    if (!job.depth.stem_spread)
        part.warnings.push_back(
            {"shape", "batch-no-spread", std::nullopt, sentence<"batch-no-spread">(), Severity::note});
    return part;
}

}  // namespace seatwright::shape
