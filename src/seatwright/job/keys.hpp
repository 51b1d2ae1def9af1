// The one table of keys: it validates job and shop files, finds misspelt keys and writes the reference page.
#pragma once

#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/job/quantity.hpp"
#include "seatwright/job/stage.hpp"

namespace seatwright::job {

enum class ValueType {
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

enum class Where { both, job, shop };

// Who may change a key in a shop that knows roles. No key is without: it has no default.
class Who {
  public:
    enum Hand {
        machinists,           // whoever works at the machine
        machinists_at_first,  // they too until the first program of the job was taken, then leads only
        leads                 // what a verdict, a stop or every job of the shop hangs on
    };
    constexpr explicit Who(Hand hand) : hand_(hand) {}
    constexpr Hand hand() const { return hand_; }

  private:
    Hand hand_;
};
namespace who {
inline constexpr Who machinist{Who::machinists};
inline constexpr Who until_first_file{Who::machinists_at_first};
inline constexpr Who lead{Who::leads};
}  // namespace who

// What a figure can be (working.md, "Doubts"): what cannot be is asked about. Ends in the bare unit of the
// key's dimension (lengths: mm), about twice the trade's widest and half its least, not what is usual;
// `basis` says where the figures come from.
struct Trade {
    std::string_view what{};  // in a sentence: "a seat's width"; empty: any figure will do
    double low = 0, high = 0;
    std::string_view basis{};
};
inline constexpr std::string_view basis_memory = "from memory";
inline constexpr std::string_view basis_service = "service data, common practice";
inline constexpr std::string_view basis_practice = "common practice";
inline constexpr std::string_view basis_manuals =
    "published manuals of engines and machines, twice the widest seen";
inline constexpr std::string_view basis_body = "what the thing is";

struct Key {
    std::string_view path;  // "seat.*.top[].angle": * is intake or exhaust, [] an entry of a list
    Who who;
    Stage stage;  // where it is asked for or first counts
    ValueType type = ValueType::quantity;
    Dimension dimension = Dimension::length;
    Bounds bounds{};
    bool required = false;  // wherever its table is present
    std::string_view meaning;
    std::string_view fallback{};  // what holds if absent, as a sentence part; empty = not known
    std::string_view choices{};
    Where where = Where::both;
    bool ours = false;         // beyond the published contract
    bool limit = false;        // a verdict or a stop hangs on it
    std::string_view label{};  // beside a field; label_of() has one for every key
    Trade trade{};
    // What the questions for a new head take: beyond it is no head but a slip, mostly of the unit.
    Bounds new_head{};
};

// "Runout at most": its label, else the last word of its path, with a capital.
std::string label_of(const Key& key);

// All keys, in the order of the reference page; a table stands before its keys.
std::span<const Key> all_keys();

// The parts of the table, a file each.
std::span<const Key> head_keys();
std::span<const Key> plan_keys();
std::span<const Key> form_keys();
std::span<const Key> machine_keys();
std::span<const Key> shop_keys();
std::span<const Key> tool_keys();
std::span<const Key> work_keys();
std::span<const Key> forecast_keys();
std::span<const Key> reading_keys();

// The reference page (Markdown) of all keys: type, unit, range, default, meaning.
std::string key_reference_markdown();

// The range of a number in words: "above 0, below 80 deg"; empty if unbounded.
std::string bounds_in_words(const Key& key, LengthUnit units);

}  // namespace seatwright::job
