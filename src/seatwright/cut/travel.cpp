#include "seatwright/cut/travel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

// mm; the rounding of what a program writes.
constexpr double rounding = 1e-3;

double span(const std::vector<Vec2>& places, int axis) {
    double low = 0, high = 0;
    for (const Vec2& at : places) {
        low = std::min(low, at[axis]);
        high = std::max(high, at[axis]);
    }
    return high - low;
}

}  // namespace

std::optional<BeyondTravel> beyond_travel(const job::Job& job, const Route& route) {
    if (route.stops.empty()) return std::nullopt;
    const job::Machine& machine = job.machine;
    const auto beyond = [&](const Sentence& what, const char* axis, double needed, double has,
                            std::string frees) {
        return BeyondTravel{sentence<"must-move">("what"_is = what, "axis"_is = axis,
                                                  "needed"_is = as_depth(needed), "has"_is = as_depth(has)),
                            the_key(std::move(frees))};
    };
    std::vector<Vec2> seats;
    double lowest = route.clear;
    for (const Stop& stop : route.stops) {
        seats.push_back(stop.at);
        lowest = std::min(lowest, stop.z);
    }
    struct Place {
        const char* key;
        std::optional<Vec2> at;
    };
    const std::array<Place, 2> places{{{"load_at", machine.load_at}, {"measure_at", machine.measure_at}}};
    struct Axis {
        const char* name;
        const char* key;
        std::optional<double> room;
    };
    const std::array<Axis, 2> axes{
        {{"X", "machine.travel_x", machine.travel_x}, {"Y", "machine.travel_y", machine.travel_y}}};
    for (int a = 0; a < 2; ++a) {
        const Axis& axis = axes[static_cast<std::size_t>(a)];
        if (!axis.room) continue;
        std::vector<Vec2> all = seats;
        if (const double own = span(seats, a); own > *axis.room + rounding)
            return beyond(sentence<"seat-to-seat">(), axis.name, own, *axis.room, axis.key);
        for (const Place& place : places) {
            if (!place.at) continue;
            all.push_back(*place.at);
            if (const double whole = span(all, a); whole > *axis.room + rounding)
                return beyond(sentence<"with-place">("place"_is = place.key), axis.name, whole, *axis.room,
                              fmt::format("machine.{}", place.key));
        }
    }
    const double down = route.clear - lowest;
    if (machine.travel_z && down > *machine.travel_z + rounding)
        return beyond(sentence<"clear-to-lowest">(), "Z", down, *machine.travel_z, "machine.travel_z");
    return std::nullopt;
}

}  // namespace seatwright::cut
