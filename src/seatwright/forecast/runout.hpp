// The chance that a seat's pilot enters and its runout is good, given the setup's pose and attitude errors.
//
// With the miss m of the pilot, |m| ≤ c to enter, the runout is 2·|B·m + κ + w|: B what a miss of 1 mm brings
// to the cone's displacement, κ what attitude and residual bring, and w the rest (even play in a disc, a
// pilot's runout of fixed length, the guide's own direction, normal), which has no direction. So the chance
// that |R + w| ≤ ℓ is a function S(R, ℓ) of two lengths, and a seat's chance is an integral over the disc of
// m ~ N(μ, σ²·I).
//
// Lengths mm. Accuracy: S to 1e-9 without play or pilot runout, 1e-6 with both and a normal part besides.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <tuple>
#include <vector>

#include "seatwright/base/cache.hpp"
#include "seatwright/forecast/batch.hpp"

namespace seatwright::forecast {

// w: even over a disc, plus a vector of fixed length, plus a normal one; each may be 0.
struct Blur {
    double disc = 0;    // radius
    double ring = 0;    // length
    double normal = 0;  // standard deviation per axis
};

// S(R, ℓ) = P(|R·e + w| ≤ ℓ).
double chance_within(double distance, double limit, const Blur& blur);

// How a true runout counts. `limit`: runout_max; `u`: standard uncertainty of the measurement.
enum class Judged {
    good,            // within the limit
    passed,          // measured inside by U
    not_failed,      // measured not outside by U
    good_passed,     // good and passed
    good_not_failed  // good and not failed
};

// 1 up to `at`, 0 beyond, times its weight.
struct Step {
    double at = 0, weight = 0;
};

// G(R): the chance that a displacement of R, blurred, counts. Seats alike share one.
struct Counts {
    double limit = 0;         // runout_max/2
    std::optional<double> u;  // of the runout as measured
    Judged judged = Judged::good;
    Blur blur;
    auto key() const { return std::tuple(limit, u.value_or(0), judged, blur.disc, blur.ring, blur.normal); }
};
class CountTable {
  public:
    explicit CountTable(const Counts& counts);
    double operator()(double displaced) const {
        const double x = (displaced - first_) / step_;
        if (!(x > 0)) return at_[1];
        const auto i = static_cast<std::size_t>(std::min(x, most_cells + 1));
        if (i >= cells_) return 0;
        // The cubic through four neighbours.
        const double t = x - static_cast<double>(i);
        const double a = at_[i], b = at_[i + 1], c = at_[i + 2], d = at_[i + 3];
        return b * (t + 1) * (t - 1) * (t - 2) / 2 - c * (t + 1) * t * (t - 2) / 2 -
               a * t * (t - 1) * (t - 2) / 6 + d * (t + 1) * t * (t - 1) / 6;
    }

    // Its one value over all distances between, where it has one.
    std::optional<double> constant(double low, double high) const {
        if (high <= first_) return at_[1];
        if (low >= first_ + step_ * static_cast<double>(cells_)) return 0.0;
        return std::nullopt;
    }

  private:
    static constexpr double most_cells = 512;
    std::size_t cells_ = 0;
    double first_ = 0, step_ = 1;
    std::vector<double> at_;  // from one cell before the first
};
// Tables made once for each different thing.
class CountTables {
  public:
    std::shared_ptr<const CountTable> of(const Counts& counts);

  private:
    Cache<decltype(Counts().key()), const CountTable> cache_{1024};  // some kilobytes each
};

// A seat's chance as a function of μ (mean of the miss, mm) and κ (mm of cone displacement).
class SeatChance {
  public:
    SeatChance(const Batch& batch, const Seat& seat, Judged judged, CountTables& tables);
    double operator()(const Vec2& miss, const Vec2& lean) const;
    // About how far a miss, or a lean, must change for the chance to change; 0: it is a step.
    double softness() const { return sigma_; }
    double lean_softness() const;
    // How fast it changes with the attitude, 1/rad; infinite where it steps.
    double lean_sharpness() const;
    // The same for many |μ| and |κ| at once, in rising order: coefficients of cos(n·angle between),
    // n = 0 … turns − 1, as out[miss][lean][n]. False where it is not made that way.
    bool cosines(const std::vector<double>& misses, const std::vector<double>& leans, std::size_t turns,
                 std::vector<double>& out) const;
    // Whether a miss moves nothing (the float is free): the chance is then entering(|μ|) · running(|κ|).
    bool parts() const { return always_ || reach_ == 0; }
    double entering(double miss) const;
    double running(double lean) const;
    // Whether another seat's chance is the same function.
    bool same(const SeatChance& other) const;
    double lean_per_rad() const { return lean_; }
    // κ of an attitude error λ.
    Vec2 lean_of(const Vec2& attitude) const { return lean_ * (residual_ + attitude); }

  private:
    double stepped(const Vec2& miss, const Vec2& lean, double limit) const;
    double unblurred(double displaced) const;
    double smooth(const Vec2& miss, const Vec2& lean) const;
    double bend_width() const;  // over which G changes

    double sigma_ = 0;  // of m about μ
    double room_ = 0;
    double reach_ = 0;  // B
    double lean_ = 0;   // κ for each rad
    Vec2 residual_ = Vec2::Zero();
    double blur_ = 0;          // about how wide what has no direction is
    double smooth_ = 0;        // how wide its normal part is
    bool always_ = false;      // no limit of runout
    std::vector<Step> steps_;  // G as a sum of steps, where nothing blurs it
    double read_mean_ = 0, read_sd_ = 0, good_limit_ = std::numeric_limits<double>::infinity();  // and itself
    std::shared_ptr<const CountTable> table_;
};

}  // namespace seatwright::forecast
