// What stands in a sentence, for JSON: beside the words each value by its name, with its unit behind it.
#pragma once

#include <nlohmann/json.hpp>

#include "seatwright/words/in_words.hpp"

namespace seatwright::report {

// {"valve": "1I", "off_mm": 0.12, "lean_deg": 0.3, …}: figures are numbers (mm, deg, kg, …), names texts, a
// clause of the sentence is {"text", "values"}, a list an array of these.
nlohmann::ordered_json values_json(const Sentence& sentence, const Speech& speech);

}  // namespace seatwright::report
