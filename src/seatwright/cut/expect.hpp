// What a program must keep to, worked out afresh: from the head's drawing, the attitude it is held at, the
// touches, and the readings of its seats. Nothing is taken from the way to the path (the map, find's places,
// the route's heights), so that a slip made there shows here.
//
// Frames: machine frame from the setup's datum guide, places as the readout shows them. Lengths mm, angles
// rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/cut/known.hpp"
#include "seatwright/cut/route.hpp"
#include "seatwright/find/find.hpp"

namespace seatwright::cut {

// So many standard deviations off is no longer chance: two-sided normal 6e-7.
inline constexpr double beyond_chance = 5;

// A touch of this head on a guide, and how far from it its seat may be programmed.
struct Anchor {
    Vec2 at = Vec2::Zero();  // readout
    double within = 0;
};

struct ExpectedSeat {
    std::size_t valve = 0;
    std::string id;
    Vec2 map = Vec2::Zero();  // readout, from the datum
    double m = 0;             // height of its gauge circle as drawn, over the datum's
    std::vector<Anchor> anchors;
    bool by_own_touch = false;          // a person stands by its touch: it places this guide alone
    std::optional<double> recession;    // ρ as read
    std::optional<double> finished;     // f, where all of its kind are cut to one height
    bool below_finish_allowed = false;  // by a lead (`allow`)
    std::optional<double> planned;      // s of its finished gauge circle, up positive, as shape plans it
    std::optional<double> touched_at;   // ρ that Z0 counts from if its old seat is touched
    double deepest = 0;                 // no seat of it is cut to a recession beyond
};

struct Expected {
    std::vector<ExpectedSeat> seats;  // every valve of the setup
    Mat3 turn = Mat3::Identity();     // head frame to machine frame
    Vec3 datum = Vec3::Zero();        // head frame
    double pair_within = 0;           // distances between seats keep to the drawing's within this
    double single_within = 0;         // a seat's place where nothing was touched
    Vec2 offset = Vec2::Zero();       // of the map, where nothing was touched
    double yaw = 0, yaw_within = 0;   // of the head on the table, positive from readout X to Y
    const ExpectedSeat* seat(std::size_t valve) const;
};

// What shape says of one valve's seat: its planned finished height and its old height's recession.
struct HeightsGiven {
    std::optional<double> planned, recession;
};

// `set_aside`: touches that find does not use, indices into job.readings.touches. `posts_yaw_sd`: how far the
// head may lie askew on its posts. `seats`: by valve.
struct ExpectedFor {
    std::string head;
    std::vector<HeightsGiven> seats;
    std::vector<find::Learned> learned;  // how guides of this casting lie off the drawing, where that is used
    std::vector<std::size_t> set_aside;
    std::optional<double> posts_yaw_sd;
};
Expected expect(const job::Job& job, const hold::Setup& setup, const ExpectedFor& what);
// The same for the head that shape speaks of.
Expected expected_in(const Known& known, const hold::Setup& setup);

struct Placed {
    std::size_t valve = 0;
    std::string id;
    Vec2 at = Vec2::Zero();
};
// The first place that the head cannot have, as a sentence part; empty: none.
std::string fault_of_places(const Expected& expected, const std::vector<Placed>& places, const job::Job& job);

// Whether the head as held is under that place of the readout, `beside_path` round its valves, bolt holes and
// obstacles counted in.
bool over_head(const Expected& expected, const job::Job& job, const Vec2& place);

// What stands against the pilot of a stop in its guide, by the guide's readings, else its drawing bore, and
// by how a carried taper slides back till the stop; as a sentence part, empty: nothing.
std::string fault_of_pilot(const ExpectedSeat& seat, const job::Job& job, const Route& route,
                           const Stop& stop);

// Height of a cutter's gauge plane over the datum's gauge circle as drawn where its control shows 0, without
// trim (working.md, B1). None where job and shelf do not give it; on a finished seat, what was measured of it
// speaks.
std::optional<double> zero_height(const Expected& expected, const job::Job& job, const CutterZero& zero,
                                  const job::Cutter& cutter);

// Least and most Z of one seat's stop, before trim, by its drawing and its own readings.
struct Between {
    double least = 0, most = 0;
};
Between stop_between(const ExpectedSeat& seat, double zero_height);

// Z from which the tool's lowest point stands over what it is to meet (5 mm over a guide's mouth; over the
// seat itself where the pilot is planted); none where a length is missing.
std::optional<double> over_mouth(const ExpectedSeat& seat, const job::Job& job, const Route& route,
                                 const Stop& stop, double zero_height);

// How far the lowest point of the tool as it goes to that stop stands over the deck where that Z0 was taken,
// its gauge plane at height z; none where a length is missing.
std::optional<double> over_deck(const Expected& expected, const job::Job& job, const Route& route,
                                const Stop& stop, double z);

}  // namespace seatwright::cut
