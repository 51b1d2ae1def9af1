#include "seatwright/shape/cutter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/shape/section.hpp"
#include "seatwright/shape/wording.hpp"

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
    LengthUnit unit = LengthUnit::mm;
    const job::Facet& face_facet() const { return facets[face]; }
};

std::optional<Wanted> wanted_of(const job::Job& job, job::Kind kind) {
    if (!job.valve[kind] || !job.seat[kind]) return std::nullopt;
    const job::SeatForm& form = *job.seat[kind];
    const Section section = section_of(*job.valve[kind], form);
    return Wanted{facets_of(form),    form.throat.size(), section.gauge,
                  section.contact_od, form.width_tol,     job.units};
}

// A blade's outcome; what follows `faults` is 0 where the blade does not make the form at all.
struct Outcome {
    std::vector<std::string> faults;  // empty: the seat it leaves keeps its tolerances
    bool makes = false;               // angles and diameter range suit
    bool width_kept = true, long_enough = true;
    double width = 0, contact_od = 0;
    double face_off = 0, others_off = 0, short_by = 0;
};

std::vector<std::string> angle_faults(const job::Cutter& cutter, const Wanted& wanted) {
    if (cutter.facets.size() != wanted.facets.size())
        return {fmt::format("facets: {} where the form has {}", cutter.facets.size(), wanted.facets.size())};
    std::vector<std::string> faults;
    for (std::size_t i = 0; i < wanted.facets.size(); ++i)
        if (std::abs(cutter.facets[i].angle - wanted.facets[i].angle) > same_angle + angle_noise)
            faults.push_back(fmt::format("{} facet where the form has {}",
                                         angle_words(cutter.facets[i].angle),
                                         angle_words(wanted.facets[i].angle)));
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
        out.faults.push_back(fmt::format("{} facet {} short", angle_words(wanted.facets[i].angle),
                                         length_words(-more, wanted.unit)));
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
    out.faults.push_back(fmt::format(
        "it would leave a face {} wide and a contact diameter of {}: {} {} than asked, {} is allowed",
        length_words(out.width, wanted.unit), length_words(out.contact_od, wanted.unit),
        length_words(std::abs(wider), wanted.unit), wider > 0 ? "wider" : "narrower",
        length_words(*wanted.width_tol, wanted.unit)));
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
        out.faults.push_back(
            fmt::format("gauge diameter {} outside its {} to {}", length_words(wanted.gauge, wanted.unit),
                        length_words(range.low, wanted.unit), length_words(range.high, wanted.unit)));
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
        NearMiss miss{kind, c, fmt::format("{}", fmt::join(outcome.faults, ", ")), {}, {}, false};
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
    const auto warn = [&](const char* code, std::string text, Severity severity) {
        out.warnings.push_back({"shape", code, std::nullopt, std::move(text), severity});
    };
    if (choice.allowed) {
        const job::Allowance& allowance = job.allow[*choice.allowed];
        warn("width-allowed",
             fmt::format("{} seats: cutter {} leaves a face {} wide, {} asked, and a contact diameter of {}; "
                         "let pass by {}: {}",
                         job::kind_word(kind), job.cutters[*choice.cutter].name,
                         length_words(choice.cut_width, job.units),
                         length_words(job.seat[kind]->width, job.units),
                         length_words(choice.cut_contact_od, job.units), allowance.by, allowance.why),
             Severity::note);
    } else if (!choice.cutter && job.cutters.empty()) {
        warn("no-cutter", "the shelf has no cutters: none could be chosen", Severity::note);
    } else if (!choice.cutter && !misses.empty()) {
        warn(
            "no-cutter",
            fmt::format("{} seats: no cutter of the shelf makes this form within its tolerances; the nearest "
                        "is {}: {}; the form to order is drawn",
                        job::kind_word(kind), job.cutters[misses.front().cutter].name, misses.front().why),
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
        const std::string frees =
            near && miss->width_alone
                ? fmt::format("a blade of the form to order, or allow what = \"width {}\"",
                              job::kind_word(valve.kind))
                : "a blade of the form to order";
        out.push_back({shape.head, "", valve.id, HeldCode::no_cutter,
                       near
                           ? fmt::format("no cutter of the shelf leaves this seat within its tolerances; the "
                                         "nearest is {}: {}",
                                         job.cutters[miss->cutter].name, miss->why)
                           : "the shelf has no cutter for this seat",
                       frees});
    }
    return out;
}

}  // namespace seatwright::shape
