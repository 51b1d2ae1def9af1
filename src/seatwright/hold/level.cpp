#include "seatwright/hold/level.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/base/numerics/statistics.hpp"
#include "seatwright/hold/attitude.hpp"
#include "seatwright/hold/level_held.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/english_hold.hpp"

namespace seatwright::hold {

namespace {

// All that the readings along one axis say.
struct AxisLevel {
    std::map<std::size_t, double> lean;  // by valve
    std::vector<std::size_t> outliers;   // valves
    std::optional<double> bias, bias_sd, mean;
    std::vector<double> kept;  // leans in the mean
    Sentence contradiction;    // which readings contradict each other; then nothing is averaged
};

// The two of some named angles that lie furthest apart.
struct Extremes {
    std::string low_name, high_name;
    double low = 0, high = 0;
    double apart() const { return high - low; }
};

Extremes extremes_of(const std::vector<std::pair<std::string, double>>& named) {
    Extremes out;
    const auto by_angle = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto [low, high] = std::minmax_element(named.begin(), named.end(), by_angle);
    if (named.empty()) return out;
    return {low->first, high->first, low->second, high->second};
}

void set_outliers_aside(AxisLevel& axis) {
    std::vector<double> leans;
    for (const auto& [valve, lean] : axis.lean) leans.push_back(lean);
    if (leans.size() >= outlier_min_guides) {
        const double middle = numerics::median(leans);
        std::vector<double> away;
        away.reserve(leans.size());
        for (const double lean : leans) away.push_back(std::abs(lean - middle));
        // 1.4826: makes the median absolute deviation the sd of a normal distribution.
        const double bound = std::max(outlier_floor, outlier_sds * 1.4826 * numerics::median(away));
        for (const auto& [valve, lean] : axis.lean)
            if (std::abs(lean - middle) > bound) axis.outliers.push_back(valve);
    }
    for (const auto& [valve, lean] : axis.lean)
        if (std::find(axis.outliers.begin(), axis.outliers.end(), valve) == axis.outliers.end())
            axis.kept.push_back(lean);
}

Sentence across_name(job::Across across) {
    return across == job::Across::incline ? sentence<"incline">() : sentence<"cant">();
}

// Which readings along an axis cannot all be right; empty if all can.
Sentence contradiction_of(const job::Job& job, const std::string& head, job::Across across,
                          const AxisLevel& axis, const std::map<std::size_t, std::vector<double>>& leans) {
    const Sentence name = across_name(across);
    const auto id = [&](std::size_t valve) { return job.head.valves[valve].id; };
    std::vector<std::pair<std::string, double>> biases, guides;
    for (const auto& r : job::of_head(job.readings.levels, head))
        if (r.across == across && r.second) biases.emplace_back(r.valve, (r.first + *r.second) / 2);
    if (const Extremes far = extremes_of(biases); far.apart() > most_bias_apart)
        return sentence<"contradict-zero">("across"_is = name, "low_guide"_is = far.low_name,
                                           "low"_is = as_angle(far.low), "high_guide"_is = far.high_name,
                                           "high"_is = as_angle(far.high));
    for (const auto& [valve, values] : leans) {
        const auto [low, high] = std::minmax_element(values.begin(), values.end());
        if (*high - *low > most_apart)
            return sentence<"contradict-guide">("across"_is = name, "guide"_is = id(valve),
                                                "low"_is = as_angle(*low), "high"_is = as_angle(*high));
    }
    for (const auto& [valve, lean] : axis.lean)
        if (std::find(axis.outliers.begin(), axis.outliers.end(), valve) == axis.outliers.end())
            guides.emplace_back(id(valve), lean);
    if (const Extremes far = extremes_of(guides); far.apart() > most_apart)
        return sentence<"contradict-guides">("across"_is = name, "low_guide"_is = far.low_name,
                                             "low"_is = as_angle(far.low), "high_guide"_is = far.high_name,
                                             "high"_is = as_angle(far.high));
    return {};
}

AxisLevel read_axis(const job::Job& job, const std::string& head, job::Across across) {
    AxisLevel axis;
    std::vector<double> biases;
    const auto own = job::of_head(job.readings.levels, head);
    const auto of_axis = [&](const job::Level& r) { return r.across == across; };
    for (const auto& r : own)
        if (of_axis(r) && r.second) biases.push_back((r.first + *r.second) / 2);
    if (!biases.empty()) {
        const auto bias = numerics::summary(biases);
        axis.bias = bias.mean;
        if (bias.n > 1) axis.bias_sd = bias.sd / std::sqrt(static_cast<double>(bias.n));
    }
    std::map<std::size_t, std::vector<double>> leans;
    bool all_sure = true;
    for (const auto& r : own) {
        if (!of_axis(r)) continue;
        const auto valve = job.head.index_of(r.valve);
        if (!valve) continue;  // the reader has faulted it
        leans[*valve].push_back(r.second ? (r.first - *r.second) / 2 : r.first - axis.bias.value_or(0));
        all_sure = all_sure && r.sure;
    }
    for (const auto& [valve, values] : leans) axis.lean[valve] = numerics::summary(values).mean;
    if (axis.lean.empty()) return axis;
    set_outliers_aside(axis);
    if (!all_sure) axis.contradiction = contradiction_of(job, head, across, axis, leans);
    if (axis.contradiction.empty())
        axis.mean = numerics::summary(axis.kept).mean;
    else
        axis.kept.clear();
    return axis;
}

std::optional<double> pooled_scatter(const AxisLevel& one, const AxisLevel& other) {
    double squares = 0;
    std::size_t freedom = 0;
    for (const auto* axis : {&one, &other}) {
        if (axis->kept.size() < 2) continue;
        const auto kept = numerics::summary(axis->kept);
        squares += kept.sd * kept.sd * static_cast<double>(kept.n - 1);
        freedom += kept.n - 1;
    }
    if (freedom == 0) return std::nullopt;
    return std::sqrt(squares / static_cast<double>(freedom));
}

// The setting at which guides now found to lean would stand plumb: the direction found, taken back into the
// head frame, is made plumb.
Attitude corrected(const Setup& setup, const Level& level) {
    const Vec3 found = guide_axis(level.incline.value_or(0), level.cant.value_or(0));
    return attitude_for(setup.rotation().transpose() * found);
}

std::vector<MapShift> shifts(const job::Job& job, const std::vector<Setup>& setups, const Level& level) {
    std::vector<MapShift> out;
    for (const auto& setup : setups) {
        // As read the head stands turned by the lean; turning it back puts it at the planned attitude.
        const Attitude planned{setup.tilt, setup.swing};
        const Attitude set = corrected(setup, level);
        const Attitude as_read{2 * planned.tilt - set.tilt, 2 * planned.swing - set.swing};
        const Mat3 turn = setup.rotation() - attitude_rotation(as_read.tilt, as_read.swing);
        for (const auto& held : setup.valves) {
            const Vec3 arm = job.head.valves[held.valve].seat - job.head.valves[setup.datum].seat;
            out.push_back({held.valve, turn * arm});
        }
    }
    std::sort(out.begin(), out.end(), [](const MapShift& a, const MapShift& b) { return a.valve < b.valve; });
    return out;
}

bool below_step(const job::Job& job, double lean) {
    return std::abs(lean) < job.fixture.step;
}

std::vector<Sentence> words_of(const job::Job& job, const Level& level, const Setup* setup) {
    std::vector<Sentence> words;
    // Below half of the last decimal printed there is nothing to turn.
    constexpr double nothing = 0.00005 * rad_per_deg;
    for (const auto& contradiction : level.contradictions)
        words.push_back(sentence<"read-again">("contradiction"_is = contradiction));
    const auto say = [&](std::optional<double> lean, const Sentence& plus, const Sentence& minus,
                         const Sentence& scale, std::optional<double> change, double planned) {
        if (!lean) return;
        if (std::abs(*lean) < nothing) {
            words.push_back(sentence<"stands-plumb">("scale"_is = scale));
            return;
        }
        const auto& towards = *lean > 0 ? plus : minus;
        const Figure amount = as_angle(std::abs(*lean));
        if (below_step(job, *lean)) {
            words.push_back(sentence<"below-step">("scale"_is = scale, "lean"_is = amount,
                                                   "towards"_is = towards,
                                                   "step"_is = as_angle(job.fixture.step)));
            return;
        }
        Sentence setting, within;
        if (change && setup)
            setting =
                sentence<"setting">("scale"_is = scale, "setup"_is = setup->id, "from"_is = as_angle(planned),
                                    "to"_is = as_angle(planned + *change));
        if (std::abs(*lean) <= job.fixture.plumb_limit) within = sentence<"within-limit">();
        words.push_back(sentence<"turn">("scale"_is = scale, "lean"_is = amount, "towards"_is = towards,
                                         "back"_is = *lean > 0 ? minus : plus, "setting"_is = setting,
                                         "within"_is = within));
    };
    say(level.incline, sentence<"back">(), sentence<"front">(), sentence<"tilt">(), level.set_tilt,
        setup ? setup->tilt : 0);
    const bool swings = job.fixture.swing.high > job.fixture.swing.low;
    say(level.cant, sentence<"right">(), sentence<"left">(), sentence<"swing">(),
        swings ? level.set_swing : std::nullopt, setup ? setup->swing : 0);
    if (level.cant && std::abs(*level.cant) >= nothing && !below_step(job, *level.cant) && !swings)
        words.push_back(sentence<"no-swing">());
    return words;
}

const Setup* setup_of_first_guide(const Level& level, const std::vector<Setup>& setups) {
    for (const auto& setup : setups)
        for (const auto& held : setup.valves)
            if (!level.guides.empty() && held.valve == level.guides.front().valve) return &setup;
    return nullptr;
}

// A STOP of the setups whose guides were read, but for those that a lead lets pass.
Warning level_off(const job::Job& job, const Level& level, const std::vector<Setup>& setups) {
    List off{Join::with_and, {}}, passed{Join::with_and, {}};
    for (const Setup& setup : setups)
        if (read_there(level, setup))
            (lean_let_pass(job, level, setup) ? passed : off).items.emplace_back(setup.id);
    const bool stops = !off.items.empty();
    return {"hold", "level-off", std::nullopt,
            sentence<"level-off">(
                "head"_is = level.head, "setup"_is = stops ? std::move(off) : std::move(passed),
                "lean"_is = as_angle(lean_of(level)), "limit"_is = as_angle(job.fixture.plumb_limit),
                "then"_is = stops ? sentence<"turn-and-read">() : sentence<"lead-lets-pass">()),
            stops ? Severity::blocking : Severity::note};
}

}  // namespace

std::optional<Level> level_of(const job::Job& job, const std::vector<Setup>& setups,
                              const std::string& head) {
    const auto& readings = job.readings.levels;
    if (head.empty() ? readings.empty() : job::of_head(readings, head).empty()) return std::nullopt;
    Level level;
    level.head = head.empty() ? readings.back().head : head;
    const AxisLevel incline = read_axis(job, level.head, job::Across::incline);
    const AxisLevel cant = read_axis(job, level.head, job::Across::cant);
    level.incline = incline.mean;
    level.cant = cant.mean;
    for (const auto* axis : {&incline, &cant})
        if (!axis->contradiction.empty()) level.contradictions.push_back(axis->contradiction);
    level.incline_bias = incline.bias;
    level.cant_bias = cant.bias;
    level.incline_bias_sd = incline.bias_sd;
    level.cant_bias_sd = cant.bias_sd;
    level.scatter = pooled_scatter(incline, cant);
    if (level.incline) level.correction_tilt = -*level.incline + 0.0;
    if (level.cant) level.correction_swing = -*level.cant + 0.0;
    std::map<std::size_t, GuideLean> guides;
    for (const auto* axis : {&incline, &cant})
        for (const auto& [valve, lean] : axis->lean) {
            auto& guide = guides[valve];
            guide.valve = valve;
            (axis == &incline ? guide.incline : guide.cant) = lean;
            if (std::find(axis->outliers.begin(), axis->outliers.end(), valve) != axis->outliers.end())
                guide.outlier = true;
        }
    for (const auto& [valve, guide] : guides) level.guides.push_back(guide);
    const Setup* setup = setup_of_first_guide(level, setups);
    if (setup) {
        const Attitude set = corrected(*setup, level);
        const Attitude planned = attitude_for(setup->rotation().transpose() * Vec3::UnitZ());
        if (level.incline && !below_step(job, *level.incline)) level.set_tilt = set.tilt - planned.tilt;
        if (level.cant && !below_step(job, *level.cant)) level.set_swing = set.swing - planned.swing;
    }
    level.map_shift = shifts(job, setups, level);
    level.words = words_of(job, level, setup);
    return level;
}

std::vector<Warning> level_warnings(const job::Job& job, const std::optional<Level>& found,
                                    const std::vector<Setup>& setups, const std::string& head) {
    std::vector<Warning> warnings;
    if (!found) {
        if (!job.readings.levels.empty())
            warnings.push_back({"hold", "level-heads", std::nullopt, sentence<"level-none">("head"_is = head),
                                Severity::note});
        return warnings;
    }
    const Level& level = *found;
    for (const auto& contradiction : level.contradictions)
        warnings.push_back(
            {"hold", "level-contradict", std::nullopt,
             sentence<"level-contradict">("head"_is = level.head, "contradiction"_is = contradiction),
             Severity::blocking});
    for (const auto& guide : level.guides)
        if (guide.outlier)
            warnings.push_back({"hold", "level-outlier", job.head.valves[guide.valve].id,
                                sentence<"level-outlier">("guide"_is = job.head.valves[guide.valve].id),
                                Severity::note});
    if (lean_of(level) > job.fixture.plumb_limit + angle_tie)
        warnings.push_back(level_off(job, level, setups));
    const auto unknown = [&](const std::optional<double>& lean, const std::optional<double>& bias,
                             job::Across across) {
        if (lean && !bias)
            warnings.push_back({"hold", "level-bias-unknown", std::nullopt,
                                sentence<"level-bias-unknown">("across"_is = across_name(across)),
                                Severity::note});
    };
    unknown(level.incline, level.incline_bias, job::Across::incline);
    unknown(level.cant, level.cant_bias, job::Across::cant);
    const auto other = [&](const job::Level& r) { return r.head != level.head; };
    if (std::any_of(job.readings.levels.begin(), job.readings.levels.end(), other))
        warnings.push_back({"hold", "level-heads", std::nullopt,
                            sentence<"level-heads">("head"_is = level.head,
                                                    "which"_is = head.empty() ? sentence<"the-latest">()
                                                                              : sentence<"as-asked">()),
                            Severity::note});
    return warnings;
}

}  // namespace seatwright::hold
