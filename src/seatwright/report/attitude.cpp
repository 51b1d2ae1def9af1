#include "seatwright/report/attitude.hpp"

#include <fmt/format.h>

#include <cmath>

#include "seatwright/report/show.hpp"

namespace seatwright::report {

bool is_swung(const hold::Setup& setup) {
    constexpr double no_swing = 1e-4;  // rad
    return std::abs(setup.swing) > no_swing;
}

std::string attitude_words(const hold::Setup& setup) {
    std::string out = fmt::format("tilt {}°", angle(setup.tilt));
    if (is_swung(setup)) out += fmt::format(", swing {}°", angle(setup.swing));
    return out;
}

}  // namespace seatwright::report
