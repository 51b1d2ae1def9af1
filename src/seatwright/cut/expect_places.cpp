#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/expect.hpp"
#include "seatwright/words/figure.hpp"

namespace seatwright::cut {

namespace {

// Guides nearer to each other than this are one: less than any stem (common practice).
constexpr double one_place = 4;
// Below this the direction between two seats says nothing of the head's yaw.
constexpr double least_lever = 10;

std::string place_words(const Vec2& at, LengthUnit unit) {
    return fmt::format("X {} Y {}", written(as_length(at.x()), unit), written(as_length(at.y()), unit));
}

class Places {
  public:
    Places(const Expected& expected, const std::vector<Placed>& places, LengthUnit unit)
        : expected_(expected), places_(places), unit_(unit) {}

    std::string fault() const {
        for (const Placed& place : places_) {
            const ExpectedSeat* seat = expected_.seat(place.valve);
            if (!seat) return fmt::format("seat {} does not belong to this setup", place.id);
            if (std::string text = alone(place, *seat); !text.empty()) return text;
        }
        for (std::size_t i = 0; i < places_.size(); ++i)
            for (std::size_t j = i + 1; j < places_.size(); ++j)
                if (std::string text = together(places_[i], places_[j]); !text.empty()) return text;
        return yaw();
    }

  private:
    std::string alone(const Placed& place, const ExpectedSeat& seat) const {
        for (const Anchor& anchor : seat.anchors)
            if ((place.at - anchor.at).norm() > anchor.within)
                return fmt::format("seat {} is programmed at {}; its guide was touched at {}", seat.id,
                                   place_words(place.at, unit_), place_words(anchor.at, unit_));
        const bool none = std::all_of(expected_.seats.begin(), expected_.seats.end(),
                                      [](const ExpectedSeat& s) { return s.anchors.empty(); });
        if (!none) return "";
        const Vec2 map = expected_.offset + seat.map;
        const double lever =
            2 * std::sin(0.5 * (std::abs(expected_.yaw) + expected_.yaw_within)) * seat.map.norm();
        if ((place.at - map).norm() > expected_.single_within + lever)
            return fmt::format("seat {} is programmed at {}; the head as held has it at {}", seat.id,
                               place_words(place.at, unit_), place_words(map, unit_));
        return "";
    }

    std::string together(const Placed& a, const Placed& b) const {
        const double apart = (a.at - b.at).norm();
        if (apart < one_place)
            return fmt::format("seats {} and {} are programmed at one place, {}", a.id, b.id,
                               place_words(a.at, unit_));
        const ExpectedSeat &one = *expected_.seat(a.valve), &other = *expected_.seat(b.valve);
        if (one.by_own_touch || other.by_own_touch) return "";
        const double drawn = (one.map - other.map).norm();
        if (std::abs(apart - drawn) > expected_.pair_within)
            return fmt::format("seats {} and {} are programmed {} apart; the head has them {} apart", a.id,
                               b.id, written(as_length(apart), unit_), written(as_length(drawn), unit_));
        return "";
    }

    // Turn of the programmed places against the drawing, all together; a mirrored row shows as a large one.
    std::string yaw() const {
        std::vector<std::pair<Vec2, Vec2>> pairs;
        for (const Placed& place : places_) {
            const ExpectedSeat& seat = *expected_.seat(place.valve);
            if (!seat.by_own_touch) pairs.emplace_back(seat.map, place.at);
        }
        if (pairs.size() < 2) return "";
        Vec2 centre = Vec2::Zero(), programmed = Vec2::Zero();
        for (const auto& [map, at] : pairs) {
            centre += map / static_cast<double>(pairs.size());
            programmed += at / static_cast<double>(pairs.size());
        }
        double along = 0, across = 0, spread = 0;
        for (const auto& [map, at] : pairs) {
            const Vec2 a = map - centre, b = at - programmed;
            along += a.dot(b);
            across += a.x() * b.y() - a.y() * b.x();
            spread += a.squaredNorm();
        }
        if (spread < least_lever * least_lever) return "";
        const double scatter = expected_.pair_within / std::sqrt(spread);
        const double turn = std::atan2(across, along);
        if (std::abs(std::remainder(turn - expected_.yaw, 2 * pi)) <= expected_.yaw_within + scatter)
            return "";
        return fmt::format(
            "the seats are programmed turned by {:.3f} deg against the head as held; its touches and "
            "posts allow {:.3f} deg, give or take {:.3f}",
            deg(turn), deg(expected_.yaw), deg(expected_.yaw_within + scatter));
    }

    const Expected& expected_;
    const std::vector<Placed>& places_;
    LengthUnit unit_;
};

}  // namespace

std::string fault_of_places(const Expected& expected, const std::vector<Placed>& places,
                            const job::Job& job) {
    return Places(expected, places, job.units).fault();
}

bool over_head(const Expected& expected, const job::Job& job, const Vec2& place) {
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();
    const auto take = [&](const Vec3& drawn) {
        const Vec3 held = expected.turn * (drawn - expected.datum);
        const Vec2 shown(job.machine.x_sign * held.x(), job.machine.y_sign * held.y());
        low = low.cwiseMin(shown);
        high = high.cwiseMax(shown);
    };
    for (const job::Valve& valve : job.head.valves) take(valve.seat);
    for (const job::Obstacle& obstacle : job.head.obstacles) take(obstacle.centre);
    for (const Vec2& hole : job.head.bolt_holes) take({hole.x(), hole.y(), 0});
    const Vec2 within = place.cwiseMax(low).cwiseMin(high);
    return std::max(std::abs(place.x() - within.x()), std::abs(place.y() - within.y())) <= beside_path;
}

}  // namespace seatwright::cut
