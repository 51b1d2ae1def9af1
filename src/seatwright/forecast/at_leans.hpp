// A table of chances at the same leans again and again.
#pragma once

#include <vector>

#include "seatwright/forecast/chance_table.hpp"

namespace seatwright::forecast {

// Of one miss after the other the chance at all of them, side by side. With the angle between as cosines, cos
// n(φ − ψ) parts into what hangs on the lean, made once, and what hangs on the miss. Single precision: 1e-6.
class AtLeans {
  public:
    AtLeans(const ChanceTable& table, const std::vector<Vec2>& leans);
    std::size_t padded() const { return padded_; }  // numbers of a row, the leans and some more
    // out[k] times the chance at lean k; `out` has padded() numbers, so has `work`.
    void multiply(const Vec2& miss, double* out, float* work) const;

  private:
    double miss_;
    std::size_t misses_, parts_, padded_;
    std::vector<float> of_;  // [miss][part][lean], parts 1, cos φ, sin φ, cos 2φ, …
};

// to[k] += weight · of[k].
void add_weighed(std::size_t n, double weight, const double* of, double* to);

}  // namespace seatwright::forecast
