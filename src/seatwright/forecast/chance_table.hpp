// A seat's chance over the sizes of μ and κ and the angle between them, made once and read many times:
// Chebyshev polynomials in the two lengths, cosines in the angle. Seats of one form share a table.
#pragma once

#include <vector>

#include "seatwright/forecast/runout.hpp"

namespace seatwright::forecast {

class ChanceTable {
  public:
    // For |μ| up to `miss` and |κ| up to `lean` (mm).
    ChanceTable(const SeatChance& chance, double miss, double lean);
    // Whether it came within 2e-5 of the chance itself where it was tried.
    bool good() const { return good_; }
    double operator()(const Vec2& miss, const Vec2& lean) const;

  private:
    double miss_, lean_;
    std::size_t misses_ = 1, leans_ = 1, turns_ = 1;
    std::vector<double> of_;  // coefficients: [miss][lean][turn]
    bool good_ = false;
};

}  // namespace seatwright::forecast
