// One setup of one head: from its touches to the places of its guides.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "seatwright/find/find.hpp"
#include "seatwright/find/pose.hpp"

namespace seatwright::find {

// A touch that names no guide.
struct Unlabelled {
    std::size_t touch = 0;  // index into job.readings.touches
    Vec2 at = Vec2::Zero();
    double sd = 0;
    bool keep = false;
};

struct SetupInput {
    const hold::Setup* setup = nullptr;
    std::string head;
    std::vector<Expected> guides;  // as setup->valves
    std::vector<Reading> readings;
    std::vector<Assignment> assignments;           // of the readings that named no guide
    std::vector<std::optional<double>> clearance;  // as setup->valves: entry clearance, radius
    Prior prior;
    std::size_t learned_from = 0;  // heads behind `guides`; 0 = the pattern as declared
};

// What the job's rules say before any touch: the carry prior, or the yaw prior, or nothing.
Prior prior_of(const job::FindRules& rules);

// Warnings go to `notices`' owner through the result.
struct SetupOutcome : Notices {
    FoundSetup found;
    std::vector<Reading> kept;  // the readings the pose was fitted to
    std::optional<Pose> pose;
};

SetupOutcome locate_setup(const job::Job& job, const hold::Hold& hold, const SetupInput& input);

}  // namespace seatwright::find
