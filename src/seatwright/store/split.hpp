// A job file as it comes in: the document, and its readings as entries. The document keeps every byte but the
// reading tables; comments among those stay too.
#pragma once

#include <string>
#include <vector>

#include "seatwright/store/entry.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct Split {
    std::string document;
    std::vector<NewEntry> readings;  // client keys "import:1", "import:2", …, in the order of the file
};

// `text` has been read by job::read_job without a fault; `units` are its bare lengths' unit. A second reading
// of the same place in the file is a repeat. Refused only if the tables cannot be told apart from the rest.
Answer<Split> split_readings(const std::string& text, LengthUnit units);

// True when the text has a reading table.
bool has_readings(const std::string& text);

}  // namespace seatwright::store
