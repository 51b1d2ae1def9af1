// A batch as the loops that draw it need it: in float, seat by seat, with the bars its figures are counted
// into.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <vector>

#include "seatwright/forecast/draw.hpp"

namespace seatwright::forecast {

constexpr float huge = std::numeric_limits<float>::max();
constexpr std::size_t kinds = 2, figures = 6, bars = 512;  // bars of a figure

// What the loops need of a seat.
struct SeatNumbers {
    std::size_t setup = 0, zero = 0, kind = 0;
    float gain = 1, px = 0, py = 0, miss = 0, room2 = huge;
    float reach = 0, lean = 0, rx = 0, ry = 0, guide = 0, disc = 0, ring = 0;
    float runout_max = huge, runout_u = 0;
    // width and height of the first head of a blade; slopes: what a head's wear adds
    float width = 0, width_sd = 0, width_slope = 0, width_tol = huge, width_u = 0;
    float height = 0, height_sd = 0, depth_slope = 0, zx = 0, zy = 0;
    float low = -huge, high = huge, height_u = 0;
};

struct SetupNumbers {
    std::array<std::array<float, 3>, 3> pose{};  // rows: t'x, t'y, θ'; columns: of three normals
    float level = 0;
};

struct Numbers {
    std::vector<SeatNumbers> seats;
    std::vector<SetupNumbers> setups;
    std::vector<float> zeros;
    float spread = huge, spread_u = 0;  // √2·U
    std::uint64_t heads = 1, life = 1;
    bool judged = false, plays = false;
    std::array<DrawnFigure, figures> plan;  // empty counts
};

Numbers numbers_of(const Batch& batch);

}  // namespace seatwright::forecast
