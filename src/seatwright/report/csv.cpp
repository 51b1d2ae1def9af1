#include "seatwright/report/csv.hpp"

#include <charconv>
#include <string_view>

namespace seatwright::report {

namespace {

bool is_figure(std::string_view words) {
    if (words.starts_with('+')) words.remove_prefix(1);
    double value = 0;
    const auto [end, fault] = std::from_chars(words.data(), words.data() + words.size(), value);
    return fault == std::errc() && end == words.data() + words.size();
}

}  // namespace

std::string csv_cell(std::string words) {
    constexpr std::string_view runs = "=+-@\t\r";
    if (!words.empty() && runs.find(words.front()) != std::string_view::npos && !is_figure(words))
        words.insert(0, "'");
    if (words.find_first_of(",\"\r\n") == std::string::npos) return words;
    std::string out = "\"";
    for (const char c : words) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

}  // namespace seatwright::report
