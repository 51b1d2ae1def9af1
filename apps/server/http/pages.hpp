// The front end: built files out of the binary, with what a browser may do with them.
#pragma once

#include <string>

#include "server/http/message.hpp"

namespace seatwright::server {

// Headers every answer carries: strict content policy, no sniffing, no framing, nothing told to other sites.
// `secure`: over TLS, and by this name never again without (HSTS, RFC 6797; browsers pass it over for
// addresses).
Fields safe_headers(bool secure);

// The content policy of an SVG document opened by itself: its one style sheet by hash and nothing else.
std::string policy_of_svg(const std::string& document);

// Answers a GET of everything outside /api.
void answer_page(const Request& request, Response& response);

}  // namespace seatwright::server
