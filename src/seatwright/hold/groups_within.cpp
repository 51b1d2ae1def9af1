#include "seatwright/hold/groups_within.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "seatwright/hold/cap.hpp"
#include "seatwright/hold/edge.hpp"
#include "seatwright/hold/held_sets.hpp"

namespace seatwright::hold {

namespace {

class Places {
  public:
    Places(const std::vector<Vec3>& axes, const Reach& reach, double radius)
        : axes_(axes), reach_(reach), rim_(radius + angle_tie) {
        const double chord = 2 * std::sin((rim_ + angle_tie) / 2);
        chord2_ = chord * chord;
        for (const auto& axis : axes_) look(axis);
        for (std::size_t i = 0; i < axes_.size(); ++i)
            for (std::size_t j = i + 1; j < axes_.size(); ++j) pair(axes_[i], axes_[j]);
        for (const auto& edge : edges_of(reach_)) border(edge);
        for (const auto& corner : corners_of(reach_)) take(spindle_in_head(corner));
    }
    std::vector<Members> groups;

  private:
    void take(const Vec3& u) {
        Members held;
        for (std::size_t i = 0; i < axes_.size(); ++i)
            if ((axes_[i] - u).squaredNorm() <= chord2_) held.add(i);
        if (!held.empty()) groups.push_back(held);
    }
    void look(const Vec3& u) {
        if (within(reach_, attitude_for(u))) take(u);
    }

    // Both places at the rim's distance from two directions, and the place midway.
    void pair(const Vec3& a, const Vec3& b) {
        if (angle_by_chord(a, b) > 2 * rim_) return;
        look((a + b).normalized());
        const Vec3 normal = a.cross(b);
        const double across2 = normal.squaredNorm();
        const Vec3 foot = (a + b) * (std::cos(rim_) / (1 + a.dot(b)));
        const double left = 1 - foot.squaredNorm();
        if (!(left > 0) || !(across2 > 0)) return;
        const Vec3 step = normal * std::sqrt(left / across2);
        look(foot + step);
        look(foot - step);
    }

    void border(const Edge& edge) {
        const Wave rim{0, 0, std::cos(rim_)};
        for (const auto& axis : axes_) {
            const Wave wave = edge.wave(axis);
            std::vector<double> places = crossings(wave, rim);
            places.push_back(foot(wave));
            for (const double t : places)
                if (t >= edge.range.low && t <= edge.range.high) take(spindle_in_head(edge.at(t)));
        }
    }

    const std::vector<Vec3>& axes_;
    const Reach& reach_;
    double rim_;
    double chord2_ = 0;
};

}  // namespace

std::vector<Members> largest_only(std::vector<Members> groups) {
    std::sort(groups.begin(), groups.end());
    groups.erase(std::unique(groups.begin(), groups.end()), groups.end());
    const HeldSets held(groups);
    std::vector<Members> largest;
    for (const auto& group : groups)
        if (!held.more_than_one_holds(group)) largest.push_back(group);
    return largest;
}

std::vector<Members> groups_within(const std::vector<Vec3>& axes, const Reach& reach, double radius) {
    return largest_only(Places(axes, reach, radius).groups);
}

}  // namespace seatwright::hold
