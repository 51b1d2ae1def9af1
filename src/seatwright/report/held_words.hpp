// What is held back, said once: entries that say the same of several valves or setups are one sentence.
#pragma once

#include <string>
#include <vector>

#include "seatwright/words/held_back.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::report {

struct HeldWords {
    std::string who;  // "1E, 2E", "Setups A, B"
    std::string reason, frees;
};

// In the order of the entries that first say it. A name that stands at the head of its own reason is left out
// there.
std::vector<HeldWords> gathered(const std::vector<HeldBack>& held_back, const Speech& speech);

// "1E, 2E: … What frees it: …"
std::string words_of(const HeldWords& held, const Speech& speech);

}  // namespace seatwright::report
