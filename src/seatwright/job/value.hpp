// A file's values after the table of keys has accepted them: units converted, types known, lines kept. What
// the table refused is present but empty, so that "missing" and "wrong" are never confused.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::job {

struct Value {
    enum class Holds { nothing, number, text, flag, table, list };
    struct Field;  // a name and its entry

    Holds holds = Holds::nothing;
    int line = 0;
    double number = 0;  // memory units; whole numbers and indices too
    std::string text;   // of a number: as it was written with its unit, empty if bare
    bool flag = false;
    std::vector<Field> fields;
    std::vector<Value> items;

    // The value of that key, good or refused; null if the file does not have it.
    const Value* find(std::string_view key) const;
    bool has(std::string_view key) const { return find(key) != nullptr; }
    // The value of that key if it is of that kind.
    std::optional<double> number_of(std::string_view key) const;
    std::optional<std::string> text_of(std::string_view key) const;
    std::optional<bool> flag_of(std::string_view key) const;
    const Value* table_of(std::string_view key) const;
    // Numbers of a list; empty if there is none.
    std::vector<double> numbers_of(std::string_view key) const;
    // The two numbers of a place; none unless there are two.
    std::optional<Vec2> point_of(std::string_view key) const;
    // Tables of a list, or the one table standing for a list of one.
    std::vector<const Value*> tables_of(std::string_view key) const;
    // Line of that key, of this table if it is not there.
    int line_of(std::string_view key) const;
};

struct Value::Field {
    std::string name;
    Value entry;
};

}  // namespace seatwright::job
