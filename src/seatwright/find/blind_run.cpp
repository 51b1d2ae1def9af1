#include "seatwright/find/blind_run.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <functional>

#include "seatwright/find/guides.hpp"
#include "seatwright/find/joint.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/hold/posts.hpp"

namespace seatwright::find {
namespace {

// Sizes for the target are wanted to about a hundredth; each trial is a joint probability of its own.
constexpr int size_bits = 7;
constexpr int most_trials = 24;
// The first guess is seldom off by more than this factor (in the square of a size); each miss widens it.
constexpr double first_bracket = 1.25;
constexpr int most_widenings = 12;
// A round normal of standard deviation σ leaves a disc of radius 3.717σ once in a thousand.
constexpr double target_sds = 3.7169221888498383;  // √(2·ln 1000)

struct Spread {
    double offset_sd = 0, yaw_sd = 0;
};

// Where the last head lay in each setup: the carry, the last fit, or the origin.
Prior centre_of(const job::Job& job, const Boxes<FoundHead>& heads, std::size_t setup, const Spread& spread) {
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

// Where the head's probability meets the target, sought from `guess` in a positive variable in which the
// logarithm of what fails is nearly straight; none without a crossing.
std::optional<double> solve(const std::function<double(double)>& head_probability, double guess) {
    constexpr double floor = 1e-7;  // accuracy of the probabilities: below it their logarithm is noise
    const auto misfit = [&](double x) {
        return std::log(std::max(floor, 1 - head_probability(x)) / (1 - blind_target));
    };
    // What fails falls as x grows: step towards the crossing until it is between two trials.
    double near = guess, at_near = misfit(guess), factor = first_bracket;
    for (int i = 0; i < most_widenings; ++i, factor *= first_bracket) {
        const double next = at_near > 0 ? near * factor : near / factor, at_next = misfit(next);
        if (at_near * at_next <= 0 && at_near != at_next) {
            const bool up = next > near;
            std::uintmax_t trials = most_trials;
            const auto bracket = boost::math::tools::toms748_solve(
                misfit, up ? near : next, up ? next : near, up ? at_near : at_next, up ? at_next : at_near,
                boost::math::tools::eps_tolerance<double>(size_bits), trials);
            return 0.5 * (bracket.first + bracket.second);
        }
        near = next;
        at_near = at_next;
    }
    return std::nullopt;
}

// Post clearance: what fails goes as exp(−c²/2σ²) with σ in proportion to the clearance, so in 1/clearance².
std::optional<double> post_clearance(const std::vector<Target>& targets, double span) {
    const auto probability = [&](double s) {
        return joint_probability(targets, s / 4, std::sqrt(2.0) * s / (4 * span), rough_step);
    };
    if (probability(0) <= blind_target) return std::nullopt;  // the casting alone fails it
    // One guide alone, its worse direction: variance s²/16·(1 + 2·arm²/span²) + sd².
    double least = std::numeric_limits<double>::infinity();
    for (const Target& target : targets) {
        const double room = std::max(0.0, target.clearance - target.known.norm()) / target_sds;
        const double left = std::max(0.05 * room * room, room * room - target.sd * target.sd);
        least = std::min(least, 16 * left / (1 + 2 * target.arm.squaredNorm() / (span * span)));
    }
    if (!(least > 0)) return std::nullopt;
    const auto found = solve([&](double q) { return probability(1 / std::sqrt(q)); }, 1 / least);
    if (!found) return std::nullopt;
    return 1 / std::sqrt(*found);
}

// How much more clearance the guide that needs most of it would need by itself.
double widening(const std::vector<Target>& targets, const Spread& spread) {
    double most = -std::numeric_limits<double>::infinity();
    for (const Target& target : targets) {
        const double sd = std::hypot(spread.offset_sd, spread.yaw_sd * target.arm.norm(), target.sd);
        most = std::max(most, target.known.norm() + target_sds * sd - target.clearance);
    }
    return most;
}

std::vector<Target> widened(std::vector<Target> targets, double by) {
    for (Target& target : targets) target.clearance += by;
    return targets;
}

// `span` of the posts, 0 without any; `mouth` of the guide whose clearance is the `tightest`.
BlindRun::OfHead blind_head(const std::vector<Target>& targets, const Spread& spread, double span,
                            double tightest, double mouth) {
    BlindRun::OfHead out;
    out.enter_probability = joint_probability(targets, spread.offset_sd, spread.yaw_sd);
    if (span > 0) out.clearance_for_target = post_clearance(targets, span);
    if (!(tightest > 0)) return out;
    // In the square of the tightest clearance, for the same reason.
    const double guess = std::max(0.1 * tightest, tightest + widening(targets, spread));
    const auto square = solve(
        [&](double q) {
            return joint_probability(widened(targets, std::sqrt(q) - tightest), spread.offset_sd,
                                     spread.yaw_sd, rough_step);
        },
        guess * guess);
    if (square) out.mouth_for_target = mouth + 2 * (std::sqrt(*square) - tightest);
    return out;
}

}  // namespace

std::optional<BlindRun> blind_run(const job::Job& job, const hold::Hold& hold, const Boxes<FoundHead>& heads,
                                  const std::vector<PilotChoice>& pilots,
                                  const std::vector<std::vector<Expected>>& expected) {
    Spread spread;
    if (job.find.carry)
        spread = {job.find.carry->sd, job.find.carry->yaw_sd};
    else if (hold.posts && hold.posts->position_sd && hold.posts->yaw_sd)
        spread = {*hold.posts->position_sd, *hold.posts->yaw_sd};
    else
        return std::nullopt;

    // The head turns about the middle of its posts, a carry about the datum guide.
    const auto pivot_in = [&](const hold::Setup& setup) -> Vec2 {
        if (job.find.carry) return Vec2::Zero();
        return hold::midpoint_of(*hold.posts, job.head, setup)
            .cwiseProduct(Vec2(job.machine.x_sign, job.machine.y_sign));
    };
    double least_chance = 1;
    std::vector<Target> targets;
    std::size_t tightest_valve = 0;
    double tightest = std::numeric_limits<double>::infinity();
    for (std::size_t s = 0; s < hold.setups.size(); ++s) {
        Prior prior = centre_of(job, heads, s, spread);
        const Vec2 pivot = pivot_in(hold.setups[s]);
        prior.offset += plane_rotation(prior.yaw) * pivot;
        std::vector<Expected> about = expected[s];
        for (Expected& guide : about) guide.map -= pivot;
        const auto pose = fit_pose(about, {}, prior);
        if (!pose) return std::nullopt;
        const Mat2 turn = plane_rotation(pose->yaw);
        for (std::size_t g = 0; g < about.size(); ++g) {
            const std::size_t valve = hold.setups[s].valves[g].valve;
            const auto clearance = entry_clearance(job, pilots[valve]);
            if (!clearance) return std::nullopt;
            const Place place = place_guide(about[g], Combined{}, *pose);
            const Vec2 programmed = as_programmed(place.at, job.machine.resolution);
            least_chance = std::min(
                least_chance, enter_probability(place, programmed, job.find.positioning_sd, *clearance));
            targets.push_back({turn * about[g].map, place.at - programmed,
                               std::hypot(about[g].scatter, job.find.positioning_sd), *clearance});
            if (*clearance < tightest) {
                tightest = *clearance;
                tightest_valve = valve;
            }
        }
    }
    if (targets.empty()) return std::nullopt;
    const double mouth = *job.guide[job.head.valves[tightest_valve].kind]->mouth;
    const double span = hold.posts ? hold.posts->span : 0;
    return BlindRun(least_chance, [targets = std::move(targets), spread, span, tightest, mouth] {
        return blind_head(targets, spread, span, tightest, mouth);
    });
}

}  // namespace seatwright::find
