// Readers of measured surfaces: STL (binary and text), PLY (text, binary of either end), OBJ and lists of
// x y z.
//
// The file is known by what is in it; its name's ending decides only between OBJ and a list. Corners of
// triangles are points; what a mesh says of faces, normals and colours is passed over. A corner that is named
// again is one point. Coordinates that are no numbers, or beyond 1e7, are left out and counted.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "seatwright/scan/cloud.hpp"
#include "seatwright/scan/watch.hpp"

namespace seatwright::scan {

using Read = tl::expected<Cloud, std::string>;

// `name`: of the file, for its ending. Error: what is wrong, in one sentence without the file's name. Memory:
// 12 bytes a point the file holds (of meshes 21 while corners are compared); time: one pass.
Read read_points(std::string_view bytes, std::string_view name, const Watch& watch = {});

}  // namespace seatwright::scan
