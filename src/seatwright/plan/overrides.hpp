// What a what-if changes in a stage's result rather than in the job: a drag, without a word in the job file.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "seatwright/hold/hold.hpp"

namespace seatwright::plan {

struct Overrides {
    struct Attitude {
        std::string setup;                  // id; empty = every setup
        std::optional<double> tilt, swing;  // rad; what is not asked stays
    };
    std::optional<Attitude> attitude;
    std::map<std::string, double> depths;  // valve id → depth, mm
};

// Every setup named, held at the attitude asked for.
hold::Hold held_at(hold::Hold hold, const job::Job& job, const Overrides::Attitude& attitude);

}  // namespace seatwright::plan
