#include "seatwright/find/stood_by.hpp"

#include <algorithm>
#include <iterator>

namespace seatwright::find {
namespace {

constexpr double free_scatter = 1000;  // mm

std::vector<Reading> those_with(std::span<const Reading> readings, bool keep) {
    std::vector<Reading> picked;
    std::copy_if(readings.begin(), readings.end(), std::back_inserter(picked),
                 [&](const Reading& r) { return r.keep == keep; });
    return picked;
}

}  // namespace

std::vector<Reading> others_than_stood_by(std::span<const Reading> readings) {
    return those_with(readings, false);
}

bool needs_stood_by(std::span<const Expected> guides, std::span<const Reading> readings, const Prior& prior) {
    const std::vector<Reading> others = others_than_stood_by(readings);
    if (others.size() == readings.size()) return false;
    const auto pose = fit_pose(guides, others, prior);
    return !pose || !pose->yaw_known;
}

std::vector<Expected> set_free(std::vector<Expected> guides, std::span<const Reading> readings) {
    for (const Reading& r : readings)
        if (r.keep) guides[r.guide].scatter = free_scatter;
    return guides;
}

std::vector<Combined> combine_stood_by(std::size_t guides, std::span<const Reading> fitted,
                                       std::span<const Reading> readings) {
    std::vector<Combined> read = combine(guides, fitted);
    const std::vector<Combined> own = combine(guides, those_with(readings, true));
    for (std::size_t v = 0; v < guides; ++v)
        if (own[v].weight > 0) read[v] = own[v];
    return read;
}

}  // namespace seatwright::find
