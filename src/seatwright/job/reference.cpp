// The reference page of the job file, written from the table of keys.
#include <fmt/format.h>

#include <cmath>

#include "seatwright/job/keys.hpp"

namespace seatwright::job {
namespace {

std::string words_of(std::string_view choices) {
    std::string out = "\"";
    for (const char c : choices) out += c == '|' ? std::string("\" or \"") : std::string(1, c);
    return out + "\"";
}

std::string unit_words(const Key& key) {
    switch (key.dimension) {
        case Dimension::length:
        case Dimension::feed:
            return "length";
        default:
            break;
    }
    std::string name(name_of(key.dimension));
    name = name.substr(name.find(' ') + 1);
    const auto bare = bare_unit_of(key.dimension, LengthUnit::mm);
    return bare.empty() ? name : fmt::format("{}, bare {}", name, bare);
}

std::string shape_words(const Key& key) {
    switch (key.type) {
        case ValueType::quantity:
            return unit_words(key);
        case ValueType::integer:
            return "whole number";
        case ValueType::flag:
            return "true or false";
        case ValueType::text:
            return "text";
        case ValueType::choice:
            return words_of(key.choices);
        case ValueType::label:
            return "text or whole number";
        case ValueType::texts:
            return "list of texts";
        case ValueType::range:
            return "[least, greatest], " + unit_words(key);
        case ValueType::quantities:
            return "list, " + unit_words(key);
        case ValueType::point:
            return "[a, b], length";
        case ValueType::points:
            return "[[a, b], …], length";
        case ValueType::pair:
            return "[i, j]";
        case ValueType::table:
            return "table";
        case ValueType::tables:
            return "tables";
        case ValueType::shelf:
            return "name, table or tables";
    }
    return {};
}

bool is_group(const Key& key) {
    return key.type == ValueType::table || key.type == ValueType::tables || key.type == ValueType::shelf;
}

std::string range_words(const Key& key) {
    if (key.type == ValueType::point || key.type == ValueType::points || key.type == ValueType::pair ||
        key.type == ValueType::choice)
        return "";
    return bounds_in_words(key, LengthUnit::mm);
}

std::string where_words(const Key& key) {
    return key.where == Where::job    ? " Only in a job file."
           : key.where == Where::shop ? " Only in a shop file."
                                      : "";
}

std::string_view who_words(const Key& key) {
    switch (key.who.hand()) {
        case Who::machinists:
            return "machinist";
        case Who::machinists_at_first:
            return "at first";
        case Who::leads:
            return key.limit ? "lead, limit" : "lead";
    }
    return {};
}

constexpr std::string_view preface =
    "# Every key of a job file and a shop file\n\n"
    "This page is written by `seatwright check --reference` from the table that validates the files.\n"
    "How to write a job is told in job-file.md.\n\n"
    "- A *length* as a bare number is in the file's `units`; a bare number of any other measure is in the "
    "unit given "
    "in the table.\n"
    "- A text with a unit always wins: `\"38.1 mm\"`, `\"0.0015 in\"`, `\"1-9/16 in\"`, `\"0,05 mm\"`, `\"15 "
    "deg\"`, "
    "`\"40 lb\"`.\n"
    "- `*` stands for `intake` or `exhaust`; `[]` for each entry of a list, counted from 0 in messages.\n"
    "- *who* is who may change the key on a server with roles: *machinist* whoever works at the machine; *at "
    "first* they "
    "too until the first program of the job was taken, then a lead; *lead* a lead only (*limit*: a verdict "
    "or a "
    "stop hangs on it). The files themselves and the command line know no roles.\n"
    "- Keys marked + are additions of this program to the basic job file.\n\n";

std::string unit_lines() {
    std::string out = "## Units\n\n| measure | bare number | units |\n|---|---|---|\n";
    for (int d = 0; d <= static_cast<int>(Dimension::number); ++d) {
        const auto dimension = static_cast<Dimension>(d);
        std::string name(name_of(dimension));
        name = name.substr(name.find(' ') + 1);
        std::string bare(bare_unit_of(dimension, LengthUnit::mm));
        if (dimension == Dimension::length || dimension == Dimension::feed) bare = "the file's units";
        if (dimension == Dimension::axis_speed) name += " of an axis";
        if (dimension == Dimension::surface_speed) name += " at the surface";
        const auto units = units_of(dimension);
        out += fmt::format("| {} | {} | {} |\n", name, bare.empty() ? "itself" : bare,
                           units.empty() ? "none" : units);
    }
    return out + "\n";
}

}  // namespace

std::string key_reference_markdown() {
    std::string out(preface);
    out += unit_lines();
    out +=
        "## The file as a whole\n\n| key | value | range | default | who | meaning "
        "|\n|---|---|---|---|---|---|\n";
    bool in_head_part = true;
    for (const Key& key : all_keys()) {
        const bool top_group = is_group(key) && key.path.find('.') == std::string_view::npos;
        if (top_group) {
            in_head_part = false;
            out += fmt::format(
                "\n## {}{}\n\n{}{}\n\n| key | value | range | default | who | meaning "
                "|\n|---|---|---|---|---|---|\n",
                key.path, key.ours ? " +" : "", key.meaning, where_words(key));
            continue;
        }
        const std::string fallback = key.required ? "**required**" : std::string(key.fallback);
        std::string choices = shape_words(key);
        out += fmt::format("| `{}`{} | {} | {} | {} | {} | {}{} |\n", key.path, key.ours ? " +" : "", choices,
                           range_words(key), fallback, who_words(key), key.meaning,
                           in_head_part ? where_words(key) : "");
    }
    return out;
}

}  // namespace seatwright::job
