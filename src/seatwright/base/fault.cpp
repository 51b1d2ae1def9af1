#include "seatwright/base/fault.hpp"

#include <fmt/format.h>

namespace seatwright {

std::string to_line(const Fault& fault) {
    std::string out;
    if (!fault.file.empty()) out += fault.file + ":";
    if (fault.line > 0) out += fmt::format("{}:", fault.line);
    if (!out.empty()) out += " ";
    if (!fault.key.empty()) out += fault.key + ": ";
    return out + fault.text;
}

void require(bool holds, std::string_view what, const char* file, int line) {
    if (!holds) throw std::logic_error(fmt::format("internal: {} ({}:{})", what, file, line));
}

}  // namespace seatwright
