#include "seatwright/find/suspects.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>

#include "seatwright/find/guides.hpp"
#include "seatwright/find/stood_by.hpp"

namespace seatwright::find {
namespace {

// Fewer touches than this cannot tell a pair of bad ones from a pair of good ones.
constexpr std::size_t least_for_pairs = 6;
// Two touches whose d² agree to this share say the same thing of each other: neither can be preferred.
constexpr double same_evidence = 1e-3;

using Indices = std::vector<std::size_t>;
constexpr std::size_t no_reading = static_cast<std::size_t>(-1);

std::vector<Reading> pick(std::span<const Reading> readings, const Indices& which, std::size_t without,
                          std::size_t and_without) {
    std::vector<Reading> picked;
    picked.reserve(which.size());
    for (const std::size_t i : which)
        if (i != without && i != and_without) picked.push_back(readings[i]);
    return picked;
}

struct Case {
    std::span<const Expected> guides;
    std::span<const Reading> readings;
    const Prior& prior;

    std::optional<double> leave_out(const Indices& kept, std::size_t i, std::size_t also) const {
        return innovation(guides, readings[i], pick(readings, kept, i, also), prior);
    }
    std::optional<double> chi2(const Indices& kept, std::size_t without, std::size_t and_without) const {
        const auto pose = fit_pose(guides, pick(readings, kept, without, and_without), prior);
        if (!pose) return std::nullopt;
        return pose->chi2;
    }
};

struct Worst {
    std::size_t reading = 0;
    double d2 = -1;
    double next_d2 = -1;  // the second worst
};

Worst worst_of(const Case& the, const Indices& kept) {
    Worst worst;
    for (const std::size_t i : kept) {
        const auto d2 = the.leave_out(kept, i, i);
        if (!d2) continue;
        if (*d2 > worst.d2) {
            worst.next_d2 = worst.d2;
            worst.d2 = *d2;
            worst.reading = i;
        } else {
            worst.next_d2 = std::max(worst.next_d2, *d2);
        }
    }
    return worst;
}

// Two bad touches that hide each other: their joint fall in chi2 is beyond its own quantile though neither
// is suspect alone, and each is suspect once the other is out.
std::optional<std::pair<std::size_t, std::size_t>> masked_pair(const Case& the, const Indices& kept) {
    const std::size_t n = kept.size();
    if (n < least_for_pairs) return std::nullopt;
    const auto all = the.chi2(kept, no_reading, no_reading);
    if (!all) return std::nullopt;
    const double pairs = 0.5 * static_cast<double>(n * (n - 1));
    const boost::math::chi_squared four(4);
    const double threshold = quantile(complement(four, false_alarm_rate / pairs));
    if (*all <= threshold) return std::nullopt;  // no pair can lower chi2 by more than all of it
    double best = threshold;
    std::optional<std::pair<std::size_t, std::size_t>> found;
    for (std::size_t a = 0; a < n; ++a)
        for (std::size_t b = a + 1; b < n; ++b) {
            // Two touches of one guide that agree speak for each other: it lies where they say.
            if (the.readings[kept[a]].guide == the.readings[kept[b]].guide) continue;
            const auto rest = the.chi2(kept, kept[a], kept[b]);
            if (!rest || *all - *rest <= best) continue;
            const auto one = the.leave_out(kept, kept[a], kept[b]);
            const auto other = the.leave_out(kept, kept[b], kept[a]);
            const double limit = suspect_threshold(n - 1);
            if (!one || !other || *one <= limit || *other <= limit) continue;
            best = *all - *rest;
            found = {kept[a], kept[b]};
        }
    return found;
}

// A good touch thrown out for the sake of a bad one that went later comes back.
void readmit(const Case& the, Indices& kept, Indices& out) {
    for (std::size_t round = 0; round < the.readings.size() && !out.empty(); ++round) {
        double least = suspect_threshold(kept.size() + 1);
        auto back = out.end();
        for (auto it = out.begin(); it != out.end(); ++it) {
            const auto d2 = the.leave_out(kept, *it, *it);
            if (d2 && *d2 <= least) {
                least = *d2;
                back = it;
            }
        }
        if (back == out.end()) return;
        kept.insert(std::upper_bound(kept.begin(), kept.end(), *back), *back);
        out.erase(back);
    }
}

}  // namespace

double suspect_threshold(std::size_t n) {
    return -2 * std::log(false_alarm_rate / static_cast<double>(std::max<std::size_t>(n, 1)));
}

std::optional<double> innovation(std::span<const Expected> guides, const Reading& reading,
                                 std::span<const Reading> others, const Prior& prior) {
    const auto pose = fit_pose(guides, others, prior);
    if (!pose) return std::nullopt;
    const bool same_guide =
        std::any_of(others.begin(), others.end(), [&](const Reading& o) { return o.guide == reading.guide; });
    if (!pose->yaw_known && !same_guide) {
        // The others foretell how far away it lies, not in which direction: S⁻¹ leaves the direction out, and
        // d² is what it adds to chi2.
        std::vector<Reading> all(others.begin(), others.end());
        all.push_back(reading);
        const auto with = fit_pose(guides, all, prior);
        if (!with) return std::nullopt;
        return std::max(0.0, with->chi2 - pose->chi2);
    }
    const std::vector<Combined> read = combine(guides.size(), others);
    Place place = place_guide(guides[reading.guide], read[reading.guide], *pose);
    const double sd = std::max(reading.sd, least_sd);
    place.covariance.diagonal().array() += sd * sd;
    const Vec2 miss = reading.at - place.at;
    return miss.dot(place.covariance.inverse() * miss);
}

Sorted sort_out(std::span<const Expected> guides, std::span<const Reading> readings, const Prior& prior) {
    const Case the{guides, readings, prior};
    Sorted result;
    Indices kept, out;
    const bool all_needed = result.stood_by_needed = needs_stood_by(guides, readings, prior);
    for (std::size_t i = 0; i < readings.size(); ++i)
        if (all_needed || !readings[i].keep) kept.push_back(i);
    while (kept.size() > 1 && !all_needed) {
        const Worst worst = worst_of(the, kept);
        if (worst.d2 > suspect_threshold(kept.size())) {
            if (worst.next_d2 >= worst.d2 * (1 - same_evidence)) {
                result.undecidable = true;
                break;
            }
            out.push_back(worst.reading);
            std::erase(kept, worst.reading);
        } else if (const auto pair = masked_pair(the, kept)) {
            for (const std::size_t i : {pair->first, pair->second}) {
                out.push_back(i);
                std::erase(kept, i);
            }
        } else {
            break;
        }
    }
    readmit(the, kept, out);

    result.suspect.assign(readings.size(), false);
    for (const std::size_t i : out) result.suspect[i] = true;
    result.set_aside = result.suspect;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        result.innovation2.push_back(the.leave_out(kept, i, i));
        if (result.undecidable && result.innovation2[i].value_or(0) > suspect_threshold(kept.size()))
            result.suspect[i] = true;
    }
    for (const std::size_t i : kept) result.kept.push_back(readings[i]);
    return result;
}

}  // namespace seatwright::find
