// How the setup lies under the spindle: yaw θ and offset t fitted to touches.
//
// Model, in readout coordinates: touch i of guide v reads r = Rot(θ)(m_v + δ_v) + t + e, with m_v the guide's
// place in the pattern, δ_v ~ N(0, scatter_v²·I) the casting's own deviation, shared by all touches of that
// guide, and e ~ N(0, sd_i²·I). Rot(θ)δ_v has the same law as δ_v, so with
//   W_v = Σ 1/sd_i²,  r̄_v the weighted mean of the guide's touches,  σ_v² = scatter_v² + 1/W_v
// minus twice the log posterior is, up to a constant,
//   Σ_v |r̄_v − Rot(θ)m_v − t|²/σ_v² + Σ_i |r_i − r̄_v|²/sd_i² + (θ − θ₀)²/s_θ² + |t − t₀|²/s_t²,
// the last two only where a prior is given. An offset prior acts as one more guide at m = 0 read at t₀ with
// standard deviation s_t. About the weighted centroid m̄ of the pattern, offset and yaw are uncorrelated:
//   position of the centroid ~ N(c, I/W),  θ ~ N(θ̂, 1/(S + 1/s_θ²)),  S = Σ |m_v − m̄|²/σ_v².
// This is the Laplace covariance with the Gauss-Newton Hessian; the term left out is smaller by residual
// over pattern size (1e-4 on a real head). Lengths mm, angles rad.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/vec.hpp"

namespace seatwright::find {

// One guide of the setup as it is expected before any touch.
struct Expected {
    Vec2 map = Vec2::Zero();
    double scatter = 0;  // per axis
};

// One touch, its guide given as an index into the setup's guides.
struct Reading {
    std::size_t guide = 0;
    Vec2 at = Vec2::Zero();
    double sd = 0;
    std::optional<std::size_t> touch;  // index into job.readings.touches; none for an assumed zero
    bool keep = false;                 // stood by: places its own guide, says nothing of the others
};

struct Prior {
    double yaw = 0;
    std::optional<double> yaw_sd;  // none: flat
    Vec2 offset = Vec2::Zero();
    std::optional<double> offset_sd;  // per axis; none: flat
};

// A reading without any error would have infinite weight: a nanometre, far below any readout, stands in.
inline constexpr double least_sd = 1e-6;

// All readings of one guide together.
struct Combined {
    double weight = 0;  // Σ 1/sd²; 0 = not read
    Vec2 mean = Vec2::Zero();
    double spread = 0;  // Σ |r − mean|²/sd²
};
std::vector<Combined> combine(std::size_t guides, std::span<const Reading> readings);

struct Pose {
    double yaw = 0;
    double yaw_variance = 0;
    Vec2 centroid = Vec2::Zero();     // m̄, in the pattern
    Vec2 centroid_at = Vec2::Zero();  // where it lies, readout
    double weight = 0;                // W: the centroid's variance per axis is 1/W
    double chi2 = 0;                  // minimised, priors included
    bool yaw_known = true;            // false: neither a prior nor two guides apart; yaw_variance is vague

    Vec2 at(const Vec2& map) const { return centroid_at + plane_rotation(yaw) * (map - centroid); }
    Mat2 covariance(const Vec2& map) const;  // of at(map), casting scatter not included
    Vec2 offset() const { return at(Vec2::Zero()); }
};

// Sums that give the best rigid motion of weighted pairs in closed form (Kabsch 1976, Umeyama 1991, in the
// plane); pairs can be added one by one.
struct PairSums {
    double weight = 0;
    Vec2 map = Vec2::Zero(), read = Vec2::Zero();    // weighted sums
    double map2 = 0, read2 = 0, dot = 0, cross = 0;  // weighted sums of squares and products
    void add(const Vec2& m, const Vec2& r, double w);
    // Of the same about the centroids.
    PairSums centred() const;
};

// The pose for the readings; none when there is neither a reading nor an offset prior, or when the
// iteration fails to settle. Never the last iterate of a failed one.
Solved<Pose> fit_pose(std::span<const Expected> guides, std::span<const Reading> readings,
                      const Prior& prior);

}  // namespace seatwright::find
