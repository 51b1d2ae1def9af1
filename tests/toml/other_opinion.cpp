#include "toml/other_opinion.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace seatwright::toml::test {

struct TakenForGranted {};
constexpr void take_for_granted(bool holds) {
    if (!holds) throw TakenForGranted{};
}

}  // namespace seatwright::toml::test

#undef NDEBUG
#define TOML_HEADER_ONLY 1
#define TOML_ASSERT(holds) seatwright::toml::test::take_for_granted(static_cast<bool>(holds))
#include <toml++/toml.h>

namespace seatwright::toml::test {
namespace {

std::string differs(const Value& ours, const std::string& path, const std::string& how) {
    return fmt::format("{} (line {}): {}", path, ours.line(), how);
}

std::string difference(const Value& ours, const ::toml::node& theirs, const std::string& path);

std::string difference_of_tables(const Value& ours, const ::toml::table& theirs, const std::string& path) {
    if (ours.kind() != Kind::table) return differs(ours, path, "they have a table");
    if (ours.size() != theirs.size()) return differs(ours, path, "not as many keys");
    for (const auto& value : ours.items()) {
        const std::string name = value.name();
        const auto* node = theirs.get(name);
        if (node == nullptr) return differs(value, path + "." + name, "they do not have it");
        if (auto said = difference(value, *node, path + "." + name); !said.empty()) return said;
    }
    return "";
}

std::string difference_of_lists(const Value& ours, const ::toml::array& theirs, const std::string& path) {
    if (ours.kind() != Kind::list) return differs(ours, path, "they have a list");
    if (ours.size() != theirs.size()) return differs(ours, path, "not as many entries");
    std::size_t i = 0;
    for (const auto& value : ours.items()) {
        const std::string at = fmt::format("{}[{}]", path, i);
        if (auto said = difference(value, *theirs.get(i++), at); !said.empty()) return said;
    }
    return "";
}

// To the last bit, but for the payload of what is no number.
bool same_bits(double a, double b) {
    if (std::isnan(a) || std::isnan(b)) return std::isnan(a) && std::isnan(b);
    return a == b && std::signbit(a) == std::signbit(b);
}

Date date_of(const ::toml::date& d) {
    return {d.year, d.month, d.day};
}

Time time_of(const ::toml::time& t) {
    return {t.hour, t.minute, t.second, static_cast<int>(t.nanosecond)};
}

Moment moment_of_node(const ::toml::node& node) {
    Moment out;
    if (const auto* date = node.as_date()) out.date = date_of(date->get());
    if (const auto* time = node.as_time()) out.time = time_of(time->get());
    if (const auto* both = node.as_date_time()) {
        out.date = date_of(both->get().date);
        out.time = time_of(both->get().time);
        if (both->get().offset) out.offset = both->get().offset->minutes;
    }
    return out;
}

std::string difference(const Value& ours, const ::toml::node& theirs, const std::string& path) {
    if (const auto* table = theirs.as_table()) return difference_of_tables(ours, *table, path);
    if (const auto* list = theirs.as_array()) return difference_of_lists(ours, *list, path);
    bool same = false;
    if (const auto* text = theirs.as_string())
        same = ours.text() == text->get();
    else if (const auto* whole = theirs.as_integer())
        same = ours.integer() == whole->get();
    else if (const auto* number = theirs.as_floating_point())
        same = ours.kind() == Kind::number && same_bits(*ours.number(), number->get());
    else if (const auto* flag = theirs.as_boolean())
        same = ours.flag() == flag->get();
    else
        same = ours.moment() == moment_of_node(theirs);
    return same ? "" : differs(ours, path, "another value");
}

}  // namespace

// It takes for granted too that no letter beyond ASCII stands outside quotes and comments, and does not say
// so: here, that none stands in a line that has a fault.
bool has_letters_beside_faults(const Document& document) {
    const auto& faults = document.faults();
    return std::any_of(faults.begin(), faults.end(), [&](const Wrong& wrong) {
        const Span line = document.line_around(wrong.at.byte);
        const auto text = std::string_view(document.text()).substr(line.begin, line.end - line.begin);
        return std::any_of(text.begin(), text.end(), [](char c) { return static_cast<signed char>(c) < 0; });
    });
}

// It takes blanks of other scripts for blanks behind a backslash that joins lines (TOML 1.0 has two, blank
// and tab): there the values are not compared.
bool joins_lines_before_letters(const std::string& text) {
    for (auto at = text.find('\\'); at != std::string::npos; at = text.find('\\', at + 1)) {
        const auto next = text.find_first_not_of(" \t\r\n", at + 1);
        if (next == std::string::npos) return false;
        if (text.find('\n', at) < next && static_cast<signed char>(text[next]) < 0) return true;
    }
    return false;
}

Opinion other_opinion(const Document& document) {
    Opinion out;
    out.undefined = has_letters_beside_faults(document) || joins_lines_before_letters(document.text());
    if (out.undefined) return out;
    try {
        const auto table = ::toml::parse(document.text());
        out.accepts = true;
        if (document.is_good()) out.said = difference_of_tables(document.root(), table, "");
    } catch (const TakenForGranted&) {
        // What it leaves undefined is no TOML.
        out.undefined = !document.is_good();
        out.said = "undefined";
    } catch (const ::toml::parse_error& error) {
        out.said = fmt::format("line {}: {}", error.source().begin.line, error.description());
    }
    return out;
}

}  // namespace seatwright::toml::test
