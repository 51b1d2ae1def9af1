// A job from a drawing of the deck (DXF).
#pragma once

#include <string>

#include "server/http/http_error.hpp"

namespace seatwright::server {

// The job file of {file, dxf, units, end_for_end, from_above}: `dxf` is the file in base64 (RFC 4648),
// `units` "in" or "mm" where the drawing does not say its own. Machine and fixture are the shop's. What the
// drawing leaves open is made up and stands in head.assumed. Throws HttpError: 400 not base64, 422 with what
// is wrong with the drawing.
std::string job_of_drawing(const Json& body, const std::string& shop);

}  // namespace seatwright::server
