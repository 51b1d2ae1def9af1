// What a trace's shape says of how it came about: each statement with its share of the trace's mean square,
// the sizes that would explain it and how sure it is. What one trace cannot tell apart is named together.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

// A seat's sizes that turn causes into runout: TIR = 2·|(q + play)·sin α + (D_g/2)·ε·share·cos α|, q the
// pilot's bend at the seat, play the radius by which it may stand off the guide axis, ε the plumb error,
// share what the float leaves of it.
struct SeatLever {
    double angle = 0;           // α of the face
    double gauge_diameter = 0;  // D_g
    double outer_diameter = 0;  // largest cut
};
std::optional<SeatLever> lever_of(const job::Job& job, std::size_t valve);

// Eccentricity that a play, a bend or a plumb error alone would make, and the size of each that makes `e`.
double eccentricity_of_play(const SeatLever& lever, double play);
double eccentricity_of_plumb(const SeatLever& lever, double plumb_error);
double play_for(const SeatLever& lever, double eccentricity);
double plumb_for(const SeatLever& lever, double eccentricity);

// What was read of a guide beside its seat.
struct Beside {
    const job::GuideBore* guide = nullptr;  // the last on record for this head; null = none
    std::optional<double> incline, cant;    // lean as read in the fixture, rad
    std::optional<double> lean() const;     // of both axes together
};

// Guide and level readings by head and valve id. Keeps pointers into the job.
class ReadingIndex {
  public:
    // Of one head, or of all if `head` is empty.
    ReadingIndex(const job::Job& job, const std::string& head);
    Beside of(const std::string& head, const std::string& valve) const;

  private:
    std::map<std::pair<std::string, std::string>, Beside> by_seat_;
};

// Marks round the seat beyond order 15, if the trace shows them clear of its noise (false alarm below 1e-4).
std::optional<Harmonic> marks_beyond(const SeatProof& seat);

// Strongest cause first. Empty when the trace shows no shape to trust: too short, or its zero slipped.
std::vector<Cause> find_causes(const job::Job& job, const SeatProof& seat, const Beside& beside);

}  // namespace seatwright::prove
