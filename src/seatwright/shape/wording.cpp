
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

const char* word_of(Decision decision) {
    switch (decision) {
        case Decision::cut:
            return "cut";
        case Decision::insert:
            return "insert";
        case Decision::not_allowed:
            return "not allowed";
        case Decision::not_measured:
            return "not measured";
        case Decision::below_finish:
            break;
    }
    return "below finish";
}

}  // namespace seatwright::shape
