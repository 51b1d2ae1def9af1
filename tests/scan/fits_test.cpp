// The features' fits against answers made by the null-space method (both sets of the shared data, whose
// answers hold to 17 and 19 digits; the points pass through float here, so agreement is to its rounding) and
// against MINPACK (More, Garbow, Hillstrom, ANL-80-74), which minimises the same sum with its own
// derivatives.
#include <cminpack.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <fstream>
#include <sstream>

#include "places.hpp"
#include "scan/scene.hpp"
#include "seatwright/scan/deck.hpp"
#include "seatwright/scan/facets.hpp"
#include "shared_data.hpp"

namespace seatwright::scan {
namespace {

// About their mean, so that float keeps what it can.
struct Given {
    std::vector<Point> points;
    Vec3 mean = Vec3::Zero();
    std::vector<double> answer;
};

std::optional<Given> given(const std::string& name) {
    const auto points = outside::data_file("features/" + name + ".ds");
    const auto answer = outside::data_file("features/" + name + ".fit");
    if (!points || !answer) return std::nullopt;
    Given out;
    const auto rows = outside::number_rows(*points);
    for (const auto& r : rows) out.mean += Vec3(r[0], r[1], r[2]) / static_cast<double>(rows.size());
    for (const auto& r : rows)
        out.points.push_back({static_cast<float>(r[0] - out.mean.x()),
                              static_cast<float>(r[1] - out.mean.y()),
                              static_cast<float>(r[2] - out.mean.z())});
    for (const auto& r : outside::number_rows(*answer)) out.answer.push_back(r[0]);
    return out;
}

constexpr double by_float = 5e-6;

TEST(Fits, CylindersOfTheReferenceData) {
    for (const char* name : {"cyl1_guide", "cyl3_arc90"}) {
        const auto g = given(name);
        if (!g) GTEST_SKIP() << outside::missing(outside::no_data);
        const Vec3 at = Vec3(g->answer[0], g->answer[1], g->answer[2]) - g->mean;
        const Vec3 axis = Vec3(g->answer[3], g->answer[4], g->answer[5]).normalized();
        // A start some way off.
        Cylinder start;
        const Across frame = across(axis);
        start.at = at - axis.dot(at) * axis + 0.05 * frame.u - 0.04 * frame.v;
        start.axis = (axis + 0.004 * frame.u + 0.003 * frame.v).normalized();
        start.radius = g->answer[6] / 2 + 0.03;
        start.low = -200;
        start.high = 200;
        const auto fit = fit_cylinder(g->points, start, 1.0);
        ASSERT_TRUE(fit) << name;
        EXPECT_NEAR(fit->count, static_cast<double>(g->points.size()), 0.5) << name;
        const Vec3 d = fit->cylinder.at - at;
        // An arc of 90 deg has its centre worse by some ten times.
        const double loose = std::string(name) == "cyl3_arc90" ? 10 : 1;
        EXPECT_LT((d - axis.dot(d) * axis).norm(), loose * by_float) << name;
        EXPECT_LT(fit->cylinder.axis.cross(axis).norm(), loose * by_float / 5) << name;
        EXPECT_NEAR(2 * fit->cylinder.radius, g->answer[6], loose * by_float) << name;
    }
}

TEST(Fits, ConesOfTheReferenceData) {
    for (const char* name : {"cone1_45band", "cone2_30"}) {
        const auto g = given(name);
        if (!g) GTEST_SKIP() << outside::missing(outside::no_data);
        const double half = g->answer[7] / 2 * rad_per_deg;
        // The axis is held, as a seat's is to its guide; radius grows along +axis (README of the data).
        for (const double sign : {1.0, -1.0}) {
            Cylinder axis;
            axis.at = Vec3(g->answer[0], g->answer[1], g->answer[2]) - g->mean;
            axis.axis = sign * Vec3(g->answer[3], g->answer[4], g->answer[5]).normalized();
            const Across frame = across(axis.axis);
            double slope = 0, rho = 0, s = 0;
            const auto n = static_cast<double>(g->points.size());
            for (const auto& p : g->points) {
                const Vec3 d = in_axis_frame(axis, frame, p.vec());
                rho += d.head<2>().norm() / n;
                s += d.z() / n;
            }
            for (const auto& p : g->points) {
                const Vec3 d = in_axis_frame(axis, frame, p.vec());
                slope += (d.head<2>().norm() - rho) * (d.z() - s);
            }
            if (slope < 0) continue;
            Facet start;
            start.angle = pi / 2 - half + 0.02;
            start.rho = rho + 0.01;
            start.s = s;
            start.inner = 0.01;
            start.outer = 1000;
            const auto fit = fit_facet(g->points, axis, start, 2.0);
            ASSERT_TRUE(fit) << name;
            EXPECT_NEAR(fit->count, n, 0.5) << name;
            EXPECT_NEAR(fit->angle, pi / 2 - half, by_float) << name;
            EXPECT_LT(fit->off.norm(), 2 * by_float) << name;
            // Square to the surface from the point of the axis that is given.
            const double away = std::abs(fit->line().distance(0, 0));
            EXPECT_NEAR(away, g->answer[6], 2 * by_float) << name;
        }
    }
}

// The pairs of the other null-space set: points of a .csv, the answer in a .ref of key=value lines.
struct Made {
    Given given;
    Vec3 at = Vec3::Zero(), axis = Vec3::UnitZ();
    double radius = 0, half_angle = 0;  // at `at`, square to the axis; rad
    Vec3 normal = Vec3::UnitZ();
    double offset = 0;
};
std::optional<Made> made_pair(const std::string& name) {
    const auto points = outside::data_file("constructed_nullspace/" + name + ".csv");
    const auto answer = outside::data_file("constructed_nullspace/" + name + ".ref");
    if (!points || !answer) return std::nullopt;
    Made out;
    const auto rows = outside::number_rows(*points, 2);
    for (const auto& r : rows) out.given.mean += Vec3(r[0], r[1], r[2]) / static_cast<double>(rows.size());
    for (const auto& r : rows) {
        const Vec3 p = Vec3(r[0], r[1], r[2]) - out.given.mean;
        out.given.points.push_back(
            {static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())});
    }
    std::ifstream in(*answer);
    for (std::string line; std::getline(in, line);) {
        const auto equals = line.find('=');
        if (line.starts_with('#') || equals == std::string::npos) continue;
        const std::string key = line.substr(0, equals);
        std::string text = line.substr(equals + 1);
        for (char& c : text)
            if (c == '[' || c == ']' || c == ',') c = ' ';
        std::istringstream words(text);
        std::vector<double> value;
        for (double v = 0; words >> v;) value.push_back(v);
        const auto place = [&] { return Vec3(value.at(0), value.at(1), value.at(2)); };
        if (key == "p") out.at = place() - out.given.mean;
        if (key == "a") out.axis = place().normalized();
        if (key == "R") out.radius = value.at(0);
        if (key == "half_angle_deg") out.half_angle = value.at(0) * rad_per_deg;
        if (key == "normal") out.normal = place().normalized();
        if (key == "offset_d") out.offset = value.at(0);
    }
    return out;
}

TEST(Fits, TheCylinderOfTheConstructedSet) {
    const auto m = made_pair("cylinder_guide_d7");
    if (!m) GTEST_SKIP() << outside::missing(outside::no_data);
    Cylinder start;
    const Across frame = across(m->axis);
    start.at = m->at + 0.04 * frame.u - 0.05 * frame.v;
    start.axis = (m->axis + 0.003 * frame.u - 0.004 * frame.v).normalized();
    start.radius = m->radius - 0.03;
    start.low = -100;
    start.high = 100;
    const auto fit = fit_cylinder(m->given.points, start, 0.5);
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->count, static_cast<double>(m->given.points.size()), 0.5);
    const Vec3 d = fit->cylinder.at - m->at;
    EXPECT_LT((d - m->axis.dot(d) * m->axis).norm(), by_float);
    EXPECT_LT(fit->cylinder.axis.cross(m->axis).norm(), by_float / 5);
    EXPECT_NEAR(fit->cylinder.radius, m->radius, by_float);
}

