#include "seatwright/find/found_head.hpp"

namespace seatwright::find {

const FoundHead* found_head(const Find& find, const std::string& head) {
    for (std::size_t h = find.heads.size(); h-- > 0;)
        if (find.heads[h].head == head) return &find.heads[h];
    return nullptr;
}

}  // namespace seatwright::find
