#include "seatwright/prove/components.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "seatwright/base/numerics/statistics.hpp"
#include "seatwright/prove/capability.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

namespace {

// Whose variation is parted.
bool is_parted(const std::string& what) {
    return what == "runout" || what == "width" || what == "stem height";
}
// Guides nearer alike than this (rad, 0.01 deg) are held by one setup.
constexpr double alike = 1.7e-4;
// Scatter below this share of the mean is rounding.
constexpr double rounding_share = 1e-9;

// Values of one kind, heads by positions, heads that lack one left out.
struct Grid {
    std::vector<std::size_t> heads, valves;
    std::vector<std::vector<double>> value;  // [head][position]
    std::vector<std::string> cutter;         // of each head
};

// `samples` by head, then valve, each once.
Grid grid_of(const std::vector<Sample>& samples) {
    std::set<std::size_t> valves;
    for (const auto& s : samples) valves.insert(s.valve);
    Grid grid;
    grid.valves.assign(valves.begin(), valves.end());
    for (std::size_t from = 0, to = 0; from < samples.size(); from = to) {
        while (to < samples.size() && samples[to].head == samples[from].head) ++to;
        if (to - from != valves.size()) continue;
        grid.heads.push_back(samples[from].head);
        grid.cutter.push_back(samples[to - 1].cutter);
        auto& row = grid.value.emplace_back();
        for (std::size_t i = from; i < to; ++i) row.push_back(samples[i].value);
    }
    return grid;
}

struct Effects {
    double mean = 0;
    std::vector<double> head, position;  // means less the mean
    std::vector<std::vector<double>> rest;
    double ms_head = 0, ms_position = 0, ms_rest = 0;
};

Effects effects_of(const Grid& g) {
    const auto h = g.heads.size(), p = g.valves.size();
    const double rows = static_cast<double>(h), columns = static_cast<double>(p);
    Effects e;
    e.head.assign(h, 0);
    e.position.assign(p, 0);
    for (std::size_t i = 0; i < h; ++i)
        for (std::size_t j = 0; j < p; ++j) e.mean += g.value[i][j] / (rows * columns);
    for (std::size_t i = 0; i < h; ++i)
        for (std::size_t j = 0; j < p; ++j) {
            e.head[i] += (g.value[i][j] - e.mean) / columns;
            e.position[j] += (g.value[i][j] - e.mean) / rows;
        }
    double ss = 0;
    e.rest.assign(h, std::vector<double>(p, 0));
    for (std::size_t i = 0; i < h; ++i)
        for (std::size_t j = 0; j < p; ++j) {
            e.rest[i][j] = g.value[i][j] - e.mean - e.head[i] - e.position[j];
            ss += e.rest[i][j] * e.rest[i][j];
        }
    for (const double v : e.head) e.ms_head += columns * v * v / (rows - 1);
    for (const double v : e.position) e.ms_position += rows * v * v / (columns - 1);
    e.ms_rest = ss / ((rows - 1) * (columns - 1));
    return e;
}

// Splits `variance` by the groups its effects fall in: the part between groups, never more than there is.
double between_groups(const std::map<std::string, std::vector<double>>& groups, double variance) {
    std::vector<std::vector<double>> lists;
    lists.reserve(groups.size());
    for (const auto& [name, values] : groups) lists.push_back(values);
    const auto a = numerics::one_way(lists);
    return a ? std::min(variance, a->sd_between * a->sd_between) : 0;
}

std::string setup_name(const job::Job& job, std::size_t valve) {
    const auto& v = job.head.valves[valve];
    return fmt::format("{} {}", std::lround(v.incline / alike), std::lround(v.cant / alike));
}

void add_components(std::vector<Component>& out, const job::Job& job, const Measured& measured,
                    const std::string& what, job::Kind kind, const Grid& grid) {
    const Effects e = effects_of(grid);
    const double rows = static_cast<double>(grid.heads.size()),
                 columns = static_cast<double>(grid.valves.size());
    double head = std::max(0.0, e.ms_head - e.ms_rest) / columns;
    double position = std::max(0.0, e.ms_position - e.ms_rest) / rows;
    double rest = e.ms_rest;
    const double total = head + position + rest;
    // All values alike but for rounding: nothing varies.
    if (total <= std::pow(rounding_share * e.mean, 2)) return;
    std::map<std::string, std::vector<double>> by_cutter, by_setup, by_pilot;
    for (std::size_t i = 0; i < grid.heads.size(); ++i)
        if (!grid.cutter[i].empty()) by_cutter[grid.cutter[i]].push_back(e.head[i]);
    for (std::size_t j = 0; j < grid.valves.size(); ++j)
        by_setup[setup_name(job, grid.valves[j])].push_back(e.position[j]);
    for (std::size_t i = 0; i < grid.heads.size(); ++i)
        for (std::size_t j = 0; j < grid.valves.size(); ++j) {
            const std::string& pilot = measured.pilot(grid.heads[i], grid.valves[j]);
            if (!pilot.empty()) by_pilot[pilot].push_back(e.rest[i][j]);
        }
    const auto add = [&](const char* factor, double variance, const char* remark) {
        out.push_back({what, kind, factor, std::sqrt(variance), variance / total, remark});
    };
    if (by_cutter.size() > 1) {
        const double part = between_groups(by_cutter, head);
        head -= part;
        add("cutter", part, "changes with the cutter fitted");
    }
    if (by_setup.size() > 1) {
        const double part = between_groups(by_setup, position);
        position -= part;
        add("setup", part, "goes with the group of valves that lean alike, which one setup holds");
    }
    if (by_pilot.size() > 1) {
        const double part = between_groups(by_pilot, rest);
        rest -= part;
        add("pilot", part, "goes with the pilot size the guide takes");
    }
    add("head", head,
        "the head as a whole: its casting, or how it was set up; one cannot be told from the other");
    add("position", position, "the same valves in every head: pattern of the casting or of the fixture");
    add("rest", rest, "neither: pilot, cutting and gauge from seat to seat");
}

double badness(const std::string& what, const job::Job& job, job::Kind kind, double value) {
    if (what != "width") return value;
    const auto& form = job.seat[kind];
    return form ? std::abs(value - form->width) : value;
}

}  // namespace

