// The stem heights of one kind in one setup, all cut from one Z zero: the chance that they are good as a
// function of the head's attitude, the zero integrated in closed form.
//
// With x the highest of them, g(x) = Σ_i φ_i(x)·Π_{j≠i} [Φ_j(x) − Φ_j(x − S)] is its density where the spread
// S is kept, and the zero only decides whether x is below the upper limit. g is smooth, so that a sum over
// evenly spaced x converges faster than any power of their distance, and so does one up to a limit
// (smoothing.hpp), which is what is asked where there is no zero. A lower limit is the same turned upside
// down; both together are the one and the other less neither, since where the spread is kept the window, if
// it is not the narrower of the two, is left at one end only.
//
// Lengths mm. Accuracy: 1e-6 where the heights' own scatter is not much below what else moves them.
#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/normal_rows.hpp"

namespace seatwright::forecast {

struct StemsGiven {
    std::vector<double> planned;  // wear of the cutter's seats before it included
    std::vector<Vec2> from_zero;  // a height is planned + zero − attitude·from_zero + own scatter
    std::size_t of_kind = 0;      // seats of the kind in all setups, where it lies in several
    double sd = 0;                // of each
    double zero_sd = 0;           // common
    std::optional<double> spread;
    Window window;
};

class Stems {
  public:
    // `fineness`: 1, larger for fewer places.
    Stems(StemsGiven given, double fineness);
    // Whether the sums hold: false where something is a step or nearly.
    static bool suits(const StemsGiven& given);

    // At an attitude, for all heights raised by each of `raised` (what the cutter is worn).
    void chance(const Vec2& attitude, std::span<const double> raised, double* out) const;

    // For kinds that lie in several setups: on the places first + k·step(): the chance that all are within
    // S below the place, and the density of the highest there. The zero is not in it.
    void on(const Vec2& attitude, double first, std::size_t n, double* within, double* highest) const;
    double step() const { return step_; }
    // What of an attitude the heights hang on: how far apart the seats lie along a direction, in mm of height
    // for each rad, over their scatter. `common`: counted from the zero, else from their own middle.
    double sharpness(const Vec2& direction, bool common) const;
    const StemsGiven& given() const { return given_; }

  private:
    void means(const Vec2& attitude) const;
    void one_end(const Vec2& attitude, std::span<const double> raised, bool up, double* out) const;
    void window_alone(const Vec2& attitude, std::span<const double> raised, double* out) const;
    std::size_t highest_density(double first, std::size_t n) const;
    const std::vector<double>& parts_below(double beyond) const;

    StemsGiven given_;
    double step_ = 0;
    std::size_t steps_of_spread_ = 0;
    NormalRows rows_;
    mutable std::vector<double> at_, above_, below_, density_, within_, all_;
    mutable std::deque<std::pair<double, std::vector<double>>> parts_;
};

}  // namespace seatwright::forecast
