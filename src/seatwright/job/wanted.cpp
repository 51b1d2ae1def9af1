#include "seatwright/job/wanted.hpp"

#include <fmt/format.h>

namespace seatwright::job {

std::string quantity_wanted(const Key& key, LengthUnit units) {
    std::string out(name_of(key.dimension));
    const auto bare = bare_unit_of(key.dimension, units);
    if (!bare.empty()) out += fmt::format(" as a number in {}", bare);
    const auto others = units_of(key.dimension);
    if (!others.empty())
        out += fmt::format(" or a text such as \"1.5 {}\"", others.substr(0, others.find(',')));
    return out;
}

std::string wanted(const Key& key, LengthUnit units) {
    switch (key.type) {
        case ValueType::quantity:
            return fmt::format("wanted: {}", quantity_wanted(key, units));
        case ValueType::integer:
            return fmt::format("wanted: a whole number, {}", bounds_in_words(key, units));
        case ValueType::flag:
            return "wanted: true or false";
        case ValueType::text:
            return "wanted: a text in quotes";
        case ValueType::choice:
            return "wanted: one of " + in_list(key.choices);
        case ValueType::label:
            return "wanted: a text in quotes or a whole number";
        case ValueType::texts:
            return "wanted: a list of texts, [\"…\", \"…\"]";
        case ValueType::range:
            return fmt::format("wanted: [least, greatest], each {}", quantity_wanted(key, units));
        case ValueType::quantities:
            return fmt::format("wanted: a list, each {}", quantity_wanted(key, units));
        case ValueType::point:
            return "wanted: a pair of lengths, [0, 0]";
        case ValueType::points:
            return "wanted: a list of pairs of lengths, [[0, 0], [10, 0]]";
        case ValueType::pair:
            return "wanted: two whole numbers from 0, [0, 9]";
        case ValueType::table:
            return fmt::format("wanted: a table, [{}]", key.path);
        case ValueType::tables:
            return "wanted: tables, [[…]] or [ { … }, { … } ]";
        case ValueType::shelf:
            return fmt::format("wanted: a name in quotes, or a table [{}]", key.path);
    }
    return {};
}

std::string in_list(std::string_view choices) {
    std::string out = "\"";
    for (const char c : choices) {
        if (c == '|')
            out += "\", \"";
        else
            out += c;
    }
    return out + "\"";
}

}  // namespace seatwright::job
