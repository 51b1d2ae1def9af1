// A line of a catalogue: the id of a sentence and its words in one language. `{name}` stands for a value,
// `{name:one|many}` for the first or the second by whether that value (a count or a list) is one. Every other
// brace is a brace. A line that tells what to write into the file has a second template for who reads it on a
// page, where a button stands for that.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>

namespace seatwright::words {

struct Line {
    std::string_view id;  // "hold.slip"
    std::string_view text;
    std::string_view page{};  // empty: a page says `text` as well
};

// "slip" of "hold.slip".
constexpr std::string_view own_id(std::string_view id) {
    return id.substr(id.find('.') + 1);
}

// A place in a template: text[from, to) is "{name}" or "{name:forms}".
struct Place {
    std::size_t from = 0, to = 0;
    std::string_view name, forms;
};

// The first place at or behind `at`; from = text.size() if there is none.
constexpr Place next_place(std::string_view text, std::size_t at) {
    const auto of_name = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; };
    for (; at < text.size(); ++at) {
        if (text[at] != '{') continue;
        std::size_t end = at + 1;
        while (end < text.size() && of_name(text[end])) ++end;
        if (end == at + 1 || end == text.size()) continue;
        const std::string_view name = text.substr(at + 1, end - at - 1);
        if (text[end] == '}') return {at, end + 1, name, {}};
        if (text[end] != ':') continue;
        const std::size_t close = text.find('}', end);
        if (close == std::string_view::npos) continue;
        return {at, close + 1, name, text.substr(end + 1, close - end - 1)};
    }
    return {text.size(), text.size(), {}, {}};
}

// Whether a template names none but these values: a page need not say all that the file says.
constexpr bool names_within(std::string_view text, std::span<const std::string_view> names) {
    for (Place p = next_place(text, 0); p.from < text.size(); p = next_place(text, p.to)) {
        bool given = false;
        for (const std::string_view name : names) given = given || name == p.name;
        if (!given) return false;
    }
    return true;
}

// Whether a template names these values and no other, each at least once.
constexpr bool names_match(std::string_view text, std::span<const std::string_view> names) {
    for (const std::string_view name : names) {
        bool used = false;
        for (Place p = next_place(text, 0); p.from < text.size(); p = next_place(text, p.to))
            used = used || name == p.name;
        if (!used) return false;
    }
    return names_within(text, names);
}

}  // namespace seatwright::words
