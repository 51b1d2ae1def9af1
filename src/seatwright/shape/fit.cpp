#include "seatwright/shape/fit.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

constexpr double press_friction = 0.12;  // steel on iron or aluminium, pressed dry; from memory
constexpr double usual_running = 170;    // °C, of seat and casting beside it: 150 K above room, from memory
constexpr double wall_ratio = 2;         // B = 2·D: the casting round the bore, as ring of that diameter
constexpr double boiling_nitrogen = -196;  // °C
constexpr double hottest_casting = 200;    // °C, upper end of the oven practice for heads
constexpr double staking_room = 0.20;  // mm deeper than the ring, 0.15 to 0.25 where staked; common practice

bool is_aluminium(const std::string& material) {
    return material.find("alumin") != std::string::npos || material.find("Alumin") != std::string::npos;
}

// ± of a counterbore for an insert: size 0.013 mm, depth 0.13 mm over all (0.005 in); common practice.
constexpr double bore_within = 0.013, depth_within = 0.065;

std::optional<Elastic> elastic_of(const job::Job& job, const std::string& name) {
    const job::Material* m = job.material(name);
    if (!m || !m->modulus || !m->poisson || !m->expansion) return std::nullopt;
    return Elastic{*m->modulus, *m->poisson, *m->expansion};
}

void note(Notices& notices, const char* code, Sentence text) {
    notices.warnings.push_back({"shape", code, std::nullopt, std::move(text), Severity::note});
}

void no_material(Notices& notices, const Sentence& what, const std::string& material) {
    note(notices, "fit-material", sentence<"no-press-fit">("what"_is = what, "material"_is = material));
}

InsertFit insert_fit(const PressFit& fit, const job::Insert& insert) {
    InsertFit out;
    const double hot = interference_at(fit, usual_running, usual_running);
    out.interference = fit.interference;
    out.pressure = press_pressure(fit, fit.interference);
    out.pressure_hot = press_pressure(fit, hot);
    out.hold_force = hold_force(fit, out.pressure, press_friction);
    out.hoop = hoop_around(fit, out.pressure);
    out.ring_hoop = hoop_at_ring_bore(fit, out.pressure);
    out.insert_temperature = ring_temperature_to_enter(fit);
    out.head_temperature = around_temperature_to_enter(fit);
    out.running_temperature = usual_running;
    out.counterbore = insert.outside - fit.interference;
    out.counterbore_depth = insert.depth + staking_room;
    out.counterbore_within = bore_within;
    out.counterbore_depth_within = depth_within;
    return out;
}

void warn_of_assembly(Notices& notices, const InsertFit& fit, const Sentence& which) {
    if (fit.pressure_hot <= 0)
        note(notices, "insert-loose-hot",
             sentence<"loose-hot">("insert"_is = which, "degrees"_is = as_number(usual_running, 0)));
    if (fit.insert_temperature < boiling_nitrogen && fit.head_temperature > hottest_casting)
        note(notices, "insert-assembly",
             sentence<"assembly">("insert"_is = which, "degrees"_is = as_number(hottest_casting, 0)));
}

void caution(Notices& notices) {
    note(notices, "cold-and-hot-parts", sentence<"cold-and-hot">());
}

void fit_inserts(const job::Job& job, job::Kind kind, Fits& out) {
    const job::SeatForm& seat = *job.seat[kind];
    const job::Insert& insert = *seat.insert;
    const std::string& ring = !insert.material.empty() ? insert.material
                              : !seat.material.empty() ? seat.material
                                                       : job.head.material;
    const Sentence which = sentence<"the-insert">("kind"_is = job::kind_said(kind));
    const auto ring_elastic = elastic_of(job, ring), head_elastic = elastic_of(job, job.head.material);
    if (!ring_elastic) return no_material(out.notices, which, ring);
    if (!head_elastic) return no_material(out.notices, which, job.head.material);
    if (!(0 <= insert.inside && insert.inside < insert.outside)) return;
    const Sentence metal = is_aluminium(job.head.material) ? sentence<"aluminium">() : sentence<"iron">();
    if (!insert.interference)
        out.notices.assumptions.push_back(sentence<"interference-assumed">(
            "interference"_is = as_length(usual_insert_interference(insert.outside, job.head.material)),
            "insert"_is = which, "metal"_is = metal));
    const PressFit press{
        insert.inside,
        insert.outside,
        wall_ratio * insert.outside,
        insert.depth,
        insert.interference.value_or(usual_insert_interference(insert.outside, job.head.material)),
        *ring_elastic,
        *head_elastic};
    InsertFit fit = insert_fit(press, insert);
    warn_of_assembly(out.notices, fit, which);
    for (std::size_t v = 0; v < job.head.valves.size(); ++v)
        if (job.head.valves[v].kind == kind) {
            fit.valve = v;
            out.inserts.push_back(fit);
        }
}

