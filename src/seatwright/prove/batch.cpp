#include "seatwright/prove/batch.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <charconv>
#include <cmath>
#include <map>

#include "seatwright/base/numerics/statistics.hpp"
#include "seatwright/prove/capability.hpp"
#include "seatwright/prove/control.hpp"
#include "seatwright/prove/seat.hpp"

namespace seatwright::prove {

namespace {

constexpr double prediction_confidence = 0.95;  // one-sided, for the head at which the limit is met
constexpr double drift_significance = 0.05;     // a slope less sure than this foretells nothing
constexpr double furthest_head = 1e6;           // heads ahead; beyond, the limit is as good as never met
constexpr int largest_range_group = 10;         // ranges of more values waste what they know
constexpr double tolerance_share = 0.95, tolerance_confidence = 0.95;

struct Group {
    std::size_t head = 0;
    std::vector<double> values;
    std::string cutter;
};

std::vector<Group> group_by_head(const std::vector<Sample>& samples, std::size_t heads) {
    std::vector<Group> all(heads);
    for (const auto& s : samples) {
        all[s.head].head = s.head;
        all[s.head].values.push_back(s.value);
        if (!s.cutter.empty()) all[s.head].cutter = s.cutter;
    }
    std::erase_if(all, [](const Group& g) { return g.values.empty(); });
    return all;
}

std::vector<std::size_t> cutter_changes(const std::vector<Group>& groups) {
    std::vector<std::size_t> out;
    std::string fitted;
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const auto& now = groups[i].cutter;
        if (now.empty()) continue;
        if (!fitted.empty() && now != fitted) out.push_back(i);
        fitted = now;
    }
    return out;
}

double range_of(const std::vector<double>& values) {
    const auto [low, high] = std::minmax_element(values.begin(), values.end());
    return *high - *low;
}

double mean_of(const std::vector<double>& values) {
    return numerics::summary(values).mean;
}

bool is_break(const Series& s, std::size_t i) {
    return std::find(s.breaks.begin(), s.breaks.end(), i) != s.breaks.end();
}

void chart_individuals(Series& s) {
    s.chart = Chart::individuals;
    std::vector<double> moving;
    s.spreads.push_back(0);
    for (std::size_t i = 1; i < s.points.size(); ++i) {
        s.spreads.push_back(is_break(s, i) ? 0 : std::abs(s.points[i] - s.points[i - 1]));
        if (!is_break(s, i)) moving.push_back(s.spreads.back());
    }
    s.sigma = moving.empty() ? s.sigma_overall : mean_of(moving) / d2(2);
    const Limits spread = range_limits(s.sigma, 2);
    s.spread_centre = spread.centre, s.spread_lower = spread.lower, s.spread_upper = spread.upper;
}

void chart_subgroups(Series& s, const std::vector<Group>& groups) {
    const auto n = static_cast<int>(groups.front().values.size());
    s.chart = n <= largest_range_group ? Chart::mean_range : Chart::mean_deviation;
    for (const auto& g : groups)
        s.spreads.push_back(s.chart == Chart::mean_range ? range_of(g.values)
                                                         : numerics::summary(g.values).sd);
    s.sigma = mean_of(s.spreads) / (s.chart == Chart::mean_range ? d2(n) : c4(n));
    const Limits spread =
        s.chart == Chart::mean_range ? range_limits(s.sigma, n) : deviation_limits(s.sigma, n);
    s.spread_centre = spread.centre, s.spread_lower = spread.lower, s.spread_upper = spread.upper;
}

// Unequal numbers of values: the pooled standard deviation with its own bias taken out.
void chart_unequal(Series& s, const std::vector<Group>& groups) {
    s.chart = Chart::mean_deviation;
    double squares = 0, dof = 0;
    for (const auto& g : groups) {
        const numerics::Summary one = numerics::summary(g.values);
        s.spreads.push_back(one.sd);
        squares += one.sd * one.sd * static_cast<double>(one.n - 1);
        dof += static_cast<double>(one.n - 1);
    }
    s.sigma = std::sqrt(squares / dof) / c4(static_cast<int>(dof) + 1);
    const int usual = std::max(
        2, static_cast<int>(std::lround(static_cast<double>(s.n) / static_cast<double>(groups.size()))));
    const Limits spread = deviation_limits(s.sigma, usual);
    s.spread_centre = spread.centre, s.spread_lower = spread.lower, s.spread_upper = spread.upper;
}

void run_rules(Series& s) {
    if (s.sigma <= 0) return;
    std::size_t from = 0;
    for (std::size_t end = 1; end <= s.points.size(); ++end) {
        if (end < s.points.size() && !is_break(s, end)) continue;
        std::vector<double> z;
        for (std::size_t i = from; i < end; ++i)
            z.push_back((s.points[i] - s.centre) * std::sqrt(static_cast<double>(s.subgroup_sizes[i])) /
                        s.sigma);
        for (const auto& hit : western_electric(z)) s.signals.push_back({s.heads[from + hit.at], hit.rule});
        from = end;
    }
}

// The first whole head after the last on record whose prediction bound meets the limit.
std::optional<double> head_at_limit(const numerics::Line& line, double last, const SeriesLimits& limits) {
    const bool rising = line.slope() > 0;
    const auto limit = rising ? limits.high : limits.low;
    if (!limit) return std::nullopt;
    const double factor =
        boost::math::quantile(boost::math::students_t(line.fit.dof()), prediction_confidence);
    const auto met = [&](double head) {
        const double reach = factor * line.sd_of_new_at(head);
        return rising ? line.at(head) + reach >= *limit : line.at(head) - reach <= *limit;
    };
    double low = last, high = last + 1;
    for (double ahead = 1; !met(high); ahead *= 2) {
        if (ahead > furthest_head) return std::nullopt;
        low = high;
        high = last + 2 * ahead;
    }
    // The bound moves one way only beyond the mean of the heads, so halving finds the first.
    for (int i = 0; i < 40 && high - low > 1; ++i) {
        const double middle = std::floor((low + high) / 2);
        (met(middle) ? high : low) = middle;
    }
    return high;
}

void find_drift(Series& s, const std::vector<Group>& groups, const std::vector<double>& numbers,
                const SeriesLimits& limits) {
    std::vector<double> x, y;
    const std::size_t from = s.breaks.empty() ? 0 : s.breaks.back();
    for (std::size_t i = from; i < groups.size(); ++i)
        for (const double v : groups[i].values) {
            x.push_back(numbers[groups[i].head]);
            y.push_back(v);
        }
    if (groups.size() - from < 3) return;
    const auto line = numerics::fit_line(x, y, mean_of(x));
    if (!line) return;
    s.drift_per_head = line->slope();
    if (line->slope_sd() <= 0) {
        s.drift_p = line->slope() == 0 ? 1 : 0;
    } else {
        const boost::math::students_t t(line->fit.dof());
        s.drift_p =
            2 * boost::math::cdf(boost::math::complement(t, std::abs(line->slope()) / line->slope_sd()));
    }
    if (*s.drift_p < drift_significance) s.limit_at_head = head_at_limit(*line, x.back(), limits);
}

void find_tolerance(Series& s) {
    if (s.n < 3) return;
    const bool both = s.limit_low && s.limit_high;
    const double k = both ? two_sided_tolerance_factor(s.n, tolerance_share, tolerance_confidence)
                          : one_sided_tolerance_factor(s.n, tolerance_share, tolerance_confidence);
    if (both || s.limit_low) s.tolerance_low = s.mean - k * s.sigma_overall;
    if (both || s.limit_high) s.tolerance_high = s.mean + k * s.sigma_overall;
}

std::optional<double> value_of(const SeatProof& seat, std::string_view what) {
    if (what == "runout") return seat.runout;
    if (what == "eccentricity") return seat.eccentricity;
    if (what == "width") return seat.width;
    if (what == "vacuum") return seat.vacuum;
    return seat.stem_height;
}

SeriesLimits limits_of(const std::string& what, const std::optional<job::SeatForm>& form) {
    if (what == "vacuum") return {least_vacuum(form.value_or(job::SeatForm{})), std::nullopt};
    if (!form) return {};
    if (what == "runout") return {std::nullopt, form->runout_max};
    if (what == "stem height") return {std::nullopt, form->stem_height_max};
    if (what == "width" && form->width_tol)
        return {form->width - *form->width_tol, form->width + *form->width_tol};
    return {};
}

}  // namespace