// Its cones are given with their radius growing along +a; a seat's axis is held to its guide's, here the
// answer's.
TEST(Fits, TheConesOfTheConstructedSet) {
    for (const char* name : {"cone_seat_45", "cone_seat_throat30", "cone_taper_7p5"}) {
        SCOPED_TRACE(name);
        const auto m = made_pair(name);
        if (!m) GTEST_SKIP() << outside::missing(outside::no_data);
        Cylinder axis;
        axis.at = m->at;
        axis.axis = m->axis;
        Facet start;
        start.angle = pi / 2 - m->half_angle + 0.02;
        start.rho = m->radius + 0.01;
        start.inner = 0.01;
        start.outer = 1000;
        const auto fit = fit_facet(m->given.points, axis, start, 2.0);
        ASSERT_TRUE(fit);
        EXPECT_NEAR(fit->count, static_cast<double>(m->given.points.size()), 0.5);
        EXPECT_NEAR(fit->angle, pi / 2 - m->half_angle, by_float);
        EXPECT_LT(fit->off.norm(), 2 * by_float);
        EXPECT_NEAR(fit->line().distance(m->radius, 0), 0, by_float);
    }
}

TEST(Fits, ThePlaneOfTheConstructedSet) {
    const auto m = made_pair("plane");
    if (!m) GTEST_SKIP() << outside::missing(outside::no_data);
    Points points(m->given.points.size());
    std::copy(m->given.points.begin(), m->given.points.end(), points.begin());
    const auto deck = deck_of(points);
    ASSERT_TRUE(deck);
    const double sign = deck->normal.dot(m->normal) < 0 ? -1 : 1;
    EXPECT_LT((sign * deck->normal).cross(m->normal).norm(), by_float / 5);
    EXPECT_NEAR(sign * deck->level, m->offset - m->normal.dot(m->given.mean), by_float);
}

