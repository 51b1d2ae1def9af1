// Where a head's plan goes on paper: in one row, or for print in strips one under the other at one scale; and
// what of its lettering can be read there.
#pragma once

#include <vector>

#include "seatwright/papers/drawings/casting.hpp"
#include "seatwright/papers/drawings/draw_head.hpp"
#include "seatwright/papers/page/scale.hpp"

namespace seatwright::papers {

enum class Marks { ids_and_setups, ids, cylinders };  // what each seat is lettered with; or each cylinder

inline constexpr double letter_ratio = 0.8;  // a setup's letter under an id, of the id's size

struct HeadLayout {
    std::vector<Strip> strips;
    std::vector<Scale> scales;  // one a strip, all of one ratio
    Marks marks = Marks::ids_and_setups;
    double height = 0;  // of the whole drawing, mm of paper
};

// On screen one row. In print the fewest strips in which every id can be read at least_size, else the largest
// scale with the cylinders numbered.
HeadLayout head_layout(const job::Job& job, const hold::Hold& hold, const Casting& casting,
                       const HeadView& view);

// Size of a seat's id so that it stays in its ring, mm of paper.
double id_size(const job::Job& job, const job::Valve& valve, const Scale& scale, Marks marks);

}  // namespace seatwright::papers