std::vector<double> head_numbers(const std::vector<std::string>& heads) {
    std::vector<double> out;
    for (const auto& name : heads) {
        long number = 0;
        const auto read = std::from_chars(name.data(), name.data() + name.size(), number);
        const bool whole = read.ec == std::errc() && read.ptr == name.data() + name.size();
        if (!whole || (!out.empty() && static_cast<double>(number) <= out.back())) {
            out.clear();
            for (std::size_t i = 0; i < heads.size(); ++i) out.push_back(static_cast<double>(i + 1));
            return out;
        }
        out.push_back(static_cast<double>(number));
    }
    return out;
}

std::optional<Series> make_series(std::string what, job::Kind kind, const std::vector<Sample>& samples,
                                  const std::vector<std::string>& heads, const SeriesLimits& limits) {
    const auto groups = group_by_head(samples, heads.size());
    if (groups.size() < 2) return std::nullopt;
    Series s;
    s.what = std::move(what);
    s.kind = kind;
    s.limit_low = limits.low;
    s.limit_high = limits.high;
    std::vector<double> all;
    for (const auto& g : groups) {
        s.heads.push_back(heads[g.head]);
        s.points.push_back(mean_of(g.values));
        s.subgroup_sizes.push_back(g.values.size());
        all.insert(all.end(), g.values.begin(), g.values.end());
    }
    const numerics::Summary overall = numerics::summary(all);
    s.n = overall.n;
    s.mean = overall.mean;
    s.sigma_overall = overall.sd;
    s.breaks = cutter_changes(groups);
    const auto [least, most] = std::minmax_element(s.subgroup_sizes.begin(), s.subgroup_sizes.end());
    if (*most == 1)
        chart_individuals(s);
    else if (*least == *most)
        chart_subgroups(s, groups);
    else
        chart_unequal(s, groups);
    const double usual = static_cast<double>(s.n) / static_cast<double>(groups.size());
    const Limits points = three_sigma(s.mean, s.sigma / std::sqrt(usual));
    s.centre = points.centre, s.lower = points.lower, s.upper = points.upper;
    const Capability now = capability(s.mean, s.sigma, s.n, limits.low, limits.high);
    s.cp = now.cp, s.cpk = now.cpk, s.cpk_low = now.cpk_low, s.cpk_high = now.cpk_high;
    s.ppk = capability(s.mean, s.sigma_overall, s.n, limits.low, limits.high).cpk;
    run_rules(s);
    find_drift(s, groups, head_numbers(heads), limits);
    find_tolerance(s);
    return s;
}

std::vector<Samples> samples_of(const job::Job& job, const std::vector<MeasuredSeat>& seats) {
    std::vector<Samples> out;
    for (const char* what : {"runout", "width", "stem height", "eccentricity", "vacuum"})
        for (const auto kind : job::both_kinds) {
            auto& samples = out.emplace_back(Samples{what, kind, {}}).all;
            for (const auto& [head, result] : seats) {
                const SeatProof& seat = result->proof;
                if (job.head.valves[seat.valve].kind != kind) continue;
                if (const auto value = value_of(seat, what))
                    samples.push_back({head, seat.valve, *value, seat.cutter});
            }
        }
    return out;
}

std::vector<Series> make_batch(const job::Job& job, const std::vector<Samples>& samples,
                               const std::vector<std::string>& heads) {
    std::vector<Series> out;
    for (const auto& [what, kind, all] : samples)
        if (auto series = make_series(what, kind, all, heads, limits_of(what, job.seat[kind])))
            out.push_back(std::move(*series));
    return out;
}

}  // namespace seatwright::prove
