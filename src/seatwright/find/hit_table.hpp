// The chance that a round normal a distance ρ from the centre of a disc lies inside it, tabulated.
//
// F(ρ) = 1 − Q₁(ρ/s, c/s) for a normal of standard deviation s per axis and a disc of radius c, from its
// derivative
//   dF/dρ = −(c/s²)·exp(−(ρ² + c²)/2s²)·I₁(ρc/s²).
#pragma once

#include <array>
#include <cstddef>

namespace seatwright::find {

// F for one (s, c), both > 0, over the squared distance: integrated from its derivative on even distances,
// laid out on even squares (no square root at the look-up), straight between. The straight pieces err by 1e-6
// at most, either way of the edge alike.
class HitTable {
  public:
    HitTable(double sd, double clearance);
    bool same(double sd, double clearance) const { return sd == sd_ && clearance == clearance_; }
    // Up to low2() F is 1, or its value at the centre where low2() is 0; from high2() on it is 0.
    double low2() const { return low2_; }
    double high2() const { return high2_; }
    double operator()(double distance2) const {
        const double u = (distance2 - low2_) * per_step_;
        if (u >= squares) return 0;
        if (u <= 0) return values_[0];
        const auto i = static_cast<std::size_t>(u);
        return values_[i] + (u - static_cast<double>(i)) * (values_[i + 1] - values_[i]);
    }

  private:
    static constexpr std::size_t squares = 2048;

    double slope(double rho) const;
    void lay_out(double low, double step);

    double sd_, clearance_;
    double low2_ = 0, high2_ = 0, per_step_ = 1;
    std::array<double, squares + 1> values_{};
};

}  // namespace seatwright::find
