// Learning and the wrong way round against computations that share nothing with them: dense least squares
// over every unknown (Eigen), and a fit by walking the yaw in fine steps with chi-square tails from Boost.
#include <gtest/gtest.h>

#include <Eigen/QR>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numbers>

#include "seatwright/base/units.hpp"
#include "seatwright/find/learning.hpp"
#include "seatwright/find/pattern.hpp"
#include "simulation.hpp"

namespace seatwright::find {
namespace {

std::vector<Expected> some_guides(simulation::Draw& draw, std::size_t n) {
    std::vector<Expected> guides;
    for (std::size_t v = 0; v < n; ++v)
        guides.push_back({Vec2(60.0 * static_cast<double>(v), 25 * draw.normal()), 0.08});
    return guides;
}

// Every deviation is its guide's mean, less what is left of its head's offset and yaw: all of them unknown.
TEST(LearningOutside, LessonIsTheDenseLeastSquares) {
    for (std::uint64_t trial = 0; trial < 20; ++trial) {
        simulation::Draw draw(trial, 81);
        const std::size_t n = 5 + trial % 4, heads = 6 + trial % 5;
        const auto guides = some_guides(draw, n);
        PatternRecord pattern(guides, 3);
        std::vector<Vec2> common;
        for (std::size_t v = 0; v < n; ++v) common.push_back(draw.vec(0.2));
        std::vector<Deviations> record;
        std::size_t rows = 0;
        for (std::size_t h = 0; h < heads; ++h) {
            Deviations one{std::to_string(h), {}, {}, {}};
            const Vec2 offset = draw.vec(0.1);
            const double yaw = 1e-3 * draw.normal();
            for (std::size_t v = 0; v < n; ++v) {
                if ((h + v) % 5 == 0) continue;
                one.guide.push_back(v);
                one.deviation.push_back(common[v] + draw.vec(0.05) + offset +
                                        yaw * Vec2(-guides[v].map.y(), guides[v].map.x()));
                one.touch_variance.push_back(1e-4);
            }
            rows += 2 * one.guide.size();
            record.push_back(one);
            EXPECT_TRUE(pattern.take(one).empty());
        }
        const auto learned = pattern.learned_from_all();
        ASSERT_TRUE(learned);

        const auto index = [](std::size_t i) { return static_cast<Eigen::Index>(i); };
        Eigen::MatrixXd design = Eigen::MatrixXd::Zero(index(rows), index(2 * n + 3 * heads));
        Eigen::VectorXd seen(index(rows));
        std::size_t row = 0;
        for (std::size_t h = 0; h < heads; ++h)
            for (std::size_t i = 0; i < record[h].guide.size(); ++i, row += 2) {
                const std::size_t v = record[h].guide[i];
                design.block<2, 2>(index(row), index(2 * v)).setIdentity();
                design.block<2, 2>(index(row), index(2 * n + 3 * h)).setIdentity();
                design.block<2, 1>(index(row), index(2 * n + 3 * h + 2)) =
                    Vec2(-guides[v].map.y(), guides[v].map.x()) / 100;
                seen.segment<2>(index(row)) = record[h].deviation[i];
            }
        const auto solver = design.completeOrthogonalDecomposition();
        const Eigen::VectorXd fitted = solver.solve(seen);
        const double free = static_cast<double>(rows) - static_cast<double>(solver.rank());
        EXPECT_DOUBLE_EQ(learned->dof, free);
        const double variance = (seen - design * fitted).squaredNorm() / free;
        EXPECT_NEAR(learned->scatter, std::sqrt(std::max(0.0, variance - 1e-4)), 1e-9);

        // The means are fixed up to a rigid motion of all: taken out of the dense ones too.
        Eigen::MatrixXd motion = Eigen::MatrixXd::Zero(index(2 * n), 3);
        for (std::size_t v = 0; v < n; ++v) {
            motion.block<2, 2>(index(2 * v), 0).setIdentity();
            motion.block<2, 1>(index(2 * v), 2) = Vec2(-guides[v].map.y(), guides[v].map.x());
        }
        const Eigen::VectorXd means = fitted.head(index(2 * n));
        const Eigen::VectorXd shape = means - motion * motion.householderQr().solve(means);
        for (std::size_t v = 0; v < n; ++v)
            EXPECT_NEAR((learned->guides[v].mean - shape.segment<2>(index(2 * v))).norm(), 0, 1e-9);
    }
}

// The least chi2 of a pattern: yaw walked over a right angle either way in fine steps, then thirds; at each
// yaw the best offset is the weighted mean of what is left.
double walked_chi2(const std::vector<Vec2>& maps, const std::vector<Reading>& readings, double scatter,
                   double yaw_sd) {
    const auto chi2_at = [&](double yaw) {
        const Mat2 turn = plane_rotation(yaw);
        Vec2 offset = Vec2::Zero();
        double weights = 0, sum = 0;
        for (const Reading& r : readings) {
            const double w = 1 / (scatter * scatter + r.sd * r.sd);
            offset += w * (r.at - turn * maps[r.guide]);
            weights += w;
        }
        offset /= weights;
        for (const Reading& r : readings)
            sum += (r.at - turn * maps[r.guide] - offset).squaredNorm() / (scatter * scatter + r.sd * r.sd);
        return sum + yaw * yaw / (yaw_sd * yaw_sd);
    };
    constexpr double quarter = std::numbers::pi / 2;
    constexpr int steps = 40'000;
    double best = 0, least = chi2_at(0);
    for (int k = -steps; k <= steps; ++k)
        if (const double chi2 = chi2_at(k * quarter / steps); chi2 < least) {
            least = chi2;
            best = k * quarter / steps;
        }
    double low = best - quarter / steps, high = best + quarter / steps;
    for (int k = 0; k < 60; ++k) {
        const double left = low + (high - low) / 3, right = high - (high - low) / 3;
        (chi2_at(left) < chi2_at(right) ? high : low) = chi2_at(left) < chi2_at(right) ? right : left;
    }
    return chi2_at((low + high) / 2);
}

// Heads that lie as declared, turned, mirrored, or as nothing at all: named exactly when the declared pattern
// is rejected at 0.001 and another one is not at 0.01, labels kept.
TEST(WayRoundOutside, NamedByTheTwoTails) {
    int named = 0, silent = 0;
    for (std::uint64_t trial = 0; trial < 32; ++trial) {
        simulation::Draw draw(trial, 82);
        const auto guides = some_guides(draw, 6);
        const Vec2 signs[] = {{1, 1}, {-1, -1}, {-1, 1}, {1, -1}};
        const Prior prior{0, rad(0.3), Vec2::Zero(), std::nullopt};
        // Of one trial in four the touches fit no way round: half as far off as the pattern is wide.
        const double error = trial % 4 == 3 ? 12 : 0.02;
        const Vec2 sign = signs[trial / 4 % 4];
        std::vector<Reading> readings;
        for (const std::size_t v : {std::size_t{0}, std::size_t{1}, std::size_t{3}, std::size_t{5}})
            readings.push_back(
                {v,
                 plane_rotation(rad(0.1)) * (guides[v].map.cwiseProduct(sign) + draw.vec(0.08)) +
                     Vec2(3, -2) + draw.vec(error),
                 0.02, std::nullopt});
        const boost::math::chi_squared law(2 * 4 - 3 + 1);
        std::vector<double> tail;
        for (const Vec2& s : signs) {
            std::vector<Vec2> maps;
            for (const Expected& g : guides) maps.push_back(g.map.cwiseProduct(s));
            tail.push_back(cdf(complement(law, walked_chi2(maps, readings, 0.08, rad(0.3)))));
        }
        const auto best = std::max_element(tail.begin() + 1, tail.end());
        const bool expected = tail[0] < 0.001 && *best > 0.01;
        const auto found = recognise(guides, readings, prior);
        ASSERT_EQ(found.has_value(), expected) << "trial " << trial;
        (expected ? named : silent) += 1;
        if (!found) continue;
        constexpr Pattern patterns[] = {Pattern::as_declared, Pattern::end_for_end, Pattern::mirrored,
                                        Pattern::mirrored_end_for_end};
        EXPECT_EQ(found->hypothesis.pattern, patterns[best - tail.begin()]);
        EXPECT_NEAR(found->p, *best, 1e-6);
    }
    EXPECT_GT(named, 12);
    EXPECT_GT(silent, 10);
}

}  // namespace
}  // namespace seatwright::find
