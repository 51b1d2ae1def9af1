#include "seatwright/shape/cutter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/shape/section.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

constexpr double same_angle = rad(0.1);
constexpr double angle_noise = 1e-12;  // of degrees turned into radians
// mm. Of a length written in inches on the shelf and in mm in the job, or the other way round: five inch
// decimals are right to 0.00013 mm.
constexpr double length_noise = 2e-4;

// What is asked of a blade.
struct Wanted {
    std::vector<job::Facet> facets;  // inside to outside
    std::size_t face = 0;
    double gauge = 0, contact_od = 0;
    std::optional<double> width_tol;
    const job::Facet& face_facet() const { return facets[face]; }
};

std::optional<Wanted> wanted_of(const job::Job& job, job::Kind kind) {
    if (!job.valve[kind] || !job.seat[kind]) return std::nullopt;
    const job::SeatForm& form = *job.seat[kind];
    const Section section = section_of(*job.valve[kind], form);
    return Wanted{facets_of(form), form.throat.size(), section.gauge, section.contact_od, form.width_tol};
}

// A blade's outcome; what follows `faults` is 0 where the blade does not make the form at all.
struct Outcome {
    std::vector<Sentence> faults;  // empty: the seat it leaves keeps its tolerances
    bool makes = false;            // angles and diameter range suit
    bool width_kept = true, long_enough = true;
    double width = 0, contact_od = 0;
    double face_off = 0, others_off = 0, short_by = 0;
};

std::vector<Sentence> angle_faults(const job::Cutter& cutter, const Wanted& wanted) {
    if (cutter.facets.size() != wanted.facets.size())
        return {
            sentence<"facets-count">("has"_is = cutter.facets.size(), "wanted"_is = wanted.facets.size())};
    std::vector<Sentence> faults;
    for (std::size_t i = 0; i < wanted.facets.size(); ++i)
        if (std::abs(cutter.facets[i].angle - wanted.facets[i].angle) > same_angle + angle_noise)
            faults.push_back(sentence<"facet-angle">("has"_is = as_form_angle(cutter.facets[i].angle),
                                                     "wanted"_is = as_form_angle(wanted.facets[i].angle)));
    return faults;
}

void judge_facets(const job::Cutter& cutter, const Wanted& wanted, Outcome& out) {
    for (std::size_t i = 0; i < wanted.facets.size(); ++i) {
        if (i == wanted.face) continue;
        const double more = cutter.facets[i].width - wanted.facets[i].width;
        out.others_off += std::abs(more);
        if (more >= -length_noise) continue;
        out.long_enough = false;
        out.short_by -= more;
        out.faults.push_back(sentence<"facet-short">("facet"_is = as_form_angle(wanted.facets[i].angle),
                                                     "short"_is = as_length(-more)));
    }
}

void judge_face(const job::Cutter& cutter, const Wanted& wanted, Outcome& out) {
    const Section left = section_of(cutter.facets, wanted.face, wanted.gauge);
    out.width = cutter.facets[wanted.face].width;
    out.contact_od = left.contact_od;
    const double wider = out.width - wanted.face_facet().width;
    out.face_off = std::abs(wider) + std::abs(out.contact_od - wanted.contact_od);
    if (!wanted.width_tol || std::abs(wider) <= *wanted.width_tol + length_noise) return;
    out.width_kept = false;
    out.faults.push_back(
        sentence<"face-left">("width"_is = as_length(out.width), "contact"_is = as_length(out.contact_od),
                              "off"_is = as_length(std::abs(wider)),
                              "way"_is = wider > 0 ? sentence<"wider">() : sentence<"narrower">(),
                              "allowed"_is = as_length(*wanted.width_tol)));
}

Outcome outcome_of(const job::Cutter& cutter, const Wanted& wanted) {
    Outcome out;
    out.faults = angle_faults(cutter, wanted);
    const bool same_form = out.faults.empty();
    if (same_form) {
        judge_face(cutter, wanted, out);
        judge_facets(cutter, wanted, out);
    }
    const auto& range = cutter.gauge_diameter;
    const bool covers = wanted.gauge >= range.low - length_noise && wanted.gauge <= range.high + length_noise;
    if (!covers)
        out.faults.push_back(sentence<"gauge-outside">("gauge"_is = as_length(wanted.gauge),
                                                       "low"_is = as_length(range.low),
                                                       "high"_is = as_length(range.high)));
    out.makes = same_form && covers;
    return out;
}

// Alike but for the noise of figures is alike, so that the shelf's order decides.
std::pair<double, double> nearness(const Outcome& outcome) {
    const auto whole = [](double length) { return std::round(length / length_noise); };
    return {whole(outcome.face_off), whole(outcome.others_off)};
}

template <class Fits>
std::optional<std::size_t> nearest_of(const std::vector<Outcome>& outcomes, Fits fits) {
    std::optional<std::size_t> best;
    for (std::size_t c = 0; c < outcomes.size(); ++c)
        if (fits(outcomes[c]) && (!best || nearness(outcomes[c]) < nearness(outcomes[*best]))) best = c;
    return best;
}

