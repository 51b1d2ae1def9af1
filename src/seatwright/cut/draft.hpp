// What a draft holds besides: seats that no program may have, as if what is lacking were as the drawing says.
// For looking and simulation; such a file ends before it begins.
#pragma once

#include "seatwright/cut/form_pilots.hpp"

namespace seatwright::cut {

// Every seat that has a form as one that is cut: with the shelf's nearest cutter where none suits, to its
// least depth (else its drawing height) where how deep it goes is not known. Left as it is where the shelf
// has no cutter at all.
shape::Shape drafted(const job::Job& job, shape::Shape shape);

// A zero on the first seat planned, as drawn where it was not read, for a cutter whose Z0 cannot be taken;
// its words say why.
shape::Zero drafted_zero(const Known& known, const FormInSetup& form, const Sentence& why);

// That seat without a pilot, its cutter's lowest edge as drawn where the shelf does not say.
ReadySeat drafted_seat(const Known& known, const FormInSetup& form, ReadySeat seat);

}  // namespace seatwright::cut
