// The joint probability against its closed forms and a plain simulation, and the blind run over it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "find_fixtures.hpp"
#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/find/joint.hpp"
#include "simulation.hpp"

namespace seatwright::find {
namespace {

TEST(Joint, OneGuideIsTheDiscProbability) {
    for (const double yaw_sd : {0.0, 0.001})
        for (const double sd : {0.0, 0.002, 0.1, 0.3})
            for (const double edge : {0.08, 0.02, 0.004})
                for (const Vec2& known : {Vec2(0, 0), Vec2(0.1, -0.2)}) {
                    const Target target{{200, 0}, known, edge, 0.55};
                    Mat2 covariance = (edge * edge + sd * sd) * Mat2::Identity();
                    covariance(1, 1) += yaw_sd * yaw_sd * 4e4;
                    EXPECT_NEAR(joint_probability(std::span(&target, 1), sd, yaw_sd),
                                numerics::disc_probability(known, covariance, 0.55), 2e-5)
                        << yaw_sd << " " << sd << " " << edge;
                }
}

TEST(Joint, WithoutSharedErrorIsTheProduct) {
    std::vector<Target> targets;
    double product = 1;
    for (int v = 0; v < 6; ++v) {
        targets.push_back({{50.0 * v, 10}, {0.02 * v, 0}, 0.05 + 0.02 * v, 0.3});
        product *= numerics::disc_probability(targets.back().known,
                                              targets.back().sd * targets.back().sd * Mat2::Identity(), 0.3);
    }
    EXPECT_NEAR(joint_probability(targets, 0, 0), product, 5e-6);
}

struct Spread {
    double sd, offset_sd, yaw_sd, clearance;
};

// 200 000 heads drawn, held to four standard deviations of the count, plus the promised 1e-4.
void expect_as_simulated(const Spread& c, const std::vector<Target>& targets, std::uint32_t stream) {
    const int heads = 200000;
    int entered = 0;
    for (int h = 0; h < heads; ++h) {
        simulation::Draw draw(static_cast<std::uint64_t>(h), stream);
        const Vec2 offset = draw.vec(c.offset_sd);
        const double yaw = c.yaw_sd * draw.normal();
        entered += std::all_of(targets.begin(), targets.end(), [&](const Target& t) {
            return (t.known + offset + yaw * Vec2(-t.arm.y(), t.arm.x()) + draw.vec(t.sd)).norm() <=
                   t.clearance;
        });
    }
    const double share = static_cast<double>(entered) / heads;
    EXPECT_NEAR(joint_probability(targets, c.offset_sd, c.yaw_sd), share,
                1e-4 + 4 * std::sqrt(share * (1 - share) / heads))
        << c.sd;
}

TEST(Joint, MatchesSimulation) {
    for (const Spread& c : {Spread{0.08, 0.1, 3e-4, 0.55}, Spread{0.03, 0.15, 5e-4, 0.5},
                            Spread{0.1, 0.05, 1e-4, 0.3}, Spread{0.02, 0.2, 4e-4, 0.6}}) {
        std::vector<Target> targets;
        for (int v = 0; v < 8; ++v)
            targets.push_back({{48.0 * v, v % 2 == 0 ? 0.0 : 12.0}, {0, 0}, c.sd, c.clearance});
        expect_as_simulated(c, targets, 21);
    }
}

// Edges far sharper than the posts' play, where a head is nearly decided by its offset and yaw alone.
TEST(Joint, MatchesSimulationWithSharpEdges) {
    for (const Spread& c : {Spread{0.01, 0.25, 4e-4, 0.4}, Spread{0.005, 0.2, 1e-3, 0.3},
                            Spread{0.02, 0.3, 2e-4, 0.55}, Spread{0.005, 0.001, 1e-3, 0.3}}) {
        std::vector<Target> targets;
        for (int v = 0; v < 8; ++v) targets.push_back({{48.0 * v, 0}, {0, 0}, c.sd, c.clearance});
        expect_as_simulated(c, targets, 22);
    }
}

// Two discs with edges as sharp as can be, chord by chord: an own quadrature of what they share.
TEST(Joint, TwoSharpDiscsAgreeWithTheirChords) {
    const auto below = [](double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); };
    const auto density = [](double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * pi); };
    for (const Spread& c :
         {Spread{0, 0.75, 5.9e-3, 0.5}, Spread{0, 0.3, 1e-3, 0.2}, Spread{0, 0.2, 4e-3, 0.6}}) {
        constexpr double arm = 90, reach = 6;
        constexpr int yaws = 3000, chords = 400;
        double sum = 0;
        for (int k = 0; k < yaws; ++k) {  // midpoints
            const double z = reach * (k + 0.5) / yaws, away = z * c.yaw_sd * arm;
            double shared = 0;
            for (int i = 0; i < chords; ++i) {
                // x = c·sin φ: the chords' ends are smooth in φ.
                const double phi = pi / 2 * (2 * (i + 0.5) / chords - 1), half = c.clearance * std::cos(phi);
                const double low = -half, high = half - away;
                if (low >= high) continue;
                shared += density(c.clearance * std::sin(phi) / c.offset_sd) / c.offset_sd * half * pi /
                          chords * (below(high / c.offset_sd) - below(low / c.offset_sd));
            }
            sum += 2 * density(z) * shared * reach / yaws;
        }
        const std::vector<Target> two{{{0, 0}, {0, 0}, 0, c.clearance}, {{arm, 0}, {0, 0}, 0, c.clearance}};
        EXPECT_NEAR(joint_probability(two, c.offset_sd, c.yaw_sd), sum, 1.5e-4) << c.offset_sd;
    }
}

