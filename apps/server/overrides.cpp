#include "overrides.hpp"

#include "seatwright/hold/held_at.hpp"

namespace seatwright::server {

namespace {

void move_by(std::optional<double>& value, double by) {
    if (value) *value += by;
}

}  // namespace

void hold_at(hold::Hold& hold, const job::Job& job, const Overrides::Attitude& attitude) {
    for (auto& setup : hold.setups)
        if (attitude.setup.empty() || attitude.setup == setup.id)
            setup = hold::held_at(job, setup, attitude.tilt.value_or(setup.tilt),
                                  attitude.swing.value_or(setup.swing));
}

void cut_to(shape::Shape& shape, const job::Job& job, const std::map<std::string, double>& depths) {
    double total = 0;
    for (auto& seat : shape.seats) {
        const auto asked = depths.find(job.head.valves[seat.valve].id);
        if (asked != depths.end() && seat.depth) {
            const double deeper = asked->second - *seat.depth;
            seat.depth = asked->second;
            move_by(seat.recession_added, deeper);
            move_by(seat.stem_height_after, deeper);
            move_by(seat.tip_grind, deeper);
            move_by(seat.z, -deeper);
            move_by(seat.program_z, -deeper);
            seat.removed.reset();
        }
        total += seat.depth.value_or(0);
    }
    if (shape.depth.total) shape.depth.total = total;
}

}  // namespace seatwright::server
