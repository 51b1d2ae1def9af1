// The edges of the chambers: openings of the deck over valves.
#include "seatwright/scan/head.hpp"

namespace seatwright::scan {

void make_chambers(const Found& found, const Frame& frame, Scan& out) {
    std::vector<Vec2> places;
    for (const auto& v : out.valves) {
        const Vec3 seat(*v.x.value, *v.y.value, v.z_taken);
        places.push_back(frame.on_deck(Vec3(seat - seat.z() / v.wall.axis.z() * v.wall.axis).head<2>()));
    }
    for (auto& opening : openings_of(found.deck_map, places)) {
        Chamber one;
        one.cylinder = out.valves[opening.places.front()].cylinder;
        bool one_cylinder = true;
        for (const auto k : opening.places) {
            one_cylinder = one_cylinder && out.valves[k].cylinder == one.cylinder;
            one.valves.push_back(out.valves[k].id);
        }
        // Over two cylinders at once it is the deck that is not seen between them.
        if (!one_cylinder) continue;
        for (const auto& p : opening.outline) one.outline.push_back(frame.at(p));
        one.area = opening.area;
        one.u = opening.u;
        out.chambers.push_back(std::move(one));
    }
}

}  // namespace seatwright::scan
