#include "seatwright/job/with_reading.hpp"

#include <algorithm>

#include "seatwright/job/agree.hpp"
#include "seatwright/job/build.hpp"

namespace seatwright::job {
namespace {

// False: what stands there is not known to have been as harmless as the new one.
template <class Reading>
bool put(const Job& before, GrowingList<Reading>& all, const GrowingList<Reading>& one,
         std::optional<std::size_t> place) {
    if (one.empty()) return true;
    if (!place) {
        all.push_back(one.front());
        return true;
    }
    const Reading& old = std::as_const(all).at(*place);
    const auto& odd = before.figures.odd;
    if (std::any_of(odd.begin(), odd.end(), [&](const OddFigure& figure) {
            return figure.head == old.head && figure.valve == old.valve;
        }))
        return false;
    all[*place] = one.front();
    return true;
}

bool same_valves(const Head& a, const Head& b) {
    return std::equal(a.valves.begin(), a.valves.end(), b.valves.begin(), b.valves.end(),
                      [](const Valve& v, const Valve& w) { return v.id == w.id; });
}

}  // namespace

bool has_readings(const Readings& all) {
    const auto& [touches, levels, guides, seats, proofs, firsts] = all;
    return !(touches.empty() && levels.empty() && guides.empty() && seats.empty() && proofs.empty() &&
             firsts.empty());
}

std::optional<Job> with_reading(const Job& job, const GivenReadings& one,
                                std::optional<std::size_t> in_place_of) {
    if (!one.faults.empty() || one.table.fields.size() != 1) return std::nullopt;
    Value root;
    root.holds = Value::Holds::table;
    root.fields.push_back({"reading", one.table});
    auto built = build_readings({&root, job.file, job.units}, &job.head, job.machine.trim);
    const Figures figures = figures_of(root, job.units);
    if (!built.faults.empty() || !figures.odd.empty()) return std::nullopt;

    Job out = job;
    const auto& [touches, levels, guides, seats, proofs, firsts] = built.value;
    Readings& all = out.readings;
    // Only of tables that tell nothing of the file's unit may one take another's place.
    if (in_place_of && (!touches.empty() || !levels.empty() || !guides.empty())) return std::nullopt;
    if (!put(job, all.touches, touches, in_place_of) || !put(job, all.levels, levels, in_place_of) ||
        !put(job, all.guides, guides, in_place_of) || !put(job, all.seats, seats, in_place_of) ||
        !put(job, all.proofs, proofs, in_place_of) || !put(job, all.firsts, firsts, in_place_of))
        return std::nullopt;
    out.figures.units.as_written += figures.units.as_written;
    out.figures.units.in_other_unit += figures.units.in_other_unit;
    out.lines.emplace("reading", 0);
    out.lines.emplace("reading." + one.table.fields.front().name, 0);
    if (!disagreements(out, Valves::known).empty()) return std::nullopt;
    return out;
}

std::optional<Job> with_readings_of(const Job& now, const Job& document, Job edited) {
    if (has_readings(document.readings) || has_readings(edited.readings)) return std::nullopt;
    if (edited.units != document.units || edited.file != document.file ||
        edited.machine.trim != document.machine.trim || !same_valves(edited.head, document.head) ||
        now.figures.odd.size() != document.figures.odd.size())
        return std::nullopt;
    edited.readings = now.readings;
    const UnitsRead &with = now.figures.units, &without = document.figures.units;
    edited.figures.units.as_written += with.as_written - without.as_written;
    edited.figures.units.in_other_unit += with.in_other_unit - without.in_other_unit;
    for (const auto& [key, line] : now.lines)
        if (key == "reading" || key.starts_with("reading.")) edited.lines.emplace(key, line);
    if (!disagreements(edited, Valves::known).empty()) return std::nullopt;
    return edited;
}

}  // namespace seatwright::job
