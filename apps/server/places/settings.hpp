// How a place is set up, as JSON: a folder {"path", "mount"} or a line {"device", "baud", "bits", "parity",
// "stop_bits", "handshake", "wait_for_go", "crlf"}.
#pragma once

#include <string>
#include <variant>

#include "seatwright/place/by_line.hpp"
#include "seatwright/place/folder.hpp"
#include "seatwright/store/places.hpp"
#include "server/http/call.hpp"

namespace seatwright::server {

struct LinePlace {
    std::string device;
    place::LineSettings line;
    place::LineWays ways;
};

using PlaceSettings = std::variant<place::Folder, LinePlace>;

// Of a stored place.
PlaceSettings settings_of(const store::PlaceRow& row);

// A serial line out of a body's fields, with what is usual where it says nothing; 400 where it cannot be one.
LinePlace line_of(const Json& body);
Json line_json(const LinePlace& line);

// A place out of a request's body: machine, name, kind and its settings. A folder must be there, and not be
// the workbench's own (`data`); where something is mounted there is noted. Throws HttpError 400.
store::NewPlace place_of(const Json& body, const std::string& data);

}  // namespace seatwright::server
