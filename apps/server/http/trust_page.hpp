// The page in the open (plain http) from which a device of the shop takes the root certificate of a workbench
// that made its own (own_certificate.hpp): the root, its fingerprint to compare, and a square code of the
// address to go on to. Nothing of the workbench is served there.
#pragma once

#include <string>

#include "server/http/open_pages.hpp"
#include "server/http/own_certificate.hpp"

namespace seatwright::server {

// At "/", "/style.css" and "/root.crt". `workbench`: "https://192.0.2.10:8137/". Throws CannotServe.
OpenPages::Pages trust_pages(const OwnCertificate& own, const std::string& workbench);

// A square code (ISO/IEC 18004) of `text` as an SVG drawing, with the light border it needs. Throws
// std::runtime_error when the text is too long for one.
std::string square_code(const std::string& text);

}  // namespace seatwright::server
