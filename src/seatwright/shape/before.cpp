#include "seatwright/shape/before.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "seatwright/shape/section.hpp"
#include "seatwright/shape/wording.hpp"
#include "seatwright/shape/worn.hpp"

namespace seatwright::shape {

namespace {

// Two burette readings of one chamber further apart than this are worth a word: 0.2 cm3, common practice for
// a hand-filled burette.
constexpr double chamber_disagreement = 200;
// mm. No spindle stops finer; below this a step is taken as none.
constexpr double finest_step = 1e-5;

// Metal of the ring left below the lowest point of the form that lies in it, the ring's top standing level
// with the outer end of the form.
double metal_below(const job::Insert& insert, const Section& section) {
    const double bore = insert.inside / 2;
    double lowest = section.points.back().y();
    for (std::size_t i = 0; i + 1 < section.points.size(); ++i) {
        const Vec2 a = section.points[i], b = section.points[i + 1];
        if (b.x() <= bore) continue;
        const double z = a.x() >= bore ? a.y() : a.y() + (b.y() - a.y()) * (bore - a.x()) / (b.x() - a.x());
        lowest = std::min(lowest, z);
    }
    return insert.depth - (section.points.back().y() - lowest);
}

void note_missing(Notices& notices, const std::vector<std::string>& who, const std::string& what) {
    if (!who.empty()) notices.assumptions.push_back(fmt::format("assumes {} ({})", what, list_words(who)));
}

// Mean of the readings of each cylinder.
void fill_chambers(const job::Job& job, HeadBefore& out) {
    std::map<int, std::vector<double>> read;
    for (std::size_t v = 0; v < out.valves.size(); ++v)
        if (out.valves[v].chamber) read[job.head.valves[v].cylinder].push_back(*out.valves[v].chamber);
    for (const auto& [cylinder, volumes] : read) {
        double sum = 0;
        for (const double v : volumes) sum += v;
        const auto [least, most] = std::minmax_element(volumes.begin(), volumes.end());
        if (*most - *least > chamber_disagreement)
            out.notices.warnings.push_back(
                {"shape", "chamber-readings", std::nullopt,
                 fmt::format(
                     "cylinder {}: its chamber readings differ by {}; their mean is used, read it again",
                     cylinder, volume_words(*most - *least)),
                 Weight::note});
        double volume = sum / static_cast<double>(volumes.size());
        if (job.head.chamber_area) volume -= *job.head.chamber_area * job.depth.deck_cut;
        out.problem.cylinder_name.push_back(cylinder);
        out.problem.chamber.push_back(volume);
    }
}

std::optional<double> cleanup_needed(const job::Job& job, const job::Valve& valve, const Section& section,
                                     const Before& before, Notices& notices) {
    const auto measured = cleanup_of(section, before.worn);
    const auto warn = [&](const char* code, std::string text) {
        notices.warnings.push_back({"shape", code, valve.id, std::move(text), Weight::note});
    };
    if (measured && !measured->covered)
        warn("section-short",
             fmt::format("{}: the measured section does not reach over the whole seat face; the "
                         "cleanup counts only what was measured",
                         valve.id));
    if (!before.worn.empty() && !measured)
        warn("section-beside",
             fmt::format("{}: the measured section has no part of the seat face", valve.id));
    if (before.cleanup && measured && measured->depth > *before.cleanup + job.depth.step)
        warn(
            "cleanup-doubt",
            fmt::format(
                "{}: the measured section asks for {} where the cleanup reading says {}; the reading is used",
                valve.id, length_words(measured->depth, job.units),
                length_words(*before.cleanup, job.units)));
    if (before.cleanup) return *before.cleanup + job.depth.cleanup_margin;
    if (measured) return measured->depth + job.depth.cleanup_margin;
    return std::nullopt;
}

}  // namespace

Before reading_of(const job::Job& job, const std::string& head, const std::string& valve) {
    Before before;
    for (const auto& r : job.readings.seats) {
        if (r.head != head || r.valve != valve) continue;
        const bool setting = r.valve_used == job::SeatBefore::ValveUsed::setting;
        if (r.stem_height) before.stem_height = r.stem_height, before.stem_by_setting_valve = setting;
        if (r.below_deck) {
            before.below_deck = r.below_deck;
            before.below_by_setting_valve = setting;
            before.below_after_deck_cut = r.after_deck_cut;
        }
        if (r.rest_z) before.rest_z = r.rest_z;
        if (r.face_outside) before.face_outside = r.face_outside;
        if (r.face_width) before.face_width = r.face_width;
        if (r.recession) before.recession = r.recession;
        if (r.cleanup) before.cleanup = r.cleanup;
        if (r.chamber) before.chamber = r.chamber;
        if (!r.section.empty()) before.worn = worn_profile(r.section), before.section_sure = r.sure;
    }
    return before;
}

std::optional<double> stem_before(const job::SeatForm& form, const Before& before) {
    return before.stem_height ? before.stem_height : form.stem_height;
}

Limit limit_of(const job::Job& job, const job::SeatForm& form, const Section& section, const Before& before) {
    Limit limit;
    const auto consider = [&](double most, const char* what) {
        if (most < limit.most) limit = {most, what};
    };
    const auto stem = stem_before(form, before);
    if (form.stem_height_max && stem) consider(*form.stem_height_max - *stem, "stem height");
    if (form.recession_max)
        consider(*form.recession_max - (before.recession.value_or(0) - job.depth.deck_cut), "recession");
    if (form.insert) consider(metal_below(*form.insert, section), "insert thickness");
    return limit;
}

HeadBefore before_cutting(const job::Job& job, const std::string& head) {
    HeadBefore out;
    out.cleanup.resize(job.head.valves.size());
    for (const auto& valve : job.head.valves) out.valves.push_back(reading_of(job, head, valve.id));
    DepthProblem& p = out.problem;
    p.stem_spread = job.depth.stem_spread;
    p.chamber_spread = job.depth.chamber_spread;
    p.step = job.depth.step < finest_step ? 0 : job.depth.step;
    for (const auto kind : job::both_kinds)
        if (const auto& v = job.valve[kind]) p.area[kind] = pi / 4 * v->head_diameter * v->head_diameter;
    fill_chambers(job, out);
    std::vector<std::string> no_stem, no_recession, no_cleanup;
    for (std::size_t v = 0; v < out.valves.size(); ++v) {
        const job::Valve& valve = job.head.valves[v];
        const auto& form = job.seat[valve.kind];
        if (!form || !job.valve[valve.kind]) continue;
        const Section section = section_of(*job.valve[valve.kind], *form);
        const Before& before = out.valves[v];
        out.cleanup[v] = cleanup_needed(job, valve, section, before, out.notices);
        if (!form->cut_allowed) continue;
        if (!before.stem_height && form->stem_height) no_stem.push_back(valve.id);
        if (!before.recession && form->recession_max) no_recession.push_back(valve.id);
        if (!out.cleanup[v]) no_cleanup.push_back(valve.id);
        const Limit limit = limit_of(job, *form, section, before);
        DepthSeat seat;
        seat.valve = v;
        seat.name = valve.id;
        seat.limited_by = limit.what;
        seat.kind = valve.kind;
        seat.low = std::max(0.0, out.cleanup[v].value_or(job.depth.cleanup_margin));
        seat.high = limit.most;
        seat.stem = stem_before(*form, before);
        const auto at = std::find(p.cylinder_name.begin(), p.cylinder_name.end(), valve.cylinder);
        if (at != p.cylinder_name.end())
            seat.cylinder = static_cast<std::size_t>(at - p.cylinder_name.begin());
        p.seats.push_back(std::move(seat));
    }
    note_missing(out.notices, no_stem, "the drawing's stem height where none was read");
    note_missing(out.notices, no_recession, "no recession where none was read");
    note_missing(out.notices, no_cleanup, "a cleanup of the margin alone where none was read or measured");
    return out;
}

}  // namespace seatwright::shape
