#include "seatwright/job/said_by.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::job {
namespace {

std::string without_blanks_behind(std::string_view text) {
    const auto last = text.find_last_not_of(" \t");
    return last == std::string_view::npos ? std::string() : std::string(text.substr(0, last + 1));
}

}  // namespace

std::pair<std::string, std::string> words_and_who(std::string_view text) {
    const std::string all = without_blanks_behind(text);
    const auto open = all.rfind('(');
    if (all.empty() || all.back() != ')' || open == std::string::npos || open == 0) return {all, {}};
    return {without_blanks_behind(all.substr(0, open)), all.substr(open + 1, all.size() - open - 2)};
}

std::string with_who(std::string_view text, std::string_view name, std::string_view date) {
    std::string who(name);
    std::replace(who.begin(), who.end(), '(', '[');
    std::replace(who.begin(), who.end(), ')', ']');
    return fmt::format("{} ({}, {})", words_and_who(text).first, who, date);
}

}  // namespace seatwright::job
