// Which pilots stand where while a program runs, held against what its seats need; and whether each cutter
// was looked at before the first move on its Z0. Each method gives what is wrong as a sentence part; empty:
// nothing.
//
// A pilot is put in, and pilots are planted, beside the head: over measure_at or load_at where one of them is
// not over it, else brought away by hand. Before that no seat that needs it is gone to. A pilot that takes
// the cutter off the spindle when it is changed is not changed in a file.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>

#include "seatwright/cut/expect.hpp"
#include "seatwright/cut/interpret.hpp"
#include "seatwright/cut/readback_asks.hpp"

namespace seatwright::cut {

class PilotWatch {
  public:
    PilotWatch(const job::Job& job, const Route& route, const Expected& expected);

    // The halt that asks for Z0.
    std::string zero_asked(const Asked& asked) const;
    // A halt that asks for pilots: `next` the seat that comes then, none: no more; `clear`: the tool stands
    // clear of everything; `cutter`: in the spindle, 0 none yet.
    struct Halt {
        const Stop* next = nullptr;
        Position at;
        bool clear = false;
        int cutter = 0;
    };
    std::string asked_for(const Asked& asked, const Halt& halt);

    // Whether something is to be put in or planted before that seat, and that place is one to do it at.
    bool goes_aside(const Stop& next, const Position& to) const;
    std::string goes_to(const Stop& next) const;

    // A halt for the tool to be brought to the clear height by hand and looked at, its cutter in the spindle,
    // before the seat that comes (null: none).
    std::string look(const Asked& asked, std::string_view text, const Stop* coming);
    bool looked_at(int cutter) const { return looked_.count(cutter) > 0; }

  private:
    bool in_tool() const;
    bool due(const Stop& stop) const;
    bool beside(const Position& at) const;
    bool place_beside() const;
    bool can_go_beside(const Halt& halt) const;
    std::string put(const PilotPut& put, const Stop& next);

    const job::Job& job_;
    const Route& route_;
    const Expected& expected_;
    std::map<int, std::size_t> pilots_;  // by cutter: known to stand in it
    bool planted_ = false;
    std::set<int> looked_;
};

}  // namespace seatwright::cut
