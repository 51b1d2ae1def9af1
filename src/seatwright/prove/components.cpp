#include "seatwright/prove/components.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/find/variance.hpp"
#include "seatwright/prove/capability.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

namespace {

// Guides nearer alike than this (rad, 0.01 deg) are held by one setup.
constexpr double alike = 1.7e-4;
// Scatter below this share of the mean is rounding.
constexpr double rounding_share = 1e-9;

struct Effects {
    double mean = 0;
    std::map<std::size_t, double> position;  // means less the mean, by valve
    double ms_head = 0, ms_position = 0, ms_rest = 0;
};

// Of the heads' means and of what each position lies off them.
Effects effects_of(const RowSums& sums) {
    const double rows = sums.heads.n, columns = static_cast<double>(sums.rest.size());
    Effects e;
    e.mean = sums.heads.mean;
    e.ms_head = columns * sums.heads.squares / (rows - 1);
    double ss = 0;
    for (const auto& [valve, rest] : sums.rest) {
        e.position[valve] = rest.mean;
        e.ms_position += rows * rest.mean * rest.mean / (columns - 1);
        ss += rest.squares;
    }
    e.ms_rest = ss / ((rows - 1) * (columns - 1));
    return e;
}

// Splits `variance` by the groups its effects fall in: the part between groups, never more than there is.
double between_groups(const std::map<std::string, numerics::Moments>& groups, double variance) {
    std::vector<numerics::Moments> all;
    all.reserve(groups.size());
    for (const auto& [name, moments] : groups) all.push_back(moments);
    const auto a = find::one_way(all);
    return a ? std::min(variance, a->between_sd * a->between_sd) : 0;
}

std::string setup_name(const job::Job& job, std::size_t valve) {
    const auto& v = job.head.valves[valve];
    return fmt::format("{} {}", std::lround(v.incline / alike), std::lround(v.cant / alike));
}

std::vector<Component> parted(const job::Job& job, const Characteristic& of, const RowSums& sums) {
    std::vector<Component> out;
    const Effects e = effects_of(sums);
    const double rows = sums.heads.n, columns = static_cast<double>(sums.rest.size());
    double head = std::max(0.0, e.ms_head - e.ms_rest) / columns;
    double position = std::max(0.0, e.ms_position - e.ms_rest) / rows;
    double rest = e.ms_rest;
    const double total = head + position + rest;
    // All values alike but for rounding: nothing varies.
    if (total <= std::pow(rounding_share * e.mean, 2)) return out;
    std::map<std::string, numerics::Moments> by_setup, by_pilot;
    for (const auto& [valve, effect] : e.position) {
        numerics::Moments& setup = by_setup[setup_name(job, valve)];
        setup = setup + numerics::Moments{1, effect, 0};
    }
    // What is left of a seat is what it lies off its head's mean, less its position's.
    for (const auto& [which, moments] : sums.by_pilot) {
        numerics::Moments& pilot = by_pilot[which.first];
        pilot =
            pilot + numerics::Moments{moments.n, moments.mean - e.position.at(which.second), moments.squares};
    }
    const auto add = [&](const char* factor, double variance, Sentence remark) {
        out.push_back(
            {of.what(), of.kind(), factor, std::sqrt(variance), variance / total, std::move(remark)});
    };
    if (sums.by_cutter.size() > 1) {
        const double part = between_groups(sums.by_cutter, head);
        head -= part;
        add("cutter", part, sentence<"changes-with-cutter">());
    }
    if (by_setup.size() > 1) {
        const double part = between_groups(by_setup, position);
        position -= part;
        add("setup", part, sentence<"goes-with-setup">());
    }
    if (by_pilot.size() > 1) {
        const double part = between_groups(by_pilot, rest);
        rest -= part;
        add("pilot", part, sentence<"goes-with-pilot">());
    }
    add("head", head, sentence<"head-as-a-whole">());
    add("position", position, sentence<"same-in-every-head">());
    add("rest", rest, sentence<"from-seat-to-seat">());
    return out;
}

std::vector<Position> positions_of(Characteristic& of, const std::vector<std::string>& heads) {
    std::vector<Position> out;
    const ByValve sums = of.by_valve();
    if (sums.of.size() < 2) return out;
    const auto& worst_in = of.columns(heads).worst_in;
    for (const auto& [valve, moments] : sums.of) {
        const auto worst = worst_in.find(valve);
        out.push_back({of.what(), valve, static_cast<std::size_t>(moments.n), moments.mean, moments.sd(),
                       worst == worst_in.end() ? 0 : worst->second});
    }
    return out;
}

}  // namespace

std::vector<Position> positions_of(std::vector<Characteristic>& all, const std::vector<std::string>& heads) {
    std::vector<Position> out;
    if (heads.size() < 2) return out;
    for (Characteristic& of : all) {
        if (!of.is_parted()) continue;
        if (!of.positions) of.positions = positions_of(of, heads);
        out.insert(out.end(), of.positions->begin(), of.positions->end());
    }
    return out;
}

std::vector<Component> components_of(const job::Job& job, std::vector<Characteristic>& all) {
    std::vector<Component> out;
    for (Characteristic& of : all) {
        if (!of.is_parted()) continue;
        if (!of.components) {
            const RowSums sums = of.rows();
            of.components.emplace();
            if (sums.heads.n >= 3 && sums.rest.size() >= 2) of.components = parted(job, of, sums);
        }
        out.insert(out.end(), of.components->begin(), of.components->end());
    }
    return out;
}

Sampling sampling_of(const Counted& seats) {
    Sampling out;
    out.measured = seats.measured;
    out.passed = seats.passed;
    for (const double rate : {0.90, 0.95, 0.99}) {
        const std::size_t all = sample_with_failures(out.measured - out.passed, rate, out.confidence);
        out.plans.push_back(
            {rate, zero_failure_sample(rate, out.confidence), all > out.measured ? all - out.measured : 0});
    }
    if (out.measured > 0) out.pass_rate_low = pass_rate_bound(out.passed, out.measured, out.confidence);
    std::vector<Sentence> said{sentence<"sampling">("passed"_is = out.passed, "measured"_is = out.measured,
                                                    "rate"_is = as_percent(100 * out.pass_rate_low, 1))};
    for (const auto& plan : out.plans)
        if (plan.more > 0) {
            const bool again = out.passed < out.measured;
            said.push_back(again ? sentence<"more-without-further">(
                                       "more"_is = plan.more, "rate"_is = as_percent(100 * plan.pass_rate, 0))
                                 : sentence<"more-without">("more"_is = plan.more,
                                                            "rate"_is = as_percent(100 * plan.pass_rate, 0)));
            break;
        }
    out.words = one_after_other(std::move(said));
    return out;
}

}  // namespace seatwright::prove
