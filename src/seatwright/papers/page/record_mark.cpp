#include "seatwright/papers/page/record_mark.hpp"

#include <fmt/format.h>

#include "seatwright/base/sha256.hpp"

namespace seatwright::papers {

std::string short_mark(const std::string& bytes) {
    const std::string all = sha256(bytes);
    return fmt::format("{} {} {} {}", all.substr(0, 4), all.substr(4, 4), all.substr(8, 4),
                       all.substr(12, 4));
}

}  // namespace seatwright::papers
