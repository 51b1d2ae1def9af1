// hold: how must this head sit so that each guide stands plumb under the spindle, does it fit the machine,
// and can it fall?
//
// Frames as base/vec.hpp. Angles rad, lengths mm, mass kg.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::hold {

// One valve as it stands in its setup.
struct Held {
    std::size_t valve = 0;        // index into job.head.valves
    double plumb_error = 0;       // angle between its axis as held and the spindle
    bool reachable = true;        // plumb_error within the fixture's plumb limit
    Vec3 map = Vec3::Zero();      // R·(P_v − P_datum), machine frame
    Vec2 readout = Vec2::Zero();  // map x, y with the machine's signs
};

struct Safety {
    std::optional<double> mass;
    double slope = 0;                     // deck normal to vertical
    std::optional<double> slip_factor;    // 2·μ·F_clamp / (W·sin slope); none when flat or not known
    bool slides_when_released = false;    // tan slope > μ, whether or not something then stops it
    bool friction_known = false;          // without it nothing is said of sliding
    bool stopped = false;                 // a captive fixture, or posts loaded from the uphill side, stop it
    std::optional<job::LoadSide> uphill;  // front or back; none when the deck slopes along the head
};

// One tilt and swing at which a group of valves is machined.
struct Setup {
    std::string id;         // "A", "B", …
    std::size_t datum = 0;  // index into job.head.valves
    double tilt = 0;
    double swing = 0;
    double worst_plumb_error = 0;
    std::array<std::optional<double>, 2> travel_margin;  // x, y: travel less the map's span
    std::vector<Held> valves;                            // head order
    Safety safety;
    Mat3 rotation() const { return attitude_rotation(tilt, swing); }
};

struct FixtureVerdict {
    std::string name;
    bool fits = false;
    Sentence why;       // "best: …", "fits: …" or what stands against it
    bool best = false;  // of those that fit: fewest setups, then least plumb error, then shelf order
};

struct Posts {
    std::array<std::size_t, 2> holes{};  // indices into job.head.bolt_holes
    Vec2 a = Vec2::Zero(), b = Vec2::Zero();
    double span = 0;
    std::optional<double> clearance;    // hole − post diameter
    std::optional<double> position_sd;  // per axis, head to head
    std::optional<double> yaw_sd;
};

// One guide's lean as read, the readings of it averaged.
struct GuideLean {
    std::size_t valve = 0;
    std::optional<double> incline, cant;
    bool outlier = false;  // far from the other guides: named, and left out of the means
};

// What turning the head by the correction does to one guide's place in the map.
struct MapShift {
    std::size_t valve = 0;
    Vec3 shift = Vec3::Zero();  // map once corrected less map as read, machine frame
};

// What the level readings say of the guides as held, averaged over the guides read.
// correction_* = −(mean lean): how far the guides' upper ends must turn, positive towards +Y (incline) or +X
// (cant). set_* is the same move as the fixture's own scales count it (tilt grows when the upper ends go
// towards −Y).
struct Level {
    std::optional<double> incline, cant;            // mean lean
    std::optional<double> incline_bias, cant_bias;  // of the sensor; none when no reading was reversed
    std::optional<double> correction_tilt, correction_swing;
    std::optional<double> scatter;  // standard deviation between guides, both axes pooled
    std::string head;               // whose readings: the head asked for, else that of the latest one
    std::optional<double> incline_bias_sd, cant_bias_sd;  // of the mean bias; none with fewer than two
    std::optional<double> set_tilt, set_swing;            // change of the fixture's settings
    std::vector<GuideLean> guides;                        // head order
    std::vector<MapShift> map_shift;                      // head order
    std::vector<Sentence> words;                          // the correction said as turn direction and amount
    // Readings along an axis that contradict each other are not averaged: sentences that name them. The
    // axis then has no mean, no correction and no settings.
    std::vector<Sentence> contradictions;
};

// Where a figure came from.
enum class From { job, casting, survey, shelf, made_up };

// One figure the plan stands on.
struct Input {
    std::string what;  // the key: "head.mass", "head.valve.1I.x"
    double value = 0;  // in `unit`
    const char* unit = "mm";
    From from = From::job;
};

struct Hold : Notices {
    std::vector<Input> inputs;  // in the order of the table of keys
    std::vector<Setup> setups;
    std::vector<FixtureVerdict> fixtures;
    std::optional<Posts> posts;
    std::optional<Level> level;
    bool setups_proven = true;  // false: the search met its cap (a note says what may be bettered)
};

// The whole stage. `head`: whose level readings count, empty = those of the latest. Pure; the job has passed
// job/needs.hpp for this stage.
Hold plan(const job::Job& job, const std::string& head = {});

}  // namespace seatwright::hold
