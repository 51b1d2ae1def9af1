// What holds of every figure of a head that came out of any bytes.
#pragma once

#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright {

inline void check_figure(const survey::Figure& figure) {
    require(std::isfinite(figure.u) && figure.u >= 0, "an uncertainty is one");
    if (figure.value) require(std::isfinite(*figure.value), "a figure is finite");
}

}  // namespace seatwright
