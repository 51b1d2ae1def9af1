#include "seatwright/forecast/places.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "seatwright/find/guides.hpp"
#include "seatwright/find/next_touch.hpp"
#include "seatwright/find/pose.hpp"

namespace seatwright::forecast {
namespace {

double at_least(double sd) {
    return std::max(sd, find::least_sd);
}

// Σ about the posts' midpoint of a pose known about its centroid.
Mat3 about_posts(const find::Pose& pose) {
    const Vec2 arm(-pose.centroid.y(), pose.centroid.x());
    Mat3 out = Mat3::Zero();
    out.topLeftCorner<2, 2>() = Mat2::Identity() / pose.weight + pose.yaw_variance * arm * arm.transpose();
    out.block<2, 1>(0, 2) = -pose.yaw_variance * arm;
    out.block<1, 2>(2, 0) = out.block<2, 1>(0, 2).transpose();
    out(2, 2) = pose.yaw_variance;
    return out;
}

}  // namespace

Places places_of(const std::vector<GuidePlace>& guides, const PlaceRules& rules) {
    Places out;
    std::vector<find::Expected> expected;
    std::vector<std::optional<double>> rooms;
    expected.reserve(guides.size());
    rooms.reserve(guides.size());
    for (const GuidePlace& guide : guides) {
        expected.push_back({guide.from_posts, guide.casting_sd});
        rooms.push_back(guide.room);
    }
    find::Prior prior;
    if (!rules.rezero) prior.offset_sd = rules.place_sd;
    prior.yaw_sd = std::max(rules.turn_sd, 1e-12);
    std::vector<find::Reading> readings;
    const auto touch = [&](std::size_t guide) {
        readings.push_back({guide, guides[guide].from_posts, at_least(rules.touch_sd), std::nullopt, false});
        out.touched.push_back(guide);
    };
    if (rules.rezero && rules.datum) touch(*rules.datum);
    while (true) {
        const auto pose = find::fit_pose(expected, readings, prior);
        if (!pose) break;
        // A place or turn that is exactly known stays so: find knows no prior without an error.
        out.pose = about_posts(*pose);
        if (!rules.rezero && rules.place_sd <= 0 && rules.turn_sd <= 0) out.pose.setZero();
        if (out.touched.size() >= guides.size()) break;
        if (rules.touches && out.touched.size() >= static_cast<std::size_t>(*rules.touches)) break;
        const auto read = find::combine(guides.size(), readings);
        std::vector<bool> may(guides.size(), true);
        for (const std::size_t t : out.touched) may[t] = false;
        std::optional<double> least;
        for (std::size_t v = 0; v < guides.size(); ++v) {
            if (!rooms[v]) continue;
            const auto place = find::place_guide(expected[v], read[v], *pose);
            least = std::min(least.value_or(1.0),
                             find::enter_probability(place, place.at, rules.positioning_sd, *rooms[v]));
        }
        if (!rules.touches && (!least || *least >= rules.enter_target)) break;
        const auto plan =
            find::plan_touches(expected, read, *pose, rooms, least, may,
                               {at_least(rules.touch_sd), rules.positioning_sd, rules.enter_target});
        if (!plan.next) break;
        touch(*plan.next);
    }
    return out;
}

// Joseph's form of the covariance, split by the blocks of the prior: P·P0⁻¹_block·P for what was known
// before, P·Hᵀ·R⁻¹·H·P for the touches.
std::vector<MissParts> miss_parts(const std::vector<GuidePlace>& guides, const PlaceRules& rules,
                                  const Places& places) {
    using Matrix = Eigen::MatrixXd;
    const auto inverse = [](double sd) { return 1 / (std::max(sd, 1e-9) * std::max(sd, 1e-9)); };
    const auto touches = static_cast<Eigen::Index>(places.touched.size());
    const Eigen::Index size = 3 + 2 * touches;
    Matrix posts = Matrix::Zero(size, size), yaw = posts, casting = posts, read = posts;
    if (!rules.rezero) posts(0, 0) = posts(1, 1) = inverse(rules.place_sd);
    yaw(2, 2) = inverse(rules.turn_sd);
    const auto moved = [&](std::size_t guide) {  // a guide's place by the pose
        Matrix out = Matrix::Zero(2, size);
        const Vec2& m = guides[guide].from_posts;
        out(0, 0) = out(1, 1) = 1;
        out(0, 2) = -m.y();
        out(1, 2) = m.x();
        return out;
    };
    std::vector<Eigen::Index> column(guides.size(), -1);
    for (Eigen::Index i = 0; i < touches; ++i) {
        const std::size_t guide = places.touched[static_cast<std::size_t>(i)];
        const Eigen::Index at = 3 + 2 * i;
        column[guide] = at;
        casting(at, at) = casting(at + 1, at + 1) = inverse(guides[guide].casting_sd);
        Matrix h = moved(guide);
        h(0, at) = h(1, at + 1) = 1;
        read += h.transpose() * h * inverse(rules.touch_sd);
    }
    const Matrix covariance = (posts + yaw + casting + read).inverse();
    std::vector<MissParts> out;
    out.reserve(guides.size());
    for (std::size_t v = 0; v < guides.size(); ++v) {
        Matrix a = moved(v);
        if (column[v] >= 0) a(0, column[v]) = a(1, column[v] + 1) = 1;
        const Matrix gained = a * covariance;
        const auto part = [&](const Matrix& of) { return (gained * of * gained.transpose()).trace(); };
        MissParts parts{part(posts), part(yaw), part(casting), part(read)};
        if (column[v] < 0) parts.casting += 2 * guides[v].casting_sd * guides[v].casting_sd;
        out.push_back(parts);
    }
    return out;
}

}  // namespace seatwright::forecast
