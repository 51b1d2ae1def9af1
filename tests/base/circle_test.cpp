// True circles against the NIST Algorithm Testing System's reference fits, published worked circles and
// minimum-zone values of the literature.
#include "seatwright/base/numerics/circle.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "shared_data.hpp"

namespace seatwright::numerics {
namespace {

// Thirty planar circles of the NIST ATS, each square to a coordinate axis; the reference answers carry 17
// digits.
TEST(Circle, NistReferenceFits) {
    int compared = 0;
    for (int k = 1; k <= 20; ++k) {
        const std::string name = "nist_ats_circle2d/cir2d" + std::to_string(k);
        const auto data = outside::data_file(name + ".ds"), answer = outside::data_file(name + ".fit");
        if (!data || !answer) GTEST_SKIP() << outside::missing(outside::no_data);
        std::vector<double> fit;
        for (const auto& row : outside::number_rows(*answer)) fit.insert(fit.end(), row.begin(), row.end());
        ASSERT_EQ(fit.size(), 7u) << name;
        std::vector<std::size_t> axes;
        for (std::size_t a = 0; a < 3; ++a)
            if (std::abs(fit[3 + a]) < 0.5) axes.push_back(a);
        ASSERT_EQ(axes.size(), 2u) << name;
        std::vector<Vec2> points;
        for (const auto& row : outside::number_rows(*data, 2))
            points.emplace_back(row[axes[0]], row[axes[1]]);
        const auto c = least_squares_circle(points);
        ASSERT_TRUE(c.has_value()) << name;
        EXPECT_NEAR(c->centre.x(), fit[axes[0]], 1e-10) << name;
        EXPECT_NEAR(c->centre.y(), fit[axes[1]], 1e-10) << name;
        EXPECT_NEAR(2 * c->radius, fit[6], 1e-10) << name;
        ++compared;
    }
    EXPECT_EQ(compared, 20);
}

// Gander, Golub and Strebel 1994: centre (4.739782, 2.983533), radius 4.714226.
TEST(Circle, PublishedSixPoints) {
    const auto c = least_squares_circle({{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}});
    ASSERT_TRUE(c.has_value());
    EXPECT_NEAR(c->centre.x(), 4.739782410, 1e-8);
    EXPECT_NEAR(c->centre.y(), 2.983532700, 1e-8);
    EXPECT_NEAR(c->radius, 4.714226038, 1e-8);
}

struct Literature {
    const char* name;
    double ls, zone, outer_radius, around, inner_radius, inside;
};

// Three data sets of the roundness literature: minimum zones 0.9574 and 0.0085 as printed there (from
// memory); the further digits computed twice by contact-point search.
TEST(Circle, MinimumZonesOfTheLiterature) {
    for (const Literature& set : {Literature{"roundness_set1", 0.986876207, 0.957419946, 1.964109438,
                                             0.962373387, 1.014288781, 0.958462466},
                                  Literature{"roundness_set2", 0.009194550, 0.008537464, 1.004422335,
                                             0.009023112, 0.996030467, 0.008823562}}) {
        const auto path = outside::data_file(std::string("roundness/") + set.name + ".csv");
        if (!path) GTEST_SKIP() << outside::missing(outside::no_data);
        std::vector<Vec2> points;
        for (const auto& row : outside::number_rows(*path, 2)) points.emplace_back(row[0], row[1]);
        const auto ls = least_squares_circle(points);
        const auto mz = rim_circle(points, Rim::minimum_zone);
        const auto mc = rim_circle(points, Rim::circumscribed);
        const auto mi = rim_circle(points, Rim::inscribed);
        ASSERT_TRUE(ls && mz && mc && mi) << set.name;
        EXPECT_NEAR(ls->out_of_round(), set.ls, 1e-8) << set.name;
        EXPECT_NEAR(mz->out_of_round(), set.zone, 1e-8) << set.name;
        EXPECT_NEAR(mc->radius, set.outer_radius, 1e-8) << set.name;
        EXPECT_NEAR(mc->out_of_round(), set.around, 1e-8) << set.name;
        EXPECT_NEAR(mi->radius, set.inner_radius, 1e-8) << set.name;
        EXPECT_NEAR(mi->out_of_round(), set.inside, 1e-8) << set.name;
        EXPECT_LE(mz->out_of_round(),
                  std::min({ls->out_of_round(), mc->out_of_round(), mi->out_of_round()}) + 1e-12);
    }
}

// NIST circles with full coverage: zones computed by contact-point search.
TEST(Circle, ZonesOfNistPoints) {
    struct Row {
        int k;
        double ls, zone, around, inside;
    };
    for (const Row& row : {Row{6, 0.097716398, 0.094798987, 0.094903941, 0.099878403},
                           {10, 0.003268785, 0.002903867, 0.002985972, 0.002939573},
                           {17, 0.014235357, 0.013953657, 0.015302284, 0.013988968},
                           {18, 0.035954366, 0.035295794, 0.035991738, 0.035367727}}) {
        const std::string name = "nist_ats_circle2d/cir2d" + std::to_string(row.k);
        const auto data = outside::data_file(name + ".ds"), answer = outside::data_file(name + ".fit");
        if (!data || !answer) GTEST_SKIP() << outside::missing(outside::no_data);
        std::vector<double> fit;
        for (const auto& line : outside::number_rows(*answer))
            fit.insert(fit.end(), line.begin(), line.end());
        std::vector<Vec2> points;
        for (const auto& p : outside::number_rows(*data, 2)) {
            std::vector<double> flat;
            for (std::size_t a = 0; a < 3; ++a)
                if (std::abs(fit[3 + a]) < 0.5) flat.push_back(p[a]);
            points.emplace_back(flat[0], flat[1]);
        }
        EXPECT_NEAR(least_squares_circle(points)->out_of_round(), row.ls, 2e-9) << name;
        EXPECT_NEAR(rim_circle(points, Rim::minimum_zone)->out_of_round(), row.zone, 2e-9) << name;
        EXPECT_NEAR(rim_circle(points, Rim::circumscribed)->out_of_round(), row.around, 2e-9) << name;
        EXPECT_NEAR(rim_circle(points, Rim::inscribed)->out_of_round(), row.inside, 2e-9) << name;
    }
}

TEST(Circle, RefusesLinesAndPoints) {
    EXPECT_FALSE(least_squares_circle({{0, 0}, {1, 1}}).has_value());
    EXPECT_FALSE(least_squares_circle({{0, 0}, {1, 1}, {2, 2}, {3, 3}}).has_value());
    EXPECT_FALSE(least_squares_circle({{1, 1}, {1, 1}, {1, 1}}).has_value());
}

}  // namespace
}  // namespace seatwright::numerics
