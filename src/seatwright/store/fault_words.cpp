#include "seatwright/store/fault_words.hpp"

#include <soci/error.h>

namespace seatwright::store {

std::string words_of(const std::exception& fault) {
    const auto* of_database = dynamic_cast<const soci::soci_error*>(&fault);
    if (of_database == nullptr) return fault.what();
    const std::string words = of_database->get_error_message();
    return words.substr(0, words.find('\n'));
}

}  // namespace seatwright::store
