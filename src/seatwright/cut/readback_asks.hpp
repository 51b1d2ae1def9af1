// What the comments before a halt ask a person for, told by whole phrases: of Z0, of pilots, of a look at the
// tool, of the float.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/cut/route.hpp"

namespace seatwright::cut {

struct PilotPut {
    std::size_t pilot = 0;  // index into job.pilots
    int cutter = 0;
};

// A halt that asks for the float and nothing else leaves the tool where it is.
struct Asked {
    bool free = false, centre = false, lock = false;
    bool zero = false;  // whether Z0 of all the route's cutters was taken where it should be, each with its
                        // pilot, and of no other
    bool planted = false;  // which pilots stand in which guides by now, all of them
    bool puts = false;     // for a pilot to be put in; which one:
    std::optional<PilotPut> put;
    bool plants = false;            // for pilots to be planted now, those of the file
    bool away = false;              // for the tool to be brought away from the head by hand
    std::optional<double> look_at;  // Z at which the tool is to be looked at, mm as the control shows it
    std::optional<double> looks;    // how high it shall be seen to stand over the deck, mm
    bool of_float() const { return free || centre || lock; }
};
Asked asked_by(std::string_view text, const job::Job& job, const Route& route);

// "For Z0 pilot 8.71 in guide 1E, cutter 1": what a file's head and its first halt say of each Z0 that is
// taken by a cutter.
std::vector<std::string> zero_pilot_phrases(const job::Job& job, const Route& route);

}  // namespace seatwright::cut
