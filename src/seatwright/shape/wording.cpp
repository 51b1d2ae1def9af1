#include "seatwright/shape/wording.hpp"

#include <fmt/format.h>

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
