// Causes of runout against what switching each off gives, the fit's gain held: the fit worked out anew from
// the joint covariance of places and touches (the conditional mean of normal variables), nothing of ours in
// it.
#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <map>
#include <string>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/causes.hpp"

namespace seatwright::forecast {
namespace {

struct Shop {
    std::vector<Vec2> guides;
    double place_sd = 0.07, turn_sd = rad(0.03), touch_sd = 0.02, casting_sd = 0.05;
    double positioning_sd = 0.01, level_sd = rad(0.02), guide_sd = rad(0.012), share = 0.7;
    double bend = 0.35, bend_slope = 0.02, play = 0.012, pilot_runout = 0.01, angle = rad(45), gauge = 44;
    Vec2 residual{rad(0.01), rad(-0.02)};
};

MadeBatch made_of(const Shop& shop, std::optional<int> touches, Frame& frame) {
    MadeBatch made;
    Batch& b = made.batch;
    PlaceRules rules;
    rules.place_sd = shop.place_sd;
    rules.turn_sd = shop.turn_sd;
    rules.touch_sd = shop.touch_sd;
    rules.positioning_sd = shop.positioning_sd;
    rules.touches = touches;
    std::vector<GuidePlace> guides;
    for (const Vec2& at : shop.guides) guides.push_back({at, shop.casting_sd, 0.4});
    made.places = {places_of(guides, rules)};
    made.rules = {rules};
    made.guides = {guides};
    b.setups = {{made.places[0].pose, shop.level_sd}};
    b.zeros = {0};
    b.touch_sd = shop.touch_sd;
    b.casting_sd = shop.casting_sd;
    b.positioning_sd = shop.positioning_sd;
    b.share = shop.share;
    b.guide_angle_sd = shop.guide_sd;
    const auto& touched = made.places[0].touched;
    for (std::size_t i = 0; i < guides.size(); ++i) {
        Seat seat;
        seat.from_posts = shop.guides[i];
        seat.angle = shop.angle;
        seat.gauge = shop.gauge;
        seat.bend = shop.bend;
        seat.bend_slope = shop.bend_slope;
        seat.play = shop.play;
        seat.pilot_runout = shop.pilot_runout;
        seat.residual = shop.residual;
        seat.touched = std::find(touched.begin(), touched.end(), i) != touched.end();
        b.seats.push_back(seat);
        SeatFrame one;
        one.seat = seat;
        one.guide = i;
        frame.seats.push_back(one);
    }
    return made;
}

// Mean square of the runout over all seats, with the sources of the place as given and the gain of those of
// the shop; the other sources as given too.
double mean_square(const Shop& of, const Shop& on, const std::vector<std::size_t>& touched) {
    const auto n = static_cast<Eigen::Index>(of.guides.size()), m = static_cast<Eigen::Index>(touched.size());
    // Sources: t (2), θ, a casting error of each guide (2), an error of each touch (2).
    const Eigen::Index many = 3 + 2 * n + 2 * m;
    const auto variances = [&](const Shop& shop) {
        Eigen::VectorXd out(many);
        out << shop.place_sd, shop.place_sd, shop.turn_sd, Eigen::VectorXd::Constant(2 * n, shop.casting_sd),
            Eigen::VectorXd::Constant(2 * m, shop.touch_sd);
        return Eigen::VectorXd(out.array().square());
    };
    Eigen::MatrixXd places = Eigen::MatrixXd::Zero(2 * n, many), touches = Eigen::MatrixXd::Zero(2 * m, many);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2& at = of.guides[static_cast<std::size_t>(i)];
        places(2 * i, 0) = places(2 * i + 1, 1) = 1;
        places(2 * i, 2) = -at.y();
        places(2 * i + 1, 2) = at.x();
        places(2 * i, 3 + 2 * i) = places(2 * i + 1, 4 + 2 * i) = 1;
    }
    for (Eigen::Index k = 0; k < m; ++k) {
        const auto at = static_cast<Eigen::Index>(touched[static_cast<std::size_t>(k)]);
        touches.middleRows(2 * k, 2) = places.middleRows(2 * at, 2);
        touches(2 * k, 3 + 2 * n + 2 * k) = touches(2 * k + 1, 4 + 2 * n + 2 * k) = 1;
    }
    Eigen::MatrixXd left = places;
    if (m > 0) {
        const Eigen::MatrixXd s = variances(of).asDiagonal();
        const Eigen::MatrixXd gain =
            places * s * touches.transpose() * (touches * s * touches.transpose()).inverse();
        left -= gain * touches;
    }
    const Eigen::MatrixXd covariance = left * variances(on).asDiagonal() * left.transpose();
    const double sine = std::sin(on.angle), half = on.gauge / 2 * std::cos(on.angle);
    const double reach = on.bend * sine + half * (1 - on.share) * on.bend * on.bend_slope;
    const double lean = half * on.share;
    double sum = 0;
    for (Eigen::Index i = 0; i < n; ++i) {
        const double miss = covariance(2 * i, 2 * i) + covariance(2 * i + 1, 2 * i + 1) +
                            2 * on.positioning_sd * on.positioning_sd;
        sum +=
            4 *
            (reach * reach * miss + sine * sine * on.play * on.play / 2 +
             std::pow(sine * on.pilot_runout / 2, 2) +
             lean * lean *
                 (2 * on.level_sd * on.level_sd + 2 * on.guide_sd * on.guide_sd + on.residual.squaredNorm()));
    }
    return sum / static_cast<double>(n);
}

TEST(Causes, AreWhatSwitchingEachOffGives) {
    Shop shop;
    shop.guides = {{-160, 8}, {-60, -12}, {35, 10}, {150, -4}, {190, 15}};
    const std::map<std::string, void (*)(Shop&)> off{
        {"posts", [](Shop& s) { s.place_sd = 0; }},
        {"yaw", [](Shop& s) { s.turn_sd = 0; }},
        {"casting", [](Shop& s) { s.casting_sd = 0; }},
        {"touch", [](Shop& s) { s.touch_sd = 0; }},
        {"positioning", [](Shop& s) { s.positioning_sd = 0; }},
        {"play", [](Shop& s) { s.play = 0; }},
        {"pilot runout", [](Shop& s) { s.pilot_runout = 0; }},
        {"attitude", [](Shop& s) { s.level_sd = 0; }},
        {"guide direction", [](Shop& s) { s.guide_sd = 0; }},
        {"residual", [](Shop& s) { s.residual.setZero(); }},
    };
    for (const int touches : {0, 1, 2, 5}) {
        Frame frame;
        const MadeBatch made = made_of(shop, touches, frame);
        const auto& touched = made.places[0].touched;
        ASSERT_EQ(touched.size(), static_cast<std::size_t>(touches));
        const double all = mean_square(shop, shop, touched);
        EXPECT_NEAR(runout_square(made, frame), all, 1e-9 * all) << touches;
        const auto causes = causes_of(made, frame);
        EXPECT_EQ(causes.size(), off.size() - (touches == 0 ? 1 : 0));
        double sum = 0;
        for (const Cause& cause : causes) {
            Shop without = shop;
            off.at(cause.cause)(without);
            const double gone = all - mean_square(shop, without, touched);
            EXPECT_NEAR(cause.share * all, gone, 1e-9 * all) << cause.cause << ", touches " << touches;
            sum += cause.share;
        }
        EXPECT_NEAR(sum, 1, 1e-12);
    }
}

}  // namespace
}  // namespace seatwright::forecast
