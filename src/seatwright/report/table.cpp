#include "seatwright/report/table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace seatwright::report {

namespace {

constexpr std::string_view bold_on = "\x1b[1m", faint_on = "\x1b[2m", warn_on = "\x1b[33m",
                           all_off = "\x1b[0m";

// Columns a terminal gives the text: code points, all our marks being one column wide.
std::size_t shown_width(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string padded(const std::string& cell, std::size_t width, bool right) {
    const std::size_t own = shown_width(cell);
    const std::string fill(width > own ? width - own : 0, ' ');
    return right ? fill + cell : cell + fill;
}

// A cell that reads as a number, or as "not known": such columns align right.
bool numeric(const std::string& cell) {
    return cell == "–" || cell.find_first_not_of("0123456789.+-<> %") == std::string::npos;
}

std::string wrapped(const std::string& words, const std::string& first, const std::string& rest,
                    int columns) {
    std::string out = first;
    std::size_t used = shown_width(first);
    bool fresh = true;
    std::size_t at = 0;
    while (at < words.size()) {
        std::size_t end = words.find(' ', at);
        if (end == std::string::npos) end = words.size();
        const std::string word = words.substr(at, end - at);
        at = end + 1;
        const std::size_t wide = shown_width(word);
        if (!fresh && used + 1 + wide > static_cast<std::size_t>(columns)) {
            out += '\n' + rest;
            used = shown_width(rest);
            fresh = true;
        }
        if (!fresh) {
            out += ' ';
            ++used;
        }
        out += word;
        used += wide;
        fresh = false;
    }
    return out + '\n';
}

}  // namespace

std::string Table::text(const TableStyle& style) const {
    const std::size_t columns = heading_.size();
    std::vector<std::size_t> width(columns);
    std::vector<bool> right(columns, true);
    for (std::size_t c = 0; c < columns; ++c) {
        width[c] = shown_width(heading_[c]);
        bool any = false;
        for (const auto& row : rows_) {
            if (c >= row.size()) continue;
            width[c] = std::max(width[c], shown_width(row[c]));
            if (!numeric(row[c])) right[c] = false;
            if (!row[c].empty()) any = true;
        }
        if (!any) right[c] = false;
    }
    const auto line_of = [&](const std::vector<std::string>& cells) {
        std::string line;
        for (std::size_t c = 0; c < columns; ++c) {
            if (c) line += "  ";
            line += padded(c < cells.size() ? cells[c] : std::string{}, width[c], right[c]);
        }
        line.erase(line.find_last_not_of(' ') + 1);
        return line;
    };
    std::string out;
    out += style.colour ? fmt::format("{}{}{}\n", faint_on, line_of(heading_), all_off)
                        : line_of(heading_) + '\n';
    for (const auto& row : rows_) out += line_of(row) + '\n';
    return out;
}

namespace {

// A sentence and the valves it is said of: one cause is told once, however many it concerns.
struct ToldTogether {
    const Warning* warning = nullptr;
    std::string text;
    std::vector<std::string> valves;
};

// The sentence but for the name of its own valve.
std::string without_valve(const Warning& warning, std::string text) {
    if (warning.valve && text.starts_with(*warning.valve + ": ")) text.erase(0, warning.valve->size() + 2);
    return text;
}

std::vector<ToldTogether> grouped(const Notices& notices, Severity severity, const Speech& speech) {
    std::vector<ToldTogether> out;
    for (const Warning& warning : notices.warnings) {
        if (warning.severity != severity) continue;
        const std::string text = in_words(warning.text, speech);
        const auto same = std::find_if(out.begin(), out.end(), [&](const ToldTogether& told) {
            return told.warning->code == warning.code &&
                   told.warning->valve.has_value() == warning.valve.has_value() &&
                   without_valve(*told.warning, told.text) == without_valve(warning, text);
        });
        if (same == out.end())
            out.push_back(
                {&warning, text, warning.valve ? std::vector{*warning.valve} : std::vector<std::string>{}});
        else if (warning.valve &&
                 std::find(same->valves.begin(), same->valves.end(), *warning.valve) == same->valves.end())
            same->valves.push_back(*warning.valve);
    }
    return out;
}

}  // namespace

std::string warnings_text(const Notices& notices, const Speech& speech, const TableStyle& style) {
    std::string out;
    for (const auto severity : {Severity::blocking, Severity::note})
        for (const auto& told : grouped(notices, severity, speech)) {
            std::string first = severity == Severity::blocking ? "STOP  " : "note  ";
            const std::string about =
                told.valves.empty() ? told.warning->stage
                                    : fmt::format("{} {}", told.warning->stage, fmt::join(told.valves, ", "));
            const std::string said =
                told.valves.size() > 1 ? without_valve(*told.warning, told.text) : told.text;
            std::string text = wrapped(about + ": " + said, first, "      ", style.columns);
            if (style.colour && severity == Severity::blocking)
                text = fmt::format("{}{}{}", warn_on, text, all_off);
            out += text;
        }
    return out;
}

std::string assumptions_text(const Notices& notices, const Speech& speech, const TableStyle& style) {
    std::string out;
    for (const auto& assumption : notices.assumptions)
        out += wrapped(in_words(assumption, speech), "- ", "  ", style.columns);
    if (style.colour && !out.empty()) return fmt::format("{}{}{}", faint_on, out, all_off);
    return out;
}

std::string heading_text(const std::string& words, const TableStyle& style) {
    if (style.colour) return fmt::format("{}{}{}\n", bold_on, words, all_off);
    return words + '\n' + std::string(shown_width(words), '-') + '\n';
}

}  // namespace seatwright::report
