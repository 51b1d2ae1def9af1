// What goes into no program, and why (working.md, "What blocks, what asks, what tells").
//
// Everything the stages hold back comes here, and what follows from their results besides: a setup that does
// not fit the travel, a guide off plumb or to be repaired, a head of which no guide was touched, a seat that
// is not to be cut. Said once each: what a stage has said of a setup or valve is
// not said again.
#pragma once

#include <string>
#include <vector>

#include "seatwright/cut/known.hpp"
#include "seatwright/job/selection.hpp"
#include "seatwright/words/held_back.hpp"

namespace seatwright::cut {

class Gate {
  public:
    // What the stages held back, and what their results say.
    explicit Gate(const Known& known);

    // `entry` without a setup gets that of its valve; one of the whole head is made one for each setup.
    // Nothing where a lead lets it pass (`allow`), or where the same code is there already for that valve or
    // setup (of doubts and missing figures each is there, once).
    void hold(HeldBack entry);

    bool holds_setup(std::size_t setup) const;  // index into hold.setups
    bool holds(std::size_t valve) const;        // it or its setup
    bool gives(const Sentence& reason) const;   // of something held back
    // Setup by setup, whole setups first, then valves in head order. Of part of a head (`only`) what concerns
    // none of its seats is left out.
    std::vector<HeldBack> entries(const job::Selection& selection) const;

  private:
    void add(HeldBack entry);
    bool concerns(const HeldBack& entry, const job::Selection& selection) const;

    const Known& known_;
    std::vector<HeldBack> entries_;
};

}  // namespace seatwright::cut
