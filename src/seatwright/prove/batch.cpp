#include "seatwright/prove/batch.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <charconv>
#include <cmath>
#include <map>

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

bool is_break(const Series& s, std::size_t i) {
    return std::binary_search(s.breaks.begin(), s.breaks.end(), i);
}

void chart_individuals(Series& s) {
    s.chart = Chart::individuals;
    double sum = 0, count = 0;
    s.spreads.push_back(0);
    for (std::size_t i = 1; i < s.points.size(); ++i) {
        s.spreads.push_back(is_break(s, i) ? 0 : std::abs(s.points[i] - s.points[i - 1]));
        sum += s.spreads.back();
        count += is_break(s, i) ? 0 : 1;
    }
    s.sigma = count > 0 ? sum / count / d2(2) : s.sigma_overall;
    const Limits spread = range_limits(s.sigma, 2);
    s.spread_centre = spread.centre, s.spread_lower = spread.lower, s.spread_upper = spread.upper;
}

void chart_subgroups(Series& s, const HeadColumns& columns, const SeriesSums& sums) {
    const auto n = static_cast<int>(sums.most);
    s.chart = n <= largest_range_group ? Chart::mean_range : Chart::mean_deviation;
    const bool ranges = s.chart == Chart::mean_range;
    s.spreads = ranges ? columns.ranges : columns.sds;
    s.sigma = (ranges ? sums.ranges : sums.sds) / sums.heads / (ranges ? d2(n) : c4(n));
    const Limits spread = ranges ? range_limits(s.sigma, n) : deviation_limits(s.sigma, n);
    s.spread_centre = spread.centre, s.spread_lower = spread.lower, s.spread_upper = spread.upper;
}

// Unequal numbers of values: the pooled standard deviation with its own bias taken out.
void chart_unequal(Series& s, const HeadColumns& columns, const SeriesSums& sums) {
    s.chart = Chart::mean_deviation;
    s.spreads = columns.sds;
    s.sigma = std::sqrt(sums.squares / sums.spare) / c4(static_cast<int>(sums.spare) + 1);
    const int usual = std::max(2, static_cast<int>(std::lround(sums.values.n / sums.heads)));
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
std::optional<double> head_at_limit(const numerics::PairMoments& line, double last,
                                    const SeriesLimits& limits) {
    const bool rising = line.slope() > 0;
    const auto limit = rising ? limits.high : limits.low;
    if (!limit) return std::nullopt;
    const double factor = boost::math::quantile(boost::math::students_t(line.dof()), prediction_confidence);
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

// Of the heads since the last change of cutter.
void find_drift(Series& s, const numerics::PairMoments& line, std::size_t heads, double last_head,
                const SeriesLimits& limits) {
    if (heads < 3 || !(line.xx > 0)) return;
    s.drift_per_head = line.slope();
    if (line.slope_sd() <= 0) {
        s.drift_p = line.slope() == 0 ? 1 : 0;
    } else {
        const boost::math::students_t t(line.dof());
        s.drift_p =
            2 * boost::math::cdf(boost::math::complement(t, std::abs(line.slope()) / line.slope_sd()));
    }
    if (*s.drift_p < drift_significance) s.limit_at_head = head_at_limit(line, last_head, limits);
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
    if (what == "stem height") return {form->stem_height_min, form->stem_height_max};
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

std::optional<Series> make_series(Characteristic& of, const std::vector<std::string>& heads,
                                  const SeriesLimits& limits) {
    const SeriesSums sums = of.sums();
    if (sums.heads < 2) return std::nullopt;
    Series s;
    s.what = of.what();
    s.kind = of.kind();
    s.limit_low = limits.low;
    s.limit_high = limits.high;
    const HeadColumns& columns = of.columns(heads);
    s.heads = columns.names;
    s.points = columns.means;
    s.subgroup_sizes = columns.sizes;
    s.breaks = columns.breaks;
    s.n = static_cast<std::size_t>(sums.values.n);
    s.mean = sums.values.mean;
    s.sigma_overall = sums.values.sd();
    if (sums.most == 1)
        chart_individuals(s);
    else if (sums.least == sums.most)
        chart_subgroups(s, columns, sums);
    else
        chart_unequal(s, columns, sums);
    const Limits points = three_sigma(s.mean, s.sigma / std::sqrt(sums.values.n / sums.heads));
    s.centre = points.centre, s.lower = points.lower, s.upper = points.upper;
    const Capability now = capability(s.mean, s.sigma, s.n, limits.low, limits.high);
    s.cp = now.cp, s.cpk = now.cpk, s.cpk_low = now.cpk_low, s.cpk_high = now.cpk_high;
    s.ppk = capability(s.mean, s.sigma_overall, s.n, limits.low, limits.high).cpk;
    run_rules(s);
    const std::size_t from = s.breaks.empty() ? 0 : s.breaks.back();
    find_drift(s, from == 0 ? sums.drift : of.sums_from(columns.heads[from]).drift,
               columns.heads.size() - from, of.by_head()[columns.heads.back()].number, limits);
    find_tolerance(s);
    return s;
}

std::vector<Characteristic> characteristics(const job::Job& job) {
    std::vector<Characteristic> all;
    for (const std::string_view what : {"runout", "width", "stem height", "eccentricity", "vacuum"})
        for (const auto kind : job::both_kinds) {
            const auto& form = job.seat[kind];
            all.emplace_back(std::string(what), kind, what != "eccentricity" && what != "vacuum",
                             what == "width" && form ? std::optional(form->width) : std::nullopt);
        }
    return all;
}

void note(HeadValues& head, const Characteristic& of, const SeatProof& seat, const std::string& pilot) {
    const auto value = value_of(seat, of.what());
    if (!value) return;
    head.valves.push_back(seat.valve);
    head.values.push_back(*value);
    head.cutters.push_back(seat.cutter);
    head.pilots.push_back(of.is_parted() ? pilot : "");
}

Boxes<Series> make_batch(const job::Job& job, std::vector<Characteristic>& all,
                         const std::vector<std::string>& heads) {
    Boxes<Series> out;
    for (Characteristic& of : all) {
        if (!of.series) {
            auto made = make_series(of, heads, limits_of(of.what(), job.seat[of.kind()]));
            of.series.emplace();
            if (made) *of.series = std::make_shared<const Series>(std::move(*made));
        }
        if (*of.series) out.push_box(*of.series);
    }
    return out;
}

}  // namespace seatwright::prove