void fit_guide(const job::Job& job, job::Kind kind, Fits& out) {
    const job::GuideForm& guide = *job.guide[kind];
    const Sentence which = sentence<"the-guide">("kind"_is = job::kind_said(kind));
    const std::string iron = "grey iron";  // the job names no guide material
    const auto ring = elastic_of(job, iron), head = elastic_of(job, job.head.material);
    if (!ring) return no_material(out.notices, which, iron);
    if (!head) return no_material(out.notices, which, job.head.material);
    const double bore = guide.bore.value_or(0);
    if (!(bore < *guide.outside)) return;
    const PressFit fit{
        bore,
        *guide.outside,
        wall_ratio * *guide.outside,
        guide.length.value_or(0),
        guide.interference.value_or(usual_guide_interference(*guide.outside, job.head.material)),
        *ring,
        *head};
    const double p = press_pressure(fit, fit.interference);
    const double hot = interference_at(fit, usual_running, usual_running);
    out.guides.push_back({kind, fit.interference, p, press_pressure(fit, hot),
                          hold_force(fit, p, press_friction), hoop_around(fit, p),
                          ring_temperature_to_enter(fit), around_temperature_to_enter(fit)});
    out.notices.assumptions.push_back(sentence<"guides-of">("guide"_is = which, "iron"_is = iron));
}

}  // namespace

double press_pressure(const PressFit& f, double interference) {
    const double B2 = f.B * f.B, D2 = f.D * f.D, d2 = f.d * f.d;
    const double give = ((B2 + D2) / (B2 - D2) + f.around.poisson) / f.around.modulus +
                        ((D2 + d2) / (D2 - d2) - f.ring.poisson) / f.ring.modulus;
    return std::max(0.0, interference / (f.D * give));
}

double interference_at(const PressFit& f, double ring_temperature, double around_temperature) {
    return f.interference + f.D * (f.ring.expansion * (ring_temperature - room_temperature) -
                                   f.around.expansion * (around_temperature - room_temperature));
}

double hold_force(const PressFit& f, double pressure, double mu) {
    return mu * pressure * pi * f.D * f.length;
}

double hoop_around(const PressFit& f, double pressure) {
    const double B2 = f.B * f.B, D2 = f.D * f.D;
    return pressure * (B2 + D2) / (B2 - D2);
}

double hoop_at_ring_bore(const PressFit& f, double pressure) {
    return -2 * pressure * f.D * f.D / (f.D * f.D - f.d * f.d);
}

double ring_temperature_to_enter(const PressFit& f) {
    return room_temperature - f.interference / (f.D * f.ring.expansion);
}

double around_temperature_to_enter(const PressFit& f) {
    return room_temperature + f.interference / (f.D * f.around.expansion);
}

double usual_insert_interference(double outside, const std::string& head_material) {
    return outside * (is_aluminium(head_material) ? 0.00275 : 0.00175);
}

double usual_guide_interference(double outside, const std::string& head_material) {
    return is_aluminium(head_material) ? outside * 0.038 / 9.5 : outside * 0.047 / 21.5;
}

Fits fits_of(const job::Job& job) {
    Fits out;
    for (const auto kind : job::both_kinds) {
        if (job.seat[kind] && job.seat[kind]->insert) fit_inserts(job, kind, out);
        if (job.guide[kind] && job.guide[kind]->outside) fit_guide(job, kind, out);
    }
    std::stable_sort(out.inserts.begin(), out.inserts.end(),
                     [](const InsertFit& a, const InsertFit& b) { return a.valve < b.valve; });
    if (!out.inserts.empty() || !out.guides.empty()) {
        caution(out.notices);
        out.notices.assumptions.push_back(sentence<"press-fits-assumed">(
            "ring"_is = as_number(wall_ratio, 0), "friction"_is = as_number(press_friction, 2),
            "degrees"_is = as_number(usual_running, 0), "deeper"_is = as_length(staking_room)));
    }
    return out;
}

}  // namespace seatwright::shape