// Two guides: the overlap of their discs bends sharply where no yaw turns one away from the other. Wide and
// narrow posts, clearances of two sizes, and one guide far out whose miss decides.
TEST(Joint, MatchesSimulationForTwoGuidesWithSharpEdges) {
    for (const Spread& c : {Spread{0.0, 0.75, 5.9e-3, 0.5}, Spread{0.01, 0.75, 5.9e-3, 0.5},
                            Spread{0.03, 0.4, 2e-3, 0.1}, Spread{0.001, 0.05, 2e-2, 0.4}}) {
        const std::vector<Target> near{{{0, 0}, {0, 0}, c.sd, c.clearance},
                                       {{90, 0}, {0, 0}, c.sd, c.clearance}};
        expect_as_simulated(c, near, 23);
        const std::vector<Target> uneven{{{0, 0}, {0.02, 0}, c.sd, c.clearance},
                                         {{90, 20}, {0, -0.03}, c.sd, 0.6 * c.clearance}};
        expect_as_simulated(c, uneven, 24);
        expect_as_simulated(c, {{{90, 0}, {0, 0}, c.sd, c.clearance}}, 25);
    }
}

// A pilot that all but fills its mouth beside one with room: hardly a chance, and said at once.
TEST(Joint, AClearanceOfNextToNothingIsNoChance) {
    for (const double least : {1e-15, 1e-9, 1e-4}) {
        const std::vector<Target> two{{{0, 0}, {0, 0}, 0.01, least}, {{90, 0}, {0, 0}, 0.01, 0.5}};
        EXPECT_NEAR(joint_probability(two, 0.75, 5.9e-3), 0, 1e-4) << least;
    }
}

hold::Hold with_posts(const job::Job& job, double clearance) {
    hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    hold::Posts posts;
    posts.span = 450;
    posts.b = {450, 0};
    posts.clearance = clearance;
    posts.position_sd = clearance / 4;
    posts.yaw_sd = std::sqrt(2.0) * clearance / (4 * 450);
    hold.posts = posts;
    return hold;
}

TEST(BlindRun, SizesForTheTargetMeetIt) {
    const job::Job job = fixtures::wedge_job();
    const Find find = locate(job, with_posts(job, 0.5));
    ASSERT_TRUE(find.blind_run);
    const BlindRun& blind = *find.blind_run;
    EXPECT_LE(blind.of_head().enter_probability, blind.least_enter_probability + 1e-4);
    ASSERT_TRUE(blind.of_head().clearance_for_target && blind.of_head().mouth_for_target);
    const Find tighter = locate(job, with_posts(job, *blind.of_head().clearance_for_target));
    EXPECT_NEAR(tighter.blind_run->of_head().enter_probability, 0.999, 1e-4);
    job::Job wider = job;
    for (const auto kind : job::both_kinds) wider.guide[kind]->mouth = *blind.of_head().mouth_for_target;
    EXPECT_NEAR(locate(wider, with_posts(wider, 0.5)).blind_run->of_head().enter_probability, 0.999, 1e-4);
}

// The head turns about the midpoint of its posts (model.md section 2; forecast-cases.md F and C: a guide at
// (300, 40) from it enters with 0.9949040004, one at the midpoint with what offset and casting leave).
TEST(BlindRun, TurnsAboutTheMidpointOfThePosts) {
    for (const int sign : {1, -1}) {
        job::Job job = fixtures::wedge_job();
        job.machine.x_sign = sign;
        job.machine.resolution = 0;
        job.find.casting_sd = 0.08;
        job.find.positioning_sd = 0.02;
        job.head.valves.resize(1);
        job::Valve& valve = job.head.valves.front();
        valve.incline = valve.cant = 0;
        const auto least = [&](Vec2 from_middle) {
            hold::Hold hold = fixtures::hold_of(job);
            hold::Posts posts;
            posts.span = 400;
            const Vec2 middle = valve.seat.head<2>() - from_middle;
            posts.a = middle - Vec2(200, 0);
            posts.b = middle + Vec2(200, 0);
            posts.clearance = 0.4;
            posts.position_sd = 0.1;
            posts.yaw_sd = std::sqrt(2.0) * 0.4 / (4 * 400);
            hold.posts = posts;
            const Find find = locate(job, hold);
            EXPECT_TRUE(find.blind_run);
            return find.blind_run ? find.blind_run->least_enter_probability : 0;
        };
        const Find once = locate(job, with_posts(job, 0.4));
        ASSERT_TRUE(once.pilots.at(0).pilot);
        job.guide[valve.kind]->mouth = job.pilots[*once.pilots[0].pilot].tip + 1.0;
        EXPECT_NEAR(least({300, 40}), 0.9949040004, 1e-6);
        // 1 − exp(−c²/2σ²), σ² = s²/16 + casting² + positioning².
        EXPECT_NEAR(least({0, 0}), 1 - std::exp(-0.25 / (2 * (0.01 + 0.0064 + 0.0004))), 1e-6);
    }
}

TEST(BlindRun, NeedsPostsOrCarry) {
    job::Job job = fixtures::wedge_job();
    EXPECT_FALSE(locate(job, fixtures::hold_of(job)).blind_run);
    job.find.carry = job::Carry{{0.1, 0.2}, 0, 0.05, 1e-4};
    const Find find = locate(job, fixtures::hold_of(job));
    ASSERT_TRUE(find.blind_run);
    // With a carry and nothing touched, the head is located by the carry alone: the same least probability.
    EXPECT_NEAR(find.blind_run->least_enter_probability, *find.heads[0].setups[0].least_enter_probability,
                1e-12);
}

}  // namespace
}  // namespace seatwright::find
