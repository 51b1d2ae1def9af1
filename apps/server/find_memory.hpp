// What find gave, kept by what find reads: an entry of another kind, or a facet being dragged, does not make
// the shop wait for the search of the guides again.
//
// Find (and hold before it) reads neither the forms of the seats, nor the depth rules, nor readings of seats
// and proofs; tests hold them to it (tests/server/find_memory_test.cpp). Whatever else differs in the text, a
// comment included, is taken as a difference.
#pragma once

#include <string>

#include "kept.hpp"
#include "seatwright/find/find.hpp"

namespace seatwright::server {

// The part of a whole job file (readings included) that find can depend on, with the shop file and the head
// find falls back on, as one key.
std::string find_key(const std::string& text, const std::string& shop_text, const std::string& first_head);

// Thread-safe.
using FindMemory = Kept<std::string, const find::Find>;

}  // namespace seatwright::server
