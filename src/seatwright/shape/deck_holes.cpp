#include "seatwright/shape/deck_holes.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {
namespace {

// Where a line through `from` along `axis` meets the deck as drawn.
Vec2 on_deck(const Vec3& from, const Vec3& axis) {
    return (from - axis * (from.z() / axis.z())).head<2>();
}

}  // namespace

std::vector<DeckHole> deck_holes(const job::Job& job) {
    std::vector<DeckHole> holes;
    if (job.head.bolt_hole_diameter)
        for (std::size_t i = 0; i < job.head.bolt_holes.size(); ++i)
            holes.push_back({sentence<"bolt-hole">("number"_is = i + 1), job.head.bolt_holes[i],
                             *job.head.bolt_hole_diameter});
    for (const job::Obstacle& obstacle : job.head.obstacles)
        holes.push_back({sentence<"obstacle">("name"_is = obstacle.name),
                         on_deck(obstacle.centre, obstacle.axis()), obstacle.diameter});
    for (const job::Valve& valve : job.head.valves)
        if (const auto& form = job.valve[valve.kind])
            holes.push_back({sentence<"chamber-over">("valve"_is = valve.id),
                             on_deck(valve.seat, valve.axis()), form->head_diameter});
    return holes;
}

}  // namespace seatwright::shape
