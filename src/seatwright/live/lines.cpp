#include "seatwright/live/lines.hpp"

#include <utility>

namespace seatwright::live {

std::vector<std::string> Lines::add(std::string_view bytes) {
    std::vector<std::string> done;
    for (const char c : bytes) {
        if (c == '\r' || c == '\n') {
            if (!too_long_ && !open_.empty()) done.push_back(std::exchange(open_, {}));
            open_.clear();
            too_long_ = false;
        } else if (open_.size() < longest) {
            if (!too_long_) open_ += c;
        } else {
            too_long_ = true;
        }
    }
    return done;
}

}  // namespace seatwright::live
