// Limits of the true pass rate: what is not known of the inputs carried through.
#pragma once

#include <functional>
#include <vector>

#include "seatwright/forecast/known.hpp"

namespace seatwright::forecast {

struct Interval {
    double low = 0, high = 1;
};

// 95 % limits. An estimated standard deviation s with ν degrees of freedom stands for s·√(ν/χ²_ν), another
// figure for normal about it; where other things' variance was taken off what was seen, what was seen is so.
// Each input's effect is worked out alone, at four of its quantiles, as a difference of logarithms, which are
// added (causes that have nothing to do with each other multiply the chances); 4096 evenly spread draws of
// all of them give the limits. `rate` is called four times for each input that is not known exactly.
Interval limits_of(const Known& known, const std::vector<Input>& inputs, double at_best,
                   const std::function<double(const Known&)>& rate);

}  // namespace seatwright::forecast
