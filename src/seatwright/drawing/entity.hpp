// One entity of a DXF file at a time, from its groups to a closed curve, pieces of one, or an insert.
#pragma once

#include <string>
#include <vector>

#include "seatwright/drawing/curve.hpp"
#include "seatwright/drawing/groups.hpp"
#include "seatwright/drawing/sheet.hpp"

namespace seatwright::drawing {

// What the entities of one block came to.
struct Gathered {
    Block block;
    std::vector<Piece> pieces;
};

// Reads the entity named `kind`, whose own groups follow, into what is gathered; what can be no hole is
// counted in the sheet.
void read_entity(Groups& groups, std::string_view kind, Gathered& into, Sheet& sheet);

// A name as the file has it, in UTF-8: \U+XXXX read, other bytes taken as Latin-1.
std::string name_of(std::string_view text);

}  // namespace seatwright::drawing
