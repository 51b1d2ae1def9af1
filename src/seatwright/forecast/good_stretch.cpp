#include "seatwright/forecast/good_stretch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace seatwright::forecast {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double reads_as_bad = 3;  // standard uncertainties inside a limit: U and one more

// Narrows the stretch to where slack − r·rate ≥ 0, read with a standard uncertainty of u.
void keep_within(GoodStretch& stretch, double slack, double rate, double u) {
    if (rate == 0) {
        stretch.none = stretch.none || slack < 0;
        return;
    }
    const double at = slack / rate, wide = u / std::abs(rate);
    if (rate > 0) {
        stretch.high.near = std::min(stretch.high.near, at - reads_as_bad * wide);
        if (at < stretch.high.at) {
            stretch.high.at = at;
            stretch.high.wide = wide;
        }
    } else {
        stretch.low.near = std::max(stretch.low.near, at + reads_as_bad * wide);
        if (at > stretch.low.at) {
            stretch.low.at = at;
            stretch.low.wide = wide;
        }
    }
}

}  // namespace

GoodStretch good_stretch(const Batch& batch, const std::vector<double>& at, const std::vector<double>& moves,
                         double u) {
    GoodStretch out{{-infinite, 0, -infinite}, {infinite, 0, infinite}};
    for (std::size_t i = 0; i < batch.seats.size(); ++i) {
        const Seat& seat = batch.seats[i];
        if (seat.planned_height && seat.height.high) keep_within(out, *seat.height.high - at[i], moves[i], u);
        if (seat.planned_height && seat.height.low) keep_within(out, at[i] - *seat.height.low, -moves[i], u);
        for (std::size_t j = 0; batch.stem_spread && j < i; ++j) {
            if (batch.seats[j].kind != seat.kind) continue;
            const double apart = at[i] - at[j], rate = moves[i] - moves[j], of_two = std::numbers::sqrt2 * u;
            keep_within(out, *batch.stem_spread - apart, rate, of_two);
            keep_within(out, *batch.stem_spread + apart, -rate, of_two);
        }
    }
    out.none = out.none || out.low.at > out.high.at;
    return out;
}

}  // namespace seatwright::forecast
