#include "seatwright/cut/readback_words.hpp"

#include <fmt/format.h>

#include <cctype>
#include <cmath>

#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback_asks.hpp"

namespace seatwright::cut {

namespace {

constexpr std::string_view plain_marks = " .,:+-=/'?";
// A trim is written with four decimals in either unit.
constexpr double trim_last_decimal = 1e-4;
// Heights are said to a thousandth of a millimetre, a ten-thousandth of an inch: of either unit not more off.
constexpr double said_to = 6e-4;

bool alphanumeric(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 && static_cast<unsigned char>(c) < 0x80U;
}

}  // namespace

std::string fault_of_comment(std::string_view comment) {
    for (const char c : comment)
        if (!alphanumeric(c) && plain_marks.find(c) == std::string_view::npos)
            return std::isprint(static_cast<unsigned char>(c)) != 0
                       ? fmt::format("a comment has '{}', which a control may take for a command", c)
                       : "a comment has a character that is no letter, digit or plain mark";
    return "";
}

std::string_view valve_announced(std::string_view comment) {
    while (!comment.empty() && comment.front() == ' ') comment.remove_prefix(1);
    constexpr std::string_view opening = "valve ";
    if (comment.substr(0, opening.size()) != opening) return {};
    comment.remove_prefix(opening.size());
    return comment.substr(0, comment.rfind(", seat "));
}

bool has_word(std::string_view text, std::string_view word) {
    if (word.empty()) return false;
    for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
        const bool starts = at == 0 || !alphanumeric(text[at - 1]);
        const std::size_t end = at + word.size();
        if (starts && (end == text.size() || !alphanumeric(text[end]))) return true;
    }
    return false;
}

std::optional<double> number_after(std::string_view text, std::string_view word) {
    const std::size_t at = text.find(word);
    if (at == std::string_view::npos) return std::nullopt;
    const std::string rest(text.substr(at + word.size()));
    char* end = nullptr;
    const double value = std::strtod(rest.c_str(), &end);
    return end == rest.c_str() ? std::nullopt : std::optional(value);
}

std::string fault_of_header(std::string_view header, const job::Job& job, const Route& route) {
    for (const std::string& id : route.held_back)
        if (!has_word(header, comment_words(id)))
            return fmt::format("its head does not say that {} is held back", id);
    for (const std::string& phrase : zero_pilot_phrases(job, route))
        if (!has_word(header, phrase))
            return fmt::format("its head does not name the pilot of Z0: \"{}\"", phrase);
    if (route.pilot == job::PilotUse::planted && !asked_by(header, job, route).planted)
        return "its head does not list which pilots stand in which guides";
    const double unit = job.program_unit() == LengthUnit::inch ? mm_per_inch : 1;
    const auto clear = number_after(header, "Clear height Z ");
    if (!clear || std::abs(unit * *clear - job.machine.z_sign * route.clear) > unit * said_to)
        return fmt::format("its head does not say that the clear height is Z {:.4f}",
                           job.machine.z_sign * route.clear / unit);
    return fault_of_trims(header, job, route);
}

std::string fault_of_trims(std::string_view text, const job::Job& job, const Route& route) {
    const double unit = job.program_unit() == LengthUnit::inch ? mm_per_inch : 1;
    for (const CutterZero& zero : route.zeros) {
        const auto said = number_after(text, fmt::format("Cutter {}: trim ", zero.cutter));
        if (!said && zero.trim == 0) continue;
        if (!said)
            return fmt::format("it does not say the trim {:+.4f} of cutter {}", zero.trim / unit,
                               zero.cutter);
        if (std::abs(*said - zero.trim / unit) > 0.5 * trim_last_decimal + 1e-9)
            return fmt::format("it says a trim of {:+.4f} for cutter {}; the stops are shifted by {:+.4f}",
                               *said, zero.cutter, zero.trim / unit);
        if (text.find("do not move Z0") == std::string_view::npos)
            return "it does not say that Z0 stays where it is";
    }
    return "";
}

}  // namespace seatwright::cut
