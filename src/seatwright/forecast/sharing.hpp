// What the seats of a head share, and points over it.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "seatwright/forecast/attitudes.hpp"
#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/points.hpp"

namespace seatwright::forecast {

// What the seats of a head share, of one draw.
struct Shared {
    std::vector<Vec3> pose;      // a setup
    std::vector<Vec2> attitude;  // a setup
    std::vector<double> zero;    // a Z zero
};

// Turns standard normals into what the seats share; only what varies takes a dimension.
class Sharing {
  public:
    // Which of them are wanted at all.
    struct Wanted {
        bool poses = true, zeros = true;
    };
    Sharing(const Batch& batch, const Wanted& wanted) {
        for (std::size_t s = 0; s < batch.setups.size(); ++s) {
            if (batch.setups[s].level_sd > 0) levels_.push_back({s, batch.setups[s].level_sd});
            if (!wanted.poses) continue;
            for (const Vec3& axis : pose_axes(batch.setups[s].pose)) poses_.push_back({s, axis});
        }
        for (std::size_t z = 0; wanted.zeros && z < batch.zeros.size(); ++z)
            if (batch.zeros[z] > 0) zeros_.push_back({z, batch.zeros[z]});
        start_ = {std::vector<Vec3>(batch.setups.size(), Vec3::Zero()),
                  std::vector<Vec2>(batch.setups.size(), Vec2::Zero()),
                  std::vector<double>(batch.zeros.size(), 0.0)};
    }
    int dimensions() const { return static_cast<int>(poses_.size() + 2 * levels_.size() + zeros_.size()); }
    // The first of them move heights: zeros and attitudes.
    int of_heights() const { return static_cast<int>(zeros_.size() + 2 * levels_.size()); }
    Shared of(const double* normal) const {
        Shared out = start_;
        // What most hangs on first: the first numbers of a point fill their space most evenly.
        for (const auto& [zero, sd] : zeros_) out.zero[zero] = sd * *normal++;
        for (const auto& [setup, sd] : levels_) {
            out.attitude[setup] = sd * Vec2(normal[0], normal[1]);
            normal += 2;
        }
        for (const auto& [setup, along] : poses_) out.pose[setup] += along * *normal++;
        return out;
    }

  private:
    struct Pose {
        std::size_t setup;
        Vec3 along;
    };
    struct Sd {
        std::size_t of;
        double sd;
    };
    std::vector<Pose> poses_;
    std::vector<Sd> levels_, zeros_;
    Shared start_;
};

// Displacement of a guide by a pose error.
inline Vec2 moved(const Vec3& pose, const Vec2& at) {
    return {pose.x() - pose.z() * at.y(), pose.y() + pose.z() * at.x()};
}

// One point where nothing varies.
template <class F>
void each_point(int dimensions, std::size_t count, int scramble, std::uint64_t seed, const F& f) {
    if (dimensions == 0) {
        constexpr double none = 0;
        f(&none);
        return;
    }
    const auto points = normal_points(dimensions, count, scramble, seed);
    for (std::size_t i = 0; i < count; ++i) f(points.data() + i * static_cast<std::size_t>(dimensions));
}

}  // namespace seatwright::forecast
