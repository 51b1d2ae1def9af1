// The one table of keys: it validates job and shop files, finds misspelt keys and writes the reference page.
#pragma once

#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/job/quantity.hpp"

namespace seatwright::job {

enum class Shape {
    quantity,  // a number or a text with a unit
    integer,
    flag,  // true or false
    text,
    choice,      // one of the words in Key::choices, parted by |
    label,       // a text or a whole number, kept as text: head ids
    texts,       // a list of texts
    range,       // [low, high], quantities
    quantities,  // a list of quantities
    point,       // [x, y], lengths
    points,      // [[x, y], …], lengths
    pair,        // [i, j], whole numbers from 0
    table,
    tables,  // [[…]] or a list of inline tables
    shelf    // a name, a table, or several tables with names
};

// Bounds of a number, in the bare unit of its dimension (lengths: mm).
struct Bounds {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool low_open = false;  // the bound itself is not allowed
    bool high_open = false;
};
inline constexpr Bounds any{};
inline constexpr Bounds positive{.low = 0, .low_open = true};
inline constexpr Bounds not_negative{.low = 0};
// The limit of every incline, cant and facet: contract of the job file.
inline constexpr Bounds lean{.low = -80, .high = 80, .low_open = true, .high_open = true};
inline constexpr Bounds facet_lean{.low = 0, .high = 80, .high_open = true};
inline constexpr Bounds face_lean{.low = 0, .high = 80, .low_open = true, .high_open = true};
inline constexpr Bounds full_turn{.low = -360, .high = 360};

enum class Where { both, job, shop };

struct Key {
    std::string_view path;  // "seat.*.top[].angle": * is intake or exhaust, [] an entry of a list
    Shape shape = Shape::quantity;
    Dimension dimension = Dimension::length;
    Bounds bounds{};
    bool required = false;  // wherever its table is present
    std::string_view meaning;
    std::string_view fallback{};  // what holds if absent, as a sentence part; empty = not known
    std::string_view choices{};
    Where where = Where::both;
    bool ours = false;  // beyond the published contract
};

// All keys, in the order of the reference page; a table stands before its keys.
std::span<const Key> all_keys();

// The parts of the table, a file each.
std::span<const Key> head_keys();
std::span<const Key> form_keys();
std::span<const Key> shop_keys();
std::span<const Key> tool_keys();
std::span<const Key> work_keys();
std::span<const Key> reading_keys();

// The reference page (Markdown) of all keys: type, unit, range, default, meaning.
std::string key_reference_markdown();

// The range of a number in words: "above 0, below 80 deg"; empty if unbounded.
std::string bounds_in_words(const Key& key, LengthUnit units);

}  // namespace seatwright::job
