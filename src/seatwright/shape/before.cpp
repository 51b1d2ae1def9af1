#include "seatwright/shape/before.hpp"

#include <algorithm>
#include <map>

#include "seatwright/base/numerics/statistics.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/shape/cutter.hpp"
#include "seatwright/shape/finish.hpp"
#include "seatwright/shape/heights.hpp"
#include "seatwright/shape/heights_agree.hpp"
#include "seatwright/shape/rest.hpp"
#include "seatwright/shape/section.hpp"
#include "seatwright/shape/window.hpp"
#include "seatwright/shape/worn.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// Two burette readings of one chamber further apart than this are worth a word: 0.2 cm3, common practice for
// a hand-filled burette.
constexpr double chamber_disagreement = 200;
// mm. No spindle stops finer; below this a step is taken as none.
constexpr double finest_step = 1e-5;
// mm: a limit is not broken by the rounding of a sum of decimals.
constexpr double rounding = 1e-6;

void note_missing(Notices& notices, const std::vector<std::string>& who, const Sentence& what) {
    if (!who.empty())
        notices.assumptions.push_back(
            sentence<"assumes-of">("what"_is = what, "seats"_is = list_of(who, Join::with_and)));
}

// Mean of the readings of each cylinder.
void fill_chambers(const job::Job& job, HeadBefore& out) {
    std::map<int, std::vector<double>> read;
    for (std::size_t v = 0; v < out.valves.size(); ++v)
        if (out.valves[v].chamber) read[job.head.valves[v].cylinder].push_back(*out.valves[v].chamber);
    for (const auto& [cylinder, volumes] : read) {
        const auto [least, most] = std::minmax_element(volumes.begin(), volumes.end());
        if (*most - *least > chamber_disagreement)
            out.notices.warnings.push_back(
                {"shape", "chamber-readings", std::nullopt,
                 sentence<"chamber-readings">("cylinder"_is = cylinder,
                                              "differ"_is = as_volume(*most - *least)),
                 Severity::note});
        double volume = numerics::summary(volumes).mean;
        if (job.head.chamber_area) volume -= *job.head.chamber_area * job.depth.deck_cut;
        out.cylinder_name.push_back(cylinder);
        out.chamber.push_back(volume);
    }
}

// Cleanup by reading, by section, by the shop's usual figure, or of a seat as drawn; none: not known.
std::optional<double> cleanup_needed(const job::Job& job, const job::Valve& valve, const Section& section,
                                     const Before& before, Notices& notices) {
    const auto measured = cleanup_of(section, before.worn);
    const auto warn = [&](const char* code, Sentence text) {
        notices.warnings.push_back({"shape", code, valve.id, std::move(text), Severity::note});
    };
    if (measured && !measured->covered)
        warn("section-short", sentence<"section-short">("valve"_is = valve.id));
    if (!before.worn.empty() && !measured)
        warn("section-beside", sentence<"section-beside">("valve"_is = valve.id));
    if (section_off(section, before.worn) && !before.section_sure)
        warn("section-off",
             sentence<"section-off">("valve"_is = valve.id, "near"_is = as_length(section_near)));
    if (before.cleanup && measured && measured->depth > *before.cleanup + job.depth.step)
        warn("cleanup-doubt",
             sentence<"cleanup-doubt">("valve"_is = valve.id, "measured"_is = as_length(measured->depth),
                                       "reading"_is = as_length(*before.cleanup)));
    const job::SeatForm& form = *job.seat[valve.kind];
    if (before.cleanup) return *before.cleanup + job.depth.cleanup_margin;
    if (measured) return measured->depth + job.depth.cleanup_margin;
    if (form.cleanup) return *form.cleanup + job.depth.cleanup_margin;
    if (form.old_as_drawn) return job.depth.cleanup_margin;
    return std::nullopt;
}

// What comes to rest on an old seat of the kind: the blade that will cut it, else the form as drawn.
Section edge_of(const job::Job& job, job::Kind kind) {
    const CutterChoice choice = choose_cutter(job, kind);
    return choice.cutter && !choice.blade.points.empty() ? choice.blade
                                                         : section_of(*job.valve[kind], *job.seat[kind]);
}

}  // namespace

