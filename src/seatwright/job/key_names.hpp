// What a page calls a key of the job: its label, and of which valve, kind or reading it is.
#pragma once

#include <string_view>

#include "seatwright/words/in_words.hpp"

namespace seatwright::job {

// Of a key of the table or a place in a file: "guide.intake.bore" → "bore (intake)", "head.valve.1I.z" → "Z
// of 1I", "reading.first.6.3I.depth" → "depth of 3I (reading of a first seat, head 6)". What is no key stays
// as it is.
Sentence name_of_key(std::string_view key);

// As a page says it.
inline Speech on_page(LengthUnit unit, const words::Catalogue& catalogue = words::english()) {
    return {unit, &catalogue, name_of_key};
}

}  // namespace seatwright::job
