// The windows a seat's stem height, recession and below-deck must end in, as bounds of its depth or of its
// finished height, and the metal left below the form.
//
// After a cut of d on a seat of recession ρ: recession ρ + d; stem height h + d; below the deck there is then
// T + a_z·d (T now, the deck cut taken off), or T_drawing + a_z·(ρ + d) − q. A window of recession counts
// from the drawing height: a deck cut changes nothing of it. Lengths mm.
#pragma once

#include <optional>
#include <string>

#include "seatwright/shape/before.hpp"

namespace seatwright::shape {

struct Window {
    double least = -no_limit, most = no_limit;
    std::string least_by, most_by;  // "recession", "stem height", "below deck", "insert thickness"
};

// Of the depth. What no reading tells is not judged, but for the stem height, for which the drawing's stands.
Window depth_window(const job::Job& job, const job::Valve& valve, const Section& section,
                    const Before& before, const OldHeight& height);

// Of a finished recession f, by the drawing's heights; by the stem height read where ρ is known.
Window finish_window(const job::Job& job, const job::Valve& valve, const Section& section,
                     const Before& before, const OldHeight& height);

// How far below the deck (as it is after deck_cut) the valve's head lies now. None without a reading, or a
// drawing value and ρ.
std::optional<double> below_deck_now(const job::Job& job, const job::Valve& valve, const Before& before,
                                     const OldHeight& height);

// Metal of the ring left below the lowest point of the form that lies in it, the ring's top standing level
// with the outer end of the form.
double metal_below(const job::Insert& insert, const Section& section);

}  // namespace seatwright::shape
