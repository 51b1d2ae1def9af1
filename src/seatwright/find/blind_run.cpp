#include "seatwright/find/blind_run.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <functional>

#include "seatwright/find/guides.hpp"
#include "seatwright/find/joint.hpp"
#include "seatwright/find/pilots.hpp"

namespace seatwright::find {
namespace {

// Sizes for the target are wanted to about a hundredth; each trial is a joint probability of its own.
constexpr int size_bits = 8;
constexpr int most_trials = 24;
// Halvings of the posts' clearance: down to a thousandth of the entry clearance.
constexpr int most_halvings = 10;
// With posts this many times the tightest entry clearance apart from their holes, 0.4 % or more miss that
// guide by the offset alone: no larger clearance can be the answer.
constexpr double widest_posts = 1.2;
// A mouth that leaves a guide this many standard deviations misses it by less than 1e-9; one that leaves the
// fewer misses a third of the time.
constexpr double ample_sds = 6.5, scant_sds = 1.5;

struct Spread {
    double offset_sd = 0, yaw_sd = 0;
};

// Where the last head lay in each setup: the carry, the last fit, or the origin.
Prior centre_of(const job::Job& job, const std::vector<FoundHead>& heads, std::size_t setup,
                const Spread& spread) {
    Prior prior{0, spread.yaw_sd, Vec2::Zero(), spread.offset_sd};
    if (job.find.carry) {
        prior.yaw = job.find.carry->yaw;
        prior.offset = job.find.carry->offset;
    } else if (!heads.empty() && setup < heads.back().setups.size()) {
        const FoundSetup& last = heads.back().setups[setup];
        if (last.yaw_known && last.pattern == Pattern::as_declared) {
            prior.yaw = last.yaw;
            prior.offset = last.offset;
        }
    }
    return prior;
}

// Where the head's probability meets the target, sought between `low` and `high` in a variable in which the
// logarithm of what fails is nearly straight; none without a crossing.
std::optional<double> solve(const std::function<double(double)>& head_probability, double low, double high) {
    constexpr double floor = 1e-7;  // accuracy of the probabilities: below it their logarithm is noise
    const auto misfit = [&](double x) {
        return std::log(std::max(floor, 1 - head_probability(x)) / (1 - blind_target));
    };
    const double at_low = misfit(low), at_high = misfit(high);
    if (at_low * at_high > 0 || at_low == at_high) return std::nullopt;
    std::uintmax_t trials = most_trials;
    const auto bracket = boost::math::tools::toms748_solve(
        misfit, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(size_bits), trials);
    return 0.5 * (bracket.first + bracket.second);
}

// Post clearance: what fails goes as exp(−c²/2σ²) with σ in proportion to the clearance, so in 1/clearance².
std::optional<double> post_clearance(const std::vector<Target>& targets, double span, double tightest) {
    const auto probability = [&](double s) {
        return joint_probability(targets, s / 4, std::sqrt(2.0) * s / (4 * span));
    };
    if (probability(0) <= blind_target) return std::nullopt;  // the casting alone fails it
    double safe = widest_posts * tightest;
    const double high = safe;
    for (int i = 0; i < most_halvings && probability(safe) < blind_target; ++i) safe *= 0.5;
    if (safe >= high) return std::nullopt;
    const auto found = solve([&](double q) { return probability(1 / std::sqrt(q)); }, 1 / (4 * safe * safe),
                             1 / (safe * safe));
    if (!found) return std::nullopt;
    return 1 / std::sqrt(*found);
}

// How much less and how much more clearance would surely miss and surely do.
struct Widening {
    double low = 0, high = 0;
};
Widening widening_range(const std::vector<Target>& targets, const Spread& spread) {
    Widening range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    for (const Target& target : targets) {
        const double sd = std::hypot(spread.offset_sd, spread.yaw_sd * target.arm.norm(), target.sd);
        range.low = std::min(range.low, scant_sds * sd - target.clearance);
        range.high = std::max(range.high, target.known.norm() + ample_sds * sd - target.clearance);
    }
    return range;
}

std::vector<Target> widened(std::vector<Target> targets, double by) {
    for (Target& target : targets) target.clearance += by;
    return targets;
}

}  // namespace

std::optional<BlindRun> blind_run(const job::Job& job, const hold::Hold& hold,
                                  const std::vector<FoundHead>& heads, const std::vector<PilotChoice>& pilots,
                                  const std::vector<std::vector<Expected>>& expected) {
    Spread spread;
    if (job.find.carry)
        spread = {job.find.carry->sd, job.find.carry->yaw_sd};
    else if (hold.posts && hold.posts->position_sd && hold.posts->yaw_sd)
        spread = {*hold.posts->position_sd, *hold.posts->yaw_sd};
    else
        return std::nullopt;

    BlindRun blind;
    blind.least_enter_probability = 1;
    std::vector<Target> targets;
    std::size_t tightest_valve = 0;
    double tightest = std::numeric_limits<double>::infinity();
    for (std::size_t s = 0; s < hold.setups.size(); ++s) {
        const Prior prior = centre_of(job, heads, s, spread);
        const auto pose = fit_pose(expected[s], {}, prior);
        if (!pose) return std::nullopt;
        const Mat2 turn = plane_rotation(pose->yaw);
        for (std::size_t g = 0; g < expected[s].size(); ++g) {
            const std::size_t valve = hold.setups[s].valves[g].valve;
            const auto clearance = entry_clearance(job, pilots[valve]);
            if (!clearance) return std::nullopt;
            const Place place = place_guide(expected[s][g], Combined{}, *pose);
            const Vec2 programmed = as_programmed(place.at, job.machine.resolution);
            blind.least_enter_probability =
                std::min(blind.least_enter_probability,
                         enter_probability(place, programmed, job.find.positioning_sd, *clearance));
            targets.push_back({turn * expected[s][g].map, place.at - programmed,
                               std::hypot(expected[s][g].scatter, job.find.positioning_sd), *clearance});
            if (*clearance < tightest) {
                tightest = *clearance;
                tightest_valve = valve;
            }
        }
    }
    if (targets.empty()) return std::nullopt;
    blind.head_enter_probability = joint_probability(targets, spread.offset_sd, spread.yaw_sd);
    if (hold.posts && hold.posts->span > 0)
        blind.clearance_for_target = post_clearance(targets, hold.posts->span, tightest);
    if (tightest > 0) {
        // In the square of the tightest clearance, for the same reason.
        const Widening range = widening_range(targets, spread);
        const double least = std::max(0.0, tightest + range.low), most = tightest + range.high;
        const auto square = solve(
            [&](double q) {
                return joint_probability(widened(targets, std::sqrt(q) - tightest), spread.offset_sd,
                                         spread.yaw_sd);
            },
            least * least, most * most);
        if (square)
            blind.mouth_for_target =
                *job.guide[job.head.valves[tightest_valve].kind]->mouth + 2 * (std::sqrt(*square) - tightest);
    }
    return blind;
}

}  // namespace seatwright::find
