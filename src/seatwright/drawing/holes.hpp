// Which marks are bolt holes and which are plugs: holes of one size that stand in rows along the head, on
// both sides of the valves and beyond the end cylinders, are bolt holes; those within the bores, as many for
// every cylinder, are plugs.
#pragma once

#include <string>
#include <vector>

#include "seatwright/drawing/layout.hpp"

namespace seatwright::drawing {

struct Holes {
    std::vector<std::size_t> bolts, plugs, others;  // marks that are no valves
    double bolt_diameter = 0;                       // 0: no bolts
    bool bolts_named = false;                       // by a person
    std::vector<double> rivals;                     // other sizes that could be the bolts'
};

// `at`: of each mark, in the head frame; `hints`: of each group what its layers' names speak of ("bolt",
// "plug", "" …).
Holes holes_of(const Marks& marks, const Layout& layout, const std::vector<Vec2>& at,
               const std::vector<Vec2>& cylinders, const std::vector<std::string>& names,
               const std::vector<std::string>& hints);

}  // namespace seatwright::drawing
