// Is there a cover with so many sets of one kind, so many of the next, …? Exact, by branch and bound.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/hold/cover.hpp"

namespace seatwright::hold {

// Sets of which at most `most` may be used.
struct SetKind {
    std::vector<Members> sets;  // none inside another
    std::size_t most = 0;
};

struct SlotCover {
    std::optional<std::vector<Members>> sets;  // a cover, if there is one
    bool decided = true;                       // false: the work ran out first
};

// `work`: linear programs that may be solved; counted down. Deterministic.
SlotCover cover_by_kinds(std::size_t n, const std::vector<SetKind>& kinds, long& work);

}  // namespace seatwright::hold
