// What is said of a drawing beside its figures: the groups and what they were taken for, what repeats, what a
// plan view leaves open and what is asked.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "seatwright/drawing/drawing.hpp"
#include "seatwright/drawing/holes.hpp"
#include "seatwright/drawing/layout.hpp"
#include "seatwright/drawing/marks.hpp"
#include "seatwright/drawing/plan_view.hpp"

namespace seatwright::drawing {

// Groups numbered by how many marks they have, then by size: the names a person sees stay the same whatever
// they are taken for.
void sort_groups(Marks& marks);

// What the layers' names speak of, of each group: "bolt", "plug", "intake", "exhaust", "valve" or nothing.
std::vector<std::string> hints_of(const Marks& marks);

// The kind of each valve's mark. Larger seats are intakes, and where a cylinder has more of one kind these
// are (common practice); of seats all of one size nothing is known.
struct Kinds {
    enum class By { number, size };
    std::map<std::size_t, std::optional<job::Kind>> of;
    bool named = false;    // by a person, or by layers where sizes say nothing
    bool against = false;  // layers say otherwise than the sizes
    std::optional<By> by;  // what tells them apart, of sizes that differ
};
Kinds kinds_of(const Marks& marks, const Layout& layout, const std::vector<std::string>& names);

// "1I", "2Ea": cylinder, kind, a letter where a cylinder has several. Of kinds not known the valves of the
// lower row are called E, of one row the second ones.
void name_valves(std::vector<Valve>& valves);

// The drawing's name without its folder and ending.
std::string title_of(const std::string& file);

// Bore spacing, alternate order, rows.
std::vector<survey::Repeat> repeats_of(const Drawing& drawing);

struct Known {
    const Sheet& sheet;
    const View& view;
    const Marks& marks;
    const Layout& layout;
    const Holes& holes;
    const Kinds& kinds;
    const std::vector<std::string>& names;
    const std::vector<std::string>& hints;
    const Told& told;
    bool unit_against = false;
};

// Groups, repeats, missing, warnings and assumptions.
void tell(const Known& known, Drawing& out);

}  // namespace seatwright::drawing