std::optional<std::size_t> width_allowance(const job::Job& job, job::Kind kind) {
    const std::string what = fmt::format("width {}", job::kind_word(kind));
    for (std::size_t i = 0; i < job.allow.size(); ++i)
        if (job.allow[i].what == what) return i;
    return std::nullopt;
}

}  // namespace

CutterChoice choose_cutter(const job::Job& job, job::Kind kind) {
    CutterChoice choice;
    const auto wanted = wanted_of(job, kind);
    if (!wanted) return choice;
    std::vector<Outcome> outcomes;
    for (const auto& cutter : job.cutters) outcomes.push_back(outcome_of(cutter, *wanted));
    choice.cutter = nearest_of(outcomes, [](const Outcome& o) { return o.faults.empty(); });
    if (const auto allowance = width_allowance(job, kind); !choice.cutter && allowance) {
        choice.cutter = nearest_of(outcomes, [](const Outcome& o) { return o.makes && o.long_enough; });
        if (choice.cutter) choice.allowed = allowance;
    }
    if (!choice.cutter) return choice;
    choice.blade = section_of(job.cutters[*choice.cutter].facets, wanted->face, wanted->gauge);
    choice.blade_setting = wanted->gauge;
    choice.cut_width = outcomes[*choice.cutter].width;
    choice.cut_contact_od = outcomes[*choice.cutter].contact_od;
    return choice;
}

std::vector<NearMiss> near_misses(const job::Job& job, job::Kind kind) {
    std::vector<NearMiss> out;
    const auto wanted = wanted_of(job, kind);
    if (!wanted) return out;
    std::vector<std::pair<int, double>> rank;  // blades that make the form first
    for (std::size_t c = 0; c < job.cutters.size(); ++c) {
        const Outcome outcome = outcome_of(job.cutters[c], *wanted);
        if (outcome.faults.empty()) continue;
        NearMiss miss{kind, c, row(list_of(outcome.faults, Join::commas)), {}, {}, false};
        if (outcome.makes) {
            miss.width = outcome.width;
            miss.contact_od = outcome.contact_od;
            miss.width_alone = outcome.long_enough;
        }
        const std::pair<int, double> key = outcome.makes
                                               ? std::pair{0, outcome.face_off + outcome.short_by}
                                               : std::pair{1, static_cast<double>(outcome.faults.size())};
        const auto place = std::upper_bound(rank.begin(), rank.end(), key) - rank.begin();
        rank.insert(rank.begin() + place, key);
        out.insert(out.begin() + place, std::move(miss));
    }
    return out;
}

Notices cutter_notices(const job::Job& job, job::Kind kind, const CutterChoice& choice,
                       const std::vector<NearMiss>& misses) {
    Notices out;
    const auto warn = [&](const char* code, Sentence text, Severity severity) {
        out.warnings.push_back({"shape", code, std::nullopt, std::move(text), severity});
    };
    if (choice.allowed) {
        const job::Allowance& allowance = job.allow[*choice.allowed];
        warn("width-allowed",
             sentence<"width-allowed">(
                 "kind"_is = job::kind_said(kind), "cutter"_is = job.cutters[*choice.cutter].name,
                 "width"_is = as_length(choice.cut_width), "asked"_is = as_length(job.seat[kind]->width),
                 "contact"_is = as_length(choice.cut_contact_od), "by"_is = allowance.by,
                 "why"_is = allowance.why),
             Severity::note);
    } else if (!choice.cutter && job.cutters.empty()) {
        warn("no-cutter", sentence<"no-cutters">(), Severity::note);
    } else if (!choice.cutter && !misses.empty()) {
        warn("no-cutter",
             sentence<"no-cutter-makes">("kind"_is = job::kind_said(kind),
                                         "cutter"_is = job.cutters[misses.front().cutter].name,
                                         "why"_is = misses.front().why),
             Severity::blocking);
    }
    return out;
}

std::vector<HeldBack> held_without_cutter(const job::Job& job, const Shape& shape) {
    std::vector<HeldBack> out;
    for (const Seat& seat : shape.seats) {
        if (seat.cutter || seat.decision != Decision::cut || seat.section.points.empty()) continue;
        const job::Valve& valve = job.head.valves[seat.valve];
        const auto miss = std::find_if(shape.near_misses.begin(), shape.near_misses.end(),
                                       [&](const NearMiss& m) { return m.kind == valve.kind; });
        const bool near = miss != shape.near_misses.end();
        const bool by_width = near && miss->width_alone;
        const Sentence frees =
            by_width ? sentence<"blade-to-order-or-allow">("kind"_is = job::kind_word(valve.kind))
                     : sentence<"blade-to-order">();
        out.push_back({shape.head, "", valve.id, HeldCode::no_cutter,
                       near ? sentence<"no-cutter-within">("cutter"_is = job.cutters[miss->cutter].name,
                                                           "why"_is = miss->why)
                            : sentence<"no-cutter-for-seat">(),
                       frees, by_width ? std::string("width ") + job::kind_word(valve.kind) : std::string()});
    }
    return out;
}

}  // namespace seatwright::shape