std::optional<double> rest_on_new_ring(const job::Job& job, job::Kind kind) {
    const auto& form = job.seat[kind];
    if (!job.valve[kind] || !form || !form->insert || !(form->insert->outside > form->insert->inside))
        return std::nullopt;
    const double top = section_of(*job.valve[kind], *form).points.back().y();
    return highest_gap(edge_of(job, kind),
                       {Vec2(form->insert->inside / 2, top), Vec2(form->insert->outside / 2, top)});
}

Before reading_of(const job::Job& job, const std::string& head, const std::string& valve) {
    Before before;
    for (const auto& r : job::of_head(job.readings.seats, head)) {
        if (r.valve != valve) continue;
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

namespace {

class Gatherer {
  public:
    Gatherer(const job::Job& job, const std::string& head) : job_(job), head_(head) {
        for (const auto& valve : job.head.valves) out_.valves.push_back(reading_of(job, head, valve.id));
        out_.cleanup.resize(out_.valves.size());
        out_.rest.resize(out_.valves.size());
        out_.deeper_finish.resize(out_.valves.size(), 0.0);
    }

    HeadBefore run(const hold::Hold& hold) {
        DepthProblem& p = out_.problem;
        p.stem_spread = job_.depth.stem_spread;
        p.chamber_spread = job_.depth.chamber_spread;
        p.step = job_.depth.step < finest_step ? 0 : job_.depth.step;
        for (const auto kind : job::both_kinds) {
            if (const auto& v = job_.valve[kind]) p.area[kind] = pi / 4 * v->head_diameter * v->head_diameter;
            if (job_.seat[kind] && job_.valve[kind]) surfaces(kind);
        }
        fill_chambers(job_, out_);
        Heights heights = heights_of(job_, hold, out_.valves, out_.rest);
        out_.height = std::move(heights.seats);
        out_.lacking = std::move(heights.lacking);
        out_.notices.warnings.insert(out_.notices.warnings.end(), heights.notices.warnings.begin(),
                                     heights.notices.warnings.end());
        for (Warning& warning : heights_that_differ(job_, out_.valves))
            out_.notices.warnings.push_back(std::move(warning));
        p.chamber = out_.chamber;
        p.cylinder_name = out_.cylinder_name;
        for (std::size_t v = 0; v < out_.valves.size(); ++v) add(v);
        p = without(p, gone_);
        tell();
        return std::move(out_);
    }

  private:
    // What the readings of a kind's seats say of their surfaces.
    void surfaces(job::Kind kind) {
        const Section section = section_of(*job_.valve[kind], *job_.seat[kind]);
        const Section edge = edge_of(job_, kind);
        for (std::size_t v = 0; v < out_.valves.size(); ++v) {
            const job::Valve& valve = job_.head.valves[v];
            if (valve.kind != kind) continue;
            out_.cleanup[v] = cleanup_needed(job_, valve, section, out_.valves[v], out_.notices);
            out_.rest[v] = rest_of(edge, out_.valves[v]);
        }
    }

    void add(std::size_t v) {
        const job::Valve& valve = job_.head.valves[v];
        const auto& form = job_.seat[valve.kind];
        if (!form || !job_.valve[valve.kind] || !form->cut_allowed) {
            out_.lacking[v] = {};
            return;
        }
        const Before& before = out_.valves[v];
        const bool to_height = finish_wanted(job_, valve).has_value();
        const job::SeatOrder* order = order_of(job_, valve.id);
        const auto by_hand = order ? order->depth : std::nullopt;
        if (!to_height && !by_hand && !out_.cleanup[v]) {
            const Sentence needed = sentence<"cleanup-or-section">("valve"_is = valve.id);
            Sentence& lacking = out_.lacking[v];
            lacking = lacking.empty() ? needed : row(list_of(std::vector{lacking, needed}, Join::with_and));
        }
        const bool unread = before.cleanup == std::nullopt && before.worn.empty();
        if (!to_height && !by_hand && unread && out_.cleanup[v] && form->cleanup) usual_.push_back(valve.id);
        if (!before.stem_height && form->stem_height) no_stem_.push_back(valve.id);
        if (!out_.height[v].absolute() && (form->recession_max || form->recession_min))
            (to_height ? by_window_ : no_recession_).push_back(valve.id);
        const bool elsewhere = to_height || !out_.lacking[v].empty();
        DepthSeat seat = seat_of(v, by_hand);
        out_.problem.seats.push_back(seat);
        const bool held = !elsewhere && held_whatever(v, by_hand);
        gone_.push_back(elsewhere || held);
        if (!held) return;
        seat.stem.reset();
        seat.cylinder.reset();
        out_.alone.push_back(std::move(seat));
    }

    // No program is written for this seat, whatever depth the plan gives the others.
    bool held_whatever(std::size_t v, std::optional<double> by_hand) const {
        if (guide_to_repair(v)) return true;
        if (!by_hand) return false;
        const job::Valve& valve = job_.head.valves[v];
        const Window window =
            depth_window(job_, valve, section_of(*job_.valve[valve.kind], *job_.seat[valve.kind]),
                         out_.valves[v], out_.height[v]);
        return *by_hand > window.most + rounding || *by_hand < window.least - rounding;
    }

    // The seat follows the guide, so its depth is not known before the guide is good; unless a lead let it
    // pass.
    bool guide_to_repair(std::size_t v) const {
        const std::string& id = job_.head.valves[v].id;
        if (job_.cut.pilot == job::PilotUse::none) return false;
        if (job::allowance_of(job_, "guide " + id) != nullptr) return false;
        const job::GuideBore* last = nullptr;
        for (const auto& read : job::of_head(job_.readings.guides, head_))
            if (read.valve == id) last = &read;
        return last && find::choose_pilot(job_, v, last).repair;
    }

    DepthSeat seat_of(std::size_t v, std::optional<double> by_hand) {
        const job::Valve& valve = job_.head.valves[v];
        const job::SeatForm& form = *job_.seat[valve.kind];
        const Window window = depth_window(job_, valve, section_of(*job_.valve[valve.kind], form),
                                           out_.valves[v], out_.height[v]);
        DepthSeat seat;
        seat.valve = v;
        seat.name = valve.id;
        seat.kind = valve.kind;
        seat.low = std::max(0.0, out_.cleanup[v].value_or(0));
        if (window.least > seat.low) seat.low = window.least, seat.needed_by = window.least_by;
        seat.high = window.most;
        seat.limited_by = window.most_by;
        if (by_hand) {
            seat.low = seat.high = *by_hand;
            seat.needed_by = seat.limited_by = "depth by hand";
            seat.by_hand = true;
        }
        seat.stem = stem_before(form, out_.valves[v]);
        const auto& names = out_.cylinder_name;
        const auto at = std::find(names.begin(), names.end(), valve.cylinder);
        if (at != names.end()) seat.cylinder = static_cast<std::size_t>(at - names.begin());
        return seat;
    }

    void tell() {
        note_missing(out_.notices, no_stem_, sentence<"stem-of-drawing">());
        note_missing(out_.notices, no_recession_, sentence<"no-recession-limit">());
        note_missing(out_.notices, by_window_, sentence<"window-alone">());
        if (!usual_.empty())
            out_.notices.warnings.push_back(
                {"shape", "cleanup-usual", std::nullopt,
                 sentence<"cleanup-usual">("seats"_is = list_of(usual_, Join::with_and)), Severity::note});
    }

    const job::Job& job_;
    const std::string& head_;
    std::vector<bool> gone_;  // per seat of the problem: planned by other means, or not at all
    std::vector<std::string> no_stem_, no_recession_, by_window_, usual_;
    HeadBefore out_;
};

}  // namespace

HeadBefore before_cutting(const job::Job& job, const hold::Hold& hold, const std::string& head) {
    return Gatherer(job, head).run(hold);
}

DepthProblem problem_alone(const HeadBefore& before) {
    DepthProblem own;
    own.seats = before.alone;
    own.area = before.problem.area;
    own.step = before.problem.step;
    return own;
}

}  // namespace seatwright::shape