// Distances of points from a cylinder about (x, y, 0) leaning by (a, b), radius r: five unknowns of
// MINPACK's.
struct Problem {
    const std::vector<Vec3>* points;
};
int residuals(void* data, int m, int, const double* x, double* out, int) {
    const auto& points = *static_cast<Problem*>(data)->points;
    const Vec3 at(x[0], x[1], 0), axis = Vec3(x[2], x[3], 1).normalized();
    for (int i = 0; i < m; ++i) out[i] = (points[static_cast<std::size_t>(i)] - at).cross(axis).norm() - x[4];
    return 0;
}

TEST(Fits, CylindersAsMinpackFitsThem) {
    made::Rng rng(11);
    for (int draw = 0; draw < 8; ++draw) {
        const Vec3 axis = Vec3(made::evenly(rng, -0.3, 0.3), made::evenly(rng, -0.3, 0.3), 1).normalized();
        made::Surface bore;
        bore.axis = axis;
        bore.rho0 = bore.rho1 = made::evenly(rng, 2.5, 6);
        bore.s0 = -made::evenly(rng, 6, 25);
        bore.s1 = -bore.s0;
        bore.turn0 = draw % 2 == 0 ? -pi : -1.8;
        std::vector<Point> points;
        for (int i = 0; i < 900; ++i) {
            const auto s = bore.draw(rng);
            const Vec3 p = s->at + 0.02 * made::normally(rng) * s->normal;
            points.push_back(
                {static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())});
        }
        for (int i = 0; i < 300; ++i)
            points.push_back({static_cast<float>(made::evenly(rng, -8, 8)),
                              static_cast<float>(made::evenly(rng, -8, 8)),
                              static_cast<float>(made::evenly(rng, -25, 25))});
        Cylinder start;
        start.axis = (axis + Vec3(0.01, -0.008, 0)).normalized();
        start.at = Vec3(0.06, -0.05, 0);
        start.radius = bore.rho0 + 0.05;
        start.low = bore.s0;
        start.high = bore.s1;
        const auto fit = fit_cylinder(points, start, 0.4);
        ASSERT_TRUE(fit);
        // The points our answer rests on, and the same sum over them by MINPACK.
        std::vector<Vec3> kept;
        const auto& c = fit->cylinder;
        for (const auto& p : points) {
            const Vec3 d = p.vec() - c.at;
            const double z = c.axis.dot(d);
            if (z >= c.low && z <= c.high &&
                std::abs(std::sqrt(d.squaredNorm() - z * z) - c.radius) < 4 * fit->sd)
                kept.push_back(p.vec());
        }
        EXPECT_NEAR(static_cast<double>(kept.size()), fit->count, 2);
        Problem problem{&kept};
        const Vec3 foot = c.at - c.at.z() / c.axis.z() * c.axis;
        std::vector<double> x{0.03, -0.02, axis.x() / axis.z() + 0.004, axis.y() / axis.z(),
                              bore.rho0 + 0.01};
        const int m = static_cast<int>(kept.size()), n = 5, room = m * n + 5 * n + m;
        std::vector<double> left(kept.size()), work(static_cast<std::size_t>(room));
        std::vector<int> iwork(5);
        const int info =
            lmdif1(residuals, &problem, m, n, x.data(), left.data(), 1e-14, iwork.data(), work.data(), room);
        ASSERT_TRUE(info >= 1 && info <= 4) << info;
        EXPECT_NEAR(x[0], foot.x(), 1e-6);
        EXPECT_NEAR(x[1], foot.y(), 1e-6);
        EXPECT_NEAR(x[2], c.axis.x() / c.axis.z(), 1e-7);
        EXPECT_NEAR(x[3], c.axis.y() / c.axis.z(), 1e-7);
        EXPECT_NEAR(x[4], c.radius, 1e-6);
    }
}

TEST(Fits, TheDeckIsThePlaneOfLeastSquares) {
    made::Rng rng(5);
    const Vec3 normal = Vec3(0.3, -0.2, 1).normalized();
    const Across f = across(normal);
    Points points(30000);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const bool on = i % 10 < 6;
        Vec3 p = made::evenly(rng, -200, 200) * f.u + made::evenly(rng, -70, 70) * f.v;
        p += (on ? 7 + 0.02 * made::normally(rng) : made::evenly(rng, -90, 8)) * normal;
        points[i] = {static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())};
    }
    const auto deck = deck_of(points);
    ASSERT_TRUE(deck);
    // sd of a slope: s·√12/(L·√n), 0.02·√12/(140·√18000) = 3.7e-6 across.
    EXPECT_LT(deck->normal.cross(normal).norm(), 4 * 3.8e-6);
    EXPECT_NEAR(deck->level, 7, 4 * 0.02 / std::sqrt(18000.0) + 1e-5);
    EXPECT_NEAR(deck->sd, 0.02, 0.0006);
    EXPECT_NEAR(deck->share, 0.6, 0.01);
    EXPECT_FALSE(deck->rival);
}

}  // namespace
}  // namespace seatwright::scan
