// From a job's plan to a batch: each seat's place, pilot, limits, planned height and turn in the cutter's
// order. Made once; a batch for other figures of Known is then made in microseconds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/known.hpp"
#include "seatwright/forecast/places.hpp"

namespace seatwright::forecast {

struct SeatFrame {
    Seat seat;  // all that does not hang on Known; places from the midpoint of the posts
    Vec2 map = Vec2::Zero();
    std::optional<std::size_t> pilot;  // index into job.pilots
    std::size_t guide = 0;             // place in its setup's guides
    bool pilot_turns = false;
};

struct SetupFrame {
    std::vector<std::size_t> seats;  // indices into Frame::seats
    std::optional<std::size_t> datum;
};

struct Frame {
    std::vector<SeatFrame> seats;  // head order
    std::vector<SetupFrame> setups;
    std::size_t zeros = 0;
    std::optional<double> stem_spread;
    Notices notices;
};

// A cutter of the shelf (index into job.cutters) for all seats of a kind, in place of the plan's.
struct Recut {
    job::Kind kind = job::Kind::intake;
    std::size_t cutter = 0;
    double width = 0;  // of the face as its blade leaves it
};

// Seats whose form or setup is not known are left out, and named. `recuts`: one of a kind at most.
Frame frame_of(const job::Job& job, const plan::Plan& plan, const Known& known,
               const std::vector<Recut>& recuts = {});

// With which the tool head holds against the pilot while it enters, N/mm; 0: it floats freely, as it does
// where the float is freed by command.
double entering_stiffness(const job::Machine& machine);

// How a pilot leads one seat: play, bend and room as a batch has them.
void lead_by(const job::Job& job, std::size_t valve, const find::PilotChoice& choice, SeatFrame& frame);

struct MadeBatch {
    Batch batch;
    std::vector<std::vector<GuidePlace>> guides;  // a setup
    std::vector<PlaceRules> rules;
    std::vector<Places> places;
};
MadeBatch batch_of(const job::Job& job, const Frame& frame, const Known& known);

}  // namespace seatwright::forecast
