#include "seatwright/shape/cutter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/shape/section.hpp"
#include "seatwright/shape/wording.hpp"

namespace seatwright::shape {

namespace {

constexpr double same_angle = rad(0.1);
constexpr double angle_noise = 1e-12;  // of degrees turned into radians
// mm. Of a length written in inches on the shelf and in mm in the job, or the other way round: five inch
// decimals are right to 0.00013 mm.
constexpr double length_noise = 2e-4;

// Everything this blade lacks for the form; empty: it fits.
std::vector<std::string> faults_of(const job::Cutter& cutter, const std::vector<job::Facet>& form,
                                   double gauge, LengthUnit unit) {
    std::vector<std::string> faults;
    if (cutter.facets.size() != form.size()) {
        faults.push_back(fmt::format("facets: {} where the form has {}", cutter.facets.size(), form.size()));
    } else {
        for (std::size_t i = 0; i < form.size(); ++i) {
            const job::Facet &has = cutter.facets[i], &wants = form[i];
            if (std::abs(has.angle - wants.angle) > same_angle + angle_noise)
                faults.push_back(fmt::format("{} facet where the form has {}", angle_words(has.angle),
                                             angle_words(wants.angle)));
            else if (has.width < wants.width - length_noise)
                faults.push_back(fmt::format("{} facet {} short", angle_words(wants.angle),
                                             length_words(wants.width - has.width, unit)));
        }
    }
    const auto& range = cutter.gauge_diameter;
    if (gauge < range.low - length_noise || gauge > range.high + length_noise)
        faults.push_back(fmt::format("gauge diameter {} outside its {} to {}", length_words(gauge, unit),
                                     length_words(range.low, unit), length_words(range.high, unit)));
    return faults;
}

// Least first, in length_noise: deviation of the face (width and contact diameter grow together), then of the
// other facets.
std::pair<double, double> deviation(const job::Cutter& cutter, const std::vector<job::Facet>& form,
                                    std::size_t face) {
    double others = 0;
    for (std::size_t i = 0; i < form.size(); ++i)
        if (i != face) others += std::abs(cutter.facets[i].width - form[i].width);
    const double wider = std::abs(cutter.facets[face].width - form[face].width);
    // Alike but for that noise is alike, so that the shelf's order decides.
    const auto whole = [](double length) { return std::round(length / length_noise); };
    return {whole(wider * (1 + std::cos(form[face].angle))), whole(others)};
}

}  // namespace

CutterChoice choose_cutter(const job::Job& job, job::Kind kind) {
    CutterChoice choice;
    if (!job.valve[kind] || !job.seat[kind]) return choice;
    const auto form = facets_of(*job.seat[kind]);
    const std::size_t face = job.seat[kind]->throat.size();
    const double gauge = section_of(*job.valve[kind], *job.seat[kind]).gauge;
    for (std::size_t c = 0; c < job.cutters.size(); ++c) {
        if (!faults_of(job.cutters[c], form, gauge, job.units).empty()) continue;
        if (!choice.cutter ||
            deviation(job.cutters[c], form, face) < deviation(job.cutters[*choice.cutter], form, face))
            choice.cutter = c;
    }
    if (!choice.cutter) return choice;
    const auto& facets = job.cutters[*choice.cutter].facets;
    choice.blade = section_of(facets, face, gauge);
    choice.blade_setting = gauge;
    choice.cut_width = facets[face].width;
    choice.cut_contact_od = choice.blade.contact_od;
    return choice;
}

std::vector<NearMiss> near_misses(const job::Job& job, job::Kind kind) {
    std::vector<NearMiss> out;
    if (!job.valve[kind] || !job.seat[kind]) return out;
    const auto form = facets_of(*job.seat[kind]);
    const double gauge = section_of(*job.valve[kind], *job.seat[kind]).gauge;
    std::vector<std::size_t> count;
    for (std::size_t c = 0; c < job.cutters.size(); ++c) {
        const auto faults = faults_of(job.cutters[c], form, gauge, job.units);
        if (faults.empty()) continue;
        const auto place = static_cast<std::ptrdiff_t>(
            std::upper_bound(count.begin(), count.end(), faults.size()) - count.begin());
        count.insert(count.begin() + place, faults.size());
        out.insert(out.begin() + place, NearMiss{kind, c, fmt::format("{}", fmt::join(faults, ", "))});
    }
    return out;
}

}  // namespace seatwright::shape
