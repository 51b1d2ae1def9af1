#include "seatwright/find/pattern.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numbers>

#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

struct Way {
    Pattern pattern;
    double x_sign, y_sign;
};
constexpr Way ways[] = {
    {Pattern::end_for_end, -1, -1}, {Pattern::mirrored, -1, 1}, {Pattern::mirrored_end_for_end, 1, -1}};

// Sum of squares in standard deviations below which two layouts cannot be told apart by touching every guide.
constexpr double indistinct = 9.0;

Vec2 box_centre(std::span<const Vec2> points) {
    Vec2 low = points.front(), high = points.front();
    for (const Vec2& p : points) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    return 0.5 * (low + high);
}

// For each guide of the declared pattern the guide that lies nearest there once the head is turned; empty
// when two would share one.
std::vector<std::size_t> names_in_order(std::span<const Vec2> declared, std::span<const Vec2> turned) {
    const Vec2 shift = box_centre(declared) - box_centre(turned);
    std::vector<std::size_t> names(declared.size());
    std::vector<bool> taken(declared.size(), false);
    for (std::size_t i = 0; i < declared.size(); ++i) {
        std::size_t nearest = 0;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t k = 0; k < turned.size(); ++k) {
            const double d = (turned[k] + shift - declared[i]).squaredNorm();
            if (d < least) {
                least = d;
                nearest = k;
            }
        }
        if (taken[nearest]) return {};
        taken[nearest] = true;
        names[i] = nearest;
    }
    return names;
}

std::vector<Vec2> maps_of(std::span<const Expected> guides) {
    std::vector<Vec2> maps;
    for (const Expected& guide : guides) maps.push_back(guide.map);
    return maps;
}

// A head lies along the table: a fit that turns it beyond a right angle is another way round.
std::optional<double> fit_p(std::span<const Expected> guides, std::span<const Reading> readings,
                            const Prior& prior) {
    const auto pose = fit_pose(guides, readings, prior);
    if (!pose) return std::nullopt;
    if (std::cos(pose->yaw) < 0) return 0;
    return chi_square_p(pose->chi2, degrees_of_freedom(readings.size(), prior));
}

}  // namespace

std::optional<double> chi_square_p(double chi2, int dof) {
    if (dof < 1 || !std::isfinite(chi2)) return std::nullopt;
    return cdf(complement(boost::math::chi_squared(dof), std::max(0.0, chi2)));
}

int degrees_of_freedom(std::size_t readings, const Prior& prior) {
    return 2 * static_cast<int>(readings) - 3 + (prior.offset_sd ? 2 : 0) + (prior.yaw_sd ? 1 : 0);
}

std::vector<Hypothesis> other_ways_round(std::span<const Expected> guides) {
    std::vector<Hypothesis> all;
    const std::vector<Vec2> declared = maps_of(guides);
    std::vector<std::size_t> same(guides.size());
    for (std::size_t i = 0; i < same.size(); ++i) same[i] = i;
    for (const Way& way : ways) {
        Hypothesis one{way.pattern, declared, same};
        for (Vec2& m : one.maps) m = Vec2(way.x_sign * m.x(), way.y_sign * m.y());
        all.push_back(one);
        one.true_name = names_in_order(declared, one.maps);
        if (!one.true_name.empty() && one.true_name != same) all.push_back(std::move(one));
    }
    return all;
}

std::optional<Recognised> recognise(std::span<const Expected> guides, std::span<const Reading> readings,
                                    const Prior& prior) {
    const auto declared_p = fit_p(guides, readings, prior);
    if (!declared_p || *declared_p >= reject_below) return std::nullopt;
    // A turned head has another offset than the last one's: the offset prior says nothing of it.
    Prior loose = prior;
    loose.offset_sd.reset();
    std::optional<Recognised> best;
    for (Hypothesis& other : other_ways_round(guides)) {
        std::vector<Expected> turned(guides.begin(), guides.end());
        for (std::size_t v = 0; v < turned.size(); ++v) turned[v].map = other.maps[v];
        std::vector<Reading> renamed(readings.begin(), readings.end());
        for (Reading& r : renamed) r.guide = other.true_name[r.guide];
        const auto p = fit_p(turned, renamed, loose);
        if (p && *p > accept_above && (!best || *p > best->p))
            best = Recognised{std::move(other), *declared_p, *p};
    }
    return best;
}

std::vector<Pattern> look_alikes(std::span<const Expected> guides, double touch_sd) {
    std::vector<Pattern> alike;
    if (guides.size() < 2) return alike;
    const std::vector<Vec2> declared = maps_of(guides);
    for (const Way& way : ways) {
        std::vector<Vec2> turned = declared;
        for (Vec2& m : turned) m = Vec2(way.x_sign * m.x(), way.y_sign * m.y());
        const std::vector<std::size_t> names = names_in_order(declared, turned);
        if (names.empty()) continue;
        const Vec2 shift = box_centre(declared) - box_centre(turned);
        double sum = 0;
        for (std::size_t i = 0; i < guides.size(); ++i) {
            const double sd2 =
                guides[i].scatter * guides[i].scatter + touch_sd * touch_sd + least_sd * least_sd;
            sum += (turned[names[i]] + shift - declared[i]).squaredNorm() / sd2;
        }
        if (sum < indistinct) alike.push_back(way.pattern);
    }
    return alike;
}

Sentence words_of(Pattern pattern) {
    switch (pattern) {
        case Pattern::end_for_end:
            return sentence<"end-for-end">();
        case Pattern::mirrored:
            return sentence<"mirrored">();
        case Pattern::mirrored_end_for_end:
            return sentence<"mirrored-end-for-end">();
        case Pattern::as_declared:
            break;
    }
    return sentence<"as-declared">();
}

}  // namespace seatwright::find
