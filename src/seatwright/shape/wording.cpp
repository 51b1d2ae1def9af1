#include "seatwright/shape/wording.hpp"

#include <fmt/format.h>

namespace seatwright::shape {

std::string volume_words(double mm3) {
    return fmt::format("{:.2f} cm3", mm3 / 1000);
}

std::string angle_words(double rad) {
    return fmt::format("{:.4g} deg", deg(rad));
}

std::string list_words(const std::vector<std::string>& all) {
    std::string out;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (i > 0) out += i + 1 == all.size() ? " and " : ", ";
        out += all[i];
    }
    return out;
}

}  // namespace seatwright::shape
