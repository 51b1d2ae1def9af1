// Between the record of a place and what place/folder.hpp is given of it and gives back.
#pragma once

#include <string>
#include <vector>

#include "seatwright/place/folder.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// The record as a visit of the folder takes it.
struct PlaceRecord {
    std::vector<store::Sending> sendings;  // all that were ever sent there
    std::vector<place::Held> held;         // one for each name with its SHA-256
    std::vector<place::Begun> begun;
};
PlaceRecord record_of_place(Workbench& bench, long long place);

// Notes what a visit found and did of what was sent before. The record keeps the words, as they were said to
// who saw to it.
void note_visit(Workbench& bench, const PlaceRecord& record, const place::Sending& visit,
                const Speech& speech);

// A file sent there to be run under that name (capitals aside), other than with these bytes, that may be
// running; over a line any. Empty: none.
std::string running_there(const PlaceRecord& record, const std::string& name, const std::string& sha256);

}  // namespace seatwright::server
