// What is known of one head's seats before anything is cut, and the limits that follow; as the depth problem.
//
// Lengths mm, volumes mm3.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/depth_problem.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// One valve's readings of one head; a later reading of the file overrides an earlier one item by item.
struct Before {
    std::optional<double> stem_height, recession, cleanup, chamber;
    std::optional<double> rest_z, below_deck, face_outside, face_width;
    std::vector<Vec2> worn;              // ascending r
    bool stem_by_setting_valve = false;  // else the valve that goes back in
    bool below_by_setting_valve = false;
    bool below_after_deck_cut = false;
    bool section_sure = false;  // somebody confirmed it
};
Before reading_of(const job::Job& job, const std::string& head, const std::string& valve);

// How high above where a valve of drawing form would rest the kind's cutter comes to rest on a ring newly put
// in, its top level with the outer end of the form; none: no ring of the kind is known.
std::optional<double> rest_on_new_ring(const job::Job& job, job::Kind kind);

// Stem height as read, else the drawing's.
std::optional<double> stem_before(const job::SeatForm& form, const Before& before);

struct HeadBefore {
    std::vector<Before> valves;                  // head order
    std::vector<std::optional<double>> cleanup;  // margin included; none: not known
    std::vector<std::optional<double>> rest;     // κ; none: not known
    std::vector<OldHeight> height;
    // Per valve the readings that the plan asked for needs and nobody took; empty where nothing is lacking.
    std::vector<Sentence> lacking;
    // Per valve by how much its finished height lies deeper than asked for, since the plan was made anew
    // around a first seat.
    std::vector<double> deeper_finish;
    std::vector<int> cylinder_name;  // of the cylinders whose chamber is read
    std::vector<double> chamber;     // theirs, the deck cut taken off, mm3
    DepthProblem problem;            // seats planned by cleanup or by a depth by hand, in head order
    // Seats held back whatever the others are cut to: a depth by hand outside its window, a guide that is to
    // be repaired first. Each keeps what it needs itself, is in no spread and sinks no other.
    std::vector<DepthSeat> alone;
    Notices notices;
};

// Everything the depth plan of one head needs. Valves without forms are left out; valves that must not be cut
// stay as they are and are held to no spread; a seat that lacks a reading, or is cut to a finished height,
// drags no other, nor does one that is held back, and its cylinder leaves the chamber spread where its depth
// is not known. A cylinder's chamber is the mean of its valves' readings.
HeadBefore before_cutting(const job::Job& job, const hold::Hold& hold, const std::string& head);

// The seats of `alone` as a problem of their own: the same step, no spread.
DepthProblem problem_alone(const HeadBefore& before);

}  // namespace seatwright::shape