std::vector<Position> positions_of(const job::Job& job, const std::vector<Samples>& samples,
                                   std::size_t heads) {
    std::vector<Position> out;
    if (heads < 2) return out;
    struct Worst {
        bool known = false;
        double bad = 0;
        std::size_t valve = 0;
    };
    for (const auto& [what, kind, all] : samples) {
        if (!is_parted(what)) continue;
        std::map<std::size_t, std::vector<double>> values;
        std::vector<Worst> worst(heads);
        for (const auto& s : all) {
            values[s.valve].push_back(s.value);
            const double bad = badness(what, job, kind, s.value);
            Worst& of_head = worst[s.head];
            if (!of_head.known || bad > of_head.bad) of_head = {true, bad, s.valve};
        }
        if (values.size() < 2) continue;
        std::map<std::size_t, std::size_t> worst_in;
        for (const Worst& of_head : worst)
            if (of_head.known) ++worst_in[of_head.valve];
        for (const auto& [valve, list] : values) {
            const numerics::Summary s = numerics::summary(list);
            out.push_back({what, valve, s.n, s.mean, s.sd, worst_in[valve]});
        }
    }
    return out;
}

std::vector<Component> components_of(const job::Job& job, const std::vector<Samples>& samples,
                                     const Measured& measured) {
    std::vector<Component> out;
    for (const auto& [what, kind, all] : samples) {
        if (!is_parted(what)) continue;
        const Grid grid = grid_of(all);
        if (grid.heads.size() >= 3 && grid.valves.size() >= 2)
            add_components(out, job, measured, what, kind, grid);
    }
    return out;
}

Sampling sampling_of(const std::vector<MeasuredSeat>& seats) {
    Sampling out;
    for (const auto& seat : seats)
        for (const auto& j : seat.result->proof.judgements)
            if (j.what == "runout" && j.verdict != Verdict::not_measured) {
                out.measured += 1;
                out.passed += j.verdict == Verdict::pass ? 1 : 0;
            }
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
