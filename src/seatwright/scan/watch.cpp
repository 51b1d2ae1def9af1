#include "seatwright/scan/watch.hpp"

namespace seatwright::scan {

const char* words_of(Step step) {
    switch (step) {
        case Step::reading:
            return "reading the points";
        case Step::deck:
            return "looking for the deck";
        case Step::bores:
            return "looking for guides, seats and holes";
        case Step::fitting:
            break;
    }
    return "putting every point to what was found";
}

}  // namespace seatwright::scan
