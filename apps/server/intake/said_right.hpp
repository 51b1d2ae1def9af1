// Answers a person said to be right though the trade knows of none such.
#pragma once

#include <string>

#include "seatwright/base/units.hpp"
#include "server/http/http_error.hpp"

namespace seatwright::server {

// The text of a job that can be read with what was said in its `sure`, so that nobody is asked once more;
// nothing said: the text as it is. `said`: [{key: "valve.intake.head_diameter", value: 3.5}, …], values in
// `unit`. Error: bad, where a key of it is none that job asks about, or with another value.
store::Answer<std::string> with_sure(const std::string& text, const Json& said, LengthUnit unit,
                                     const std::string& shop);

}  // namespace seatwright::server
