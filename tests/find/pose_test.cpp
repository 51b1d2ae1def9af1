// The fit against Umeyama's example, a Kabsch fit by singular values, and a dense solver over all unknowns.
#include "seatwright/find/pose.hpp"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>

#include "find_fixtures.hpp"
#include "seatwright/find/guides.hpp"

namespace seatwright::find {
namespace {

// Umeyama (1991), IEEE PAMI 13(4) 376: the three points of the example; rigid case (scale 1), rotation
// −atan(2/3), t = (−0.980483562263, 0.296866535850), mean square error 0.619754988683 (closed forms).
TEST(Pose, MatchesUmeyamaExample) {
    const Vec2 from[] = {{0, 0}, {1, 0}, {0, 2}}, to[] = {{0, 0}, {-1, 0}, {0, 2}};
    std::vector<Expected> guides;
    std::vector<Reading> readings;
    for (std::size_t i = 0; i < 3; ++i) {
        guides.push_back({from[i], 0});
        readings.push_back({i, to[i], 1.0, std::nullopt});
    }
    const auto pose = fit_pose(guides, readings, {});
    ASSERT_TRUE(pose);
    EXPECT_NEAR(pose->yaw, -std::atan(2.0 / 3.0), 1e-13);
    EXPECT_NEAR(pose->offset().x(), -0.980483562263, 1e-12);
    EXPECT_NEAR(pose->offset().y(), 0.296866535850, 1e-12);
    EXPECT_NEAR(pose->chi2 / 3, 0.619754988683, 1e-12);
}

struct Random {
    std::mt19937_64 engine{12};
    std::normal_distribution<double> normal;
    double operator()(double sd = 1) { return sd * normal(engine); }
    Vec2 vec(double sd) { return {(*this)(sd), (*this)(sd)}; }
};

// Kabsch (1976) by singular value decomposition (Eigen), equal weights: shares no code with the fit.
TEST(Pose, MatchesKabschWherePriorsAreFlat) {
    Random random;
    for (int trial = 0; trial < 200; ++trial) {
        const int n = 2 + trial % 9;
        const double yaw = random(1.0);
        const Vec2 offset = random.vec(100);
        std::vector<Expected> guides;
        std::vector<Reading> readings;
        Eigen::MatrixXd a(2, n), b(2, n);
        for (int i = 0; i < n; ++i) {
            const Vec2 m = random.vec(150);
            const Vec2 r = plane_rotation(yaw) * (m + random.vec(0.1)) + offset + random.vec(0.02);
            guides.push_back({m, 0.1});
            readings.push_back({static_cast<std::size_t>(i), r, 0.02, std::nullopt});
            a.col(i) = m;
            b.col(i) = r;
        }
        const Eigen::Vector2d ca = a.rowwise().mean(), cb = b.rowwise().mean();
        const Eigen::Matrix2d h = (b.colwise() - cb) * (a.colwise() - ca).transpose();
        const Eigen::JacobiSVD<Eigen::Matrix2d> svd(h, Eigen::ComputeFullU | Eigen::ComputeFullV);
        Eigen::Matrix2d flip = Eigen::Matrix2d::Identity();
        flip(1, 1) = (svd.matrixU() * svd.matrixV().transpose()).determinant() > 0 ? 1 : -1;
        const Eigen::Matrix2d r = svd.matrixU() * flip * svd.matrixV().transpose();
        const auto pose = fit_pose(guides, readings, {});
        ASSERT_TRUE(pose);
        EXPECT_NEAR((plane_rotation(pose->yaw) - r).norm(), 0, 1e-12);
        EXPECT_NEAR((pose->offset() - (cb - r * ca)).norm(), 0, 1e-9);
    }
}

// All unknowns at once: θ, t and every δ_v, linearised and solved by a generic QR until it stands still.
struct Dense {
    Eigen::VectorXd x;  // θ, tx, ty, δ…
    Eigen::MatrixXd covariance;
    double chi2 = 0;
};

Dense solve_dense(const std::vector<Expected>& guides, const std::vector<Reading>& readings,
                  const Prior& prior) {
    const auto unknowns = static_cast<Eigen::Index>(3 + 2 * guides.size());
    const auto rows = static_cast<Eigen::Index>(2 * readings.size() + 2 * guides.size() + 3);
    Dense result;
    result.x = Eigen::VectorXd::Zero(unknowns);
    result.x(0) = prior.yaw;
    Eigen::MatrixXd j;
    for (int step = 0; step < 60; ++step) {
        j = Eigen::MatrixXd::Zero(rows, unknowns);
        Eigen::VectorXd e = Eigen::VectorXd::Zero(rows);
        const double c = std::cos(result.x(0)), s = std::sin(result.x(0));
        Eigen::Index row = 0;
        for (const Reading& r : readings) {
            const auto d = static_cast<Eigen::Index>(3 + 2 * r.guide);
            const double px = guides[r.guide].map.x() + result.x(d),
                         py = guides[r.guide].map.y() + result.x(d + 1);
            e(row) = (r.at.x() - (c * px - s * py) - result.x(1)) / r.sd;
            e(row + 1) = (r.at.y() - (s * px + c * py) - result.x(2)) / r.sd;
            j.row(row)(0) = (-s * px - c * py) / r.sd;
            j.row(row + 1)(0) = (c * px - s * py) / r.sd;
            j(row, 1) = j(row + 1, 2) = 1 / r.sd;
            j(row, d) = c / r.sd;
            j(row, d + 1) = -s / r.sd;
            j(row + 1, d) = s / r.sd;
            j(row + 1, d + 1) = c / r.sd;
            row += 2;
        }
        for (std::size_t v = 0; v < guides.size(); ++v)
            for (Eigen::Index k = 0; k < 2; ++k) {
                const auto d = static_cast<Eigen::Index>(3 + 2 * v) + k;
                j(row, d) = 1 / guides[v].scatter;
                e(row++) = -result.x(d) / guides[v].scatter;
            }
        if (prior.yaw_sd) {
            j(row, 0) = 1 / *prior.yaw_sd;
            e(row) = (prior.yaw - result.x(0)) / *prior.yaw_sd;
        }
        ++row;
        for (Eigen::Index k = 0; k < 2; ++k, ++row)
            if (prior.offset_sd) {
                j(row, 1 + k) = 1 / *prior.offset_sd;
                e(row) = (prior.offset(k) - result.x(1 + k)) / *prior.offset_sd;
            }
        result.chi2 = e.squaredNorm();
        const Eigen::VectorXd change = j.colPivHouseholderQr().solve(e);
        result.x += change;
        if (change.norm() < 1e-12) break;
    }
    result.covariance = (j.transpose() * j).inverse();
    return result;
}

TEST(Pose, MatchesDenseSolveOverAllUnknowns) {
    Random random;
    for (int trial = 0; trial < 120; ++trial) {
        const std::size_t n = 3 + static_cast<std::size_t>(trial % 5);
        Prior prior;
        if (trial % 3 != 0) {
            prior.yaw = random(0.01);
            prior.yaw_sd = 0.001;
        }
        if (trial % 3 == 2) {
            prior.offset = random.vec(1);
            prior.offset_sd = 0.2;
        }
        std::vector<Expected> guides;
        std::vector<Reading> readings;
        const double yaw = prior.yaw + random(0.001);
        const Vec2 offset = prior.offset + random.vec(0.2);
        for (std::size_t v = 0; v < n; ++v) {
            guides.push_back({random.vec(150), 0.05 + 0.03 * static_cast<double>(v % 3)});
            if (v == 1 && n > 3) continue;  // one guide is never touched
            const Vec2 true_at =
                plane_rotation(yaw) * (guides[v].map + random.vec(guides[v].scatter)) + offset;
            for (std::size_t k = 0; k <= v % 2; ++k) {
                const double sd = 0.01 + 0.01 * static_cast<double>(k);
                readings.push_back({v, true_at + random.vec(sd), sd, std::nullopt});
            }
        }
        const auto pose = fit_pose(guides, readings, prior);
        ASSERT_TRUE(pose);
        const Dense dense = solve_dense(guides, readings, prior);
        EXPECT_NEAR(pose->yaw, dense.x(0), 1e-9);
        EXPECT_NEAR(pose->chi2, dense.chi2, 1e-6 * (1 + dense.chi2));
        EXPECT_NEAR(std::sqrt(pose->yaw_variance), std::sqrt(dense.covariance(0, 0)),
                    2e-3 * std::sqrt(dense.covariance(0, 0)));
        const auto read = combine(guides.size(), readings);
        std::vector<Place> places;
        for (std::size_t v = 0; v < n; ++v) places.push_back(place_guide(guides[v], read[v], *pose));
        const Mat2 turn = plane_rotation(dense.x(0));
        for (std::size_t v = 0; v < n; ++v) {
            const auto d = static_cast<Eigen::Index>(3 + 2 * v);
            const Vec2 at =
                turn * (guides[v].map + Vec2(dense.x(d), dense.x(d + 1))) + Vec2(dense.x(1), dense.x(2));
            EXPECT_NEAR((places[v].at - at).norm(), 0, 1e-6) << "guide " << v;
            Eigen::MatrixXd g = Eigen::MatrixXd::Zero(2, dense.x.size());
            const Vec2 arm = at - Vec2(dense.x(1), dense.x(2));
            g(0, 0) = -arm.y();
            g(1, 0) = arm.x();
            g(0, 1) = g(1, 2) = 1;
            g.block<2, 2>(0, d) = turn;
            const Eigen::Matrix2d c = g * dense.covariance * g.transpose();
            EXPECT_NEAR((places[v].covariance - c).norm(), 0, 4e-3 * c.norm()) << "guide " << v;
        }
    }
}

TEST(Pose, OneTouchWithAPriorIsTheClosedForm) {
    const std::vector<Expected> guides{{{0, 0}, 0.1}, {{300, 0}, 0.1}};
    const std::vector<Reading> readings{{0, {1, 2}, 0.02, std::nullopt}};
    const auto pose = fit_pose(guides, readings, {0, 0.001, Vec2::Zero(), std::nullopt});
    ASSERT_TRUE(pose);
    EXPECT_DOUBLE_EQ(pose->yaw, 0);
    EXPECT_NEAR(pose->chi2, 0, 1e-20);
    const auto read = combine(2, readings);
    const Place far = place_guide(guides[1], read[1], *pose);
    EXPECT_NEAR(far.covariance(0, 0), 2 * 0.01 + 0.0004, 1e-12);
    EXPECT_NEAR(far.covariance(1, 1), 2 * 0.01 + 0.0004 + 0.09, 1e-12);
    const Place near = place_guide(guides[0], read[0], *pose);
    EXPECT_NEAR(near.covariance(0, 0), 0.0004, 1e-9);  // offset flat: the reading alone says where it is
    EXPECT_NEAR(near.at.x(), 1, 1e-12);
}

TEST(Pose, KeepsItsLimits) {
    const std::vector<Expected> guides{{{0, 0}, 0}, {{300, 0}, 0}};
    EXPECT_FALSE(fit_pose(guides, {}, {0, 0.001, Vec2::Zero(), std::nullopt}));
    // No scatter, no reading error: floored, still finite and exact.
    const std::vector<Reading> exact{{0, {1, 2}, 0, std::nullopt}, {1, {301, 2}, 0, std::nullopt}};
    const auto pose = fit_pose(guides, exact, {});
    ASSERT_TRUE(pose);
    EXPECT_NEAR(pose->yaw, 0, 1e-12);
    EXPECT_NEAR(pose->chi2, 0, 1e-6);
    // Only a carry prior.
    const auto carried = fit_pose(guides, {}, {0.01, 0.002, Vec2(3, 4), 0.1});
    ASSERT_TRUE(carried);
    EXPECT_DOUBLE_EQ(carried->yaw, 0.01);
    EXPECT_NEAR(carried->yaw_variance, 4e-6, 1e-18);
    EXPECT_NEAR(carried->covariance({300, 0}).trace(), 2 * 0.01 + 4e-6 * 9e4, 1e-12);
    // One guide and no prior of yaw: said to be unknown.
    const std::vector<Reading> one{{0, {1, 2}, 0.1, std::nullopt}};
    EXPECT_FALSE(fit_pose(guides, one, {})->yaw_known);
}

}  // namespace
}  // namespace seatwright::find
