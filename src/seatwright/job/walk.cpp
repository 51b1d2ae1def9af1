#include "seatwright/job/walk.hpp"

#include <fmt/format.h>

#include <toml++/toml.h>
#include <cmath>

#include "seatwright/job/guard.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/plain_text.hpp"
#include "seatwright/job/wanted.hpp"

namespace seatwright::job {
namespace {

// Lengths beyond this are slips of a decimal, and keep every later square and cube finite.
constexpr double length_limit_mm = 1e5;
constexpr double number_limit = 1e12;

std::string_view type_name(const toml::node& node) {
    switch (node.type()) {
        case toml::node_type::string:
            return "a text";
        case toml::node_type::integer:
            return "a whole number";
        case toml::node_type::floating_point:
            return "a number";
        case toml::node_type::boolean:
            return "true or false";
        case toml::node_type::table:
            return "a table";
        case toml::node_type::array:
            return "a list";
        case toml::node_type::date:
        case toml::node_type::time:
        case toml::node_type::date_time:
            return "a date";
        default:
            return "nothing";
    }
}

int line_of(const toml::node& node, int otherwise) {
    const auto line = static_cast<int>(node.source().begin.line);
    return line > 0 ? line : otherwise;
}

class Walker {
  public:
    Walker(const std::string& file, FileKind kind, LengthUnit units)
        : file_(file), kind_(kind), units_(units) {}

    Entry table(const toml::table& from, const KeyNode& node, const std::string& path, int line) {
        Entry out;
        out.holds = Entry::Holds::table;
        out.line = line_of(from, line);
        for (const auto& [key, value] : from) {
            const std::string name(key.str());
            const std::string full = path.empty() ? name : path + "." + name;
            const int at = key.source().begin.line > 0 ? static_cast<int>(key.source().begin.line)
                                                       : line_of(value, out.line);
            const KeyNode* child = node.child(name);
            if (!child || !child->key) {
                fault(at, full, unknown_key(name, node));
            } else if (misplaced(*child->key)) {
                fault(at, full, "belongs in the job file, not in the shop file");
            } else {
                out.fields.push_back({name, value_of(value, *child, full, at)});
            }
        }
        for (const auto& child : node.children)
            if (child.key && child.key->required && !from.contains(child.name) && !misplaced(*child.key))
                fault(out.line, path.empty() ? std::string(child.name) : path + "." + std::string(child.name),
                      "is missing; " + wanted(*child.key, units_));
        return out;
    }

    Faults faults;

  private:
    void fault(int line, const std::string& key, std::string text) {
        faults.push_back({file_, line, key, std::move(text)});
    }

    bool misplaced(const Key& key) const { return kind_ == FileKind::shop && key.where == Where::job; }

    Entry value_of(const toml::node& value, const KeyNode& node, const std::string& path, int line) {
        const Key& key = *node.key;
        switch (key.shape) {
            case Shape::quantity:
                return quantity(value, key, path, line);
            case Shape::integer:
                return integer(value, key, path, line);
            case Shape::flag:
                if (const auto* v = value.as_boolean()) {
                    Entry out = at(line, Entry::Holds::flag);
                    out.flag = v->get();
                    return out;
                }
                return wrong_type(value, key, path, line);
            case Shape::text:
            case Shape::label:
            case Shape::choice:
                return word(value, key, path, line);
            case Shape::texts:
                return list(value, key, path, line,
                            [&](const auto& item, const auto& p, int l) { return word(item, key, p, l); });
            case Shape::range:
                return range(value, key, path, line);
            case Shape::quantities:
                if (!value.is_array()) {
                    Entry out = at(line, Entry::Holds::list);
                    out.items.push_back(quantity(value, key, path, line));
                    return out;
                }
                return list(value, key, path, line, [&](const auto& item, const auto& p, int l) {
                    return quantity(item, key, p, l);
                });
            case Shape::point:
                return pair(value, key, path, line, Shape::quantity);
            case Shape::points:
                return list(value, key, path, line, [&](const auto& item, const auto& p, int l) {
                    return pair(item, key, p, l, Shape::quantity);
                });
            case Shape::pair:
                return pair(value, key, path, line, Shape::integer);
            case Shape::table:
                if (const auto* v = value.as_table()) return table(*v, node, path, line);
                return wrong_type(value, key, path, line);
            case Shape::tables:
            case Shape::shelf:
                return tables(value, node, path, line);
        }
        return at(line, Entry::Holds::nothing);
    }

    static Entry at(int line, Entry::Holds holds) {
        Entry out;
        out.line = line;
        out.holds = holds;
        return out;
    }

    Entry wrong_type(const toml::node& value, const Key& key, const std::string& path, int line) {
        fault(line, path, fmt::format("is {}; {}", type_name(value), wanted(key, units_)));
        return at(line, Entry::Holds::nothing);
    }

    Entry quantity(const toml::node& value, const Key& key, const std::string& path, int line) {
        double bare = 0;
        if (const auto* text = value.as_string()) {
            const auto parsed = parse_quantity(text->get(), key.dimension, units_);
            if (!parsed) {
                fault(line, path, parsed.error());
                return at(line, Entry::Holds::nothing);
            }
            Entry out = in_bounds(*parsed, key, path, line);
            out.text = text->get();
            return out;
        }
        if (const auto* v = value.as_floating_point()) {
            bare = v->get();
        } else if (const auto* w = value.as_integer()) {
            bare = static_cast<double>(w->get());
        } else {
            return wrong_type(value, key, path, line);
        }
        if (!std::isfinite(bare)) {
            fault(line, path,
                  fmt::format("is not a finite number; wanted: {}", quantity_wanted(key, units_)));
            return at(line, Entry::Holds::nothing);
        }
        return in_bounds(from_bare(bare, key.dimension, units_), key, path, line);
    }

    Entry in_bounds(double value, const Key& key, const std::string& path, int line) {
        Entry out = at(line, Entry::Holds::nothing);
        const bool is_length = key.dimension == Dimension::length || key.dimension == Dimension::feed;
        if (!std::isfinite(value) || std::abs(value) > (is_length ? length_limit_mm : number_limit)) {
            fault(line, path,
                  is_length ? fmt::format("is longer than {}; check unit and decimal point",
                                          units_ == LengthUnit::inch ? "300 ft" : "100 m")
                            : "is too large a number; check unit and decimal point");
            return out;
        }
        const auto limit = [&](double bare) { return from_bare(bare, key.dimension, LengthUnit::mm); };
        const double low = limit(key.bounds.low), high = limit(key.bounds.high);
        const bool below = key.bounds.low_open ? value <= low : value < low;
        const bool above = key.bounds.high_open ? value >= high : value > high;
        if (below || above) {
            const auto unit = bare_unit_of(key.dimension, units_);
            fault(line, path,
                  fmt::format("is {:.6g}{}{}; it must be {}", to_bare(value, key.dimension, units_),
                              unit.empty() ? "" : " ", unit, bounds_in_words(key, units_)));
            return out;
        }
        out.holds = Entry::Holds::number;
        out.number = value + 0.0;  // no negative zero
        return out;
    }

    Entry integer(const toml::node& value, const Key& key, const std::string& path, int line) {
        double number = 0;
        if (const auto* v = value.as_integer()) {
            number = static_cast<double>(v->get());
        } else if (const auto* w = value.as_floating_point(); w && std::floor(w->get()) == w->get()) {
            number = w->get();
        } else {
            return wrong_type(value, key, path, line);
        }
        if (number < key.bounds.low || number > key.bounds.high) {
            fault(line, path, fmt::format("is {:.0f}; it must be {}", number, bounds_in_words(key, units_)));
            return at(line, Entry::Holds::nothing);
        }
        Entry out = at(line, Entry::Holds::number);
        out.number = number;
        return out;
    }

    Entry word(const toml::node& value, const Key& key, const std::string& path, int line) {
        Entry out = at(line, Entry::Holds::text);
        if (const auto* v = value.as_string()) {
            out.text = v->get();
        } else if (const auto* w = value.as_integer(); w && takes_whole_number(key)) {
            out.text = std::to_string(w->get());
        } else {
            return wrong_type(value, key, path, line);
        }
        if (key.shape == Shape::label && (out.text.empty() || out.text.size() > 64)) {
            fault(line, path, "must be a text of 1 to 64 letters");
            return at(line, Entry::Holds::nothing);
        }
        if (key.shape == Shape::choice && !is_choice(key.choices, out.text)) {
            fault(line, path, fmt::format("is \"{}\"; it must be one of {}", out.text, in_list(key.choices)));
            return at(line, Entry::Holds::nothing);
        }
        return out;
    }

    // Labels may be numbers ("head 3"), and so may signs.
    static bool takes_whole_number(const Key& key) {
        return key.shape == Shape::label ||
               (key.shape == Shape::choice && key.dimension == Dimension::number);
    }

    static bool is_choice(std::string_view choices, std::string_view word) {
        while (true) {
            const auto bar = choices.find('|');
            if (choices.substr(0, bar) == word) return true;
            if (bar == std::string_view::npos) return false;
            choices.remove_prefix(bar + 1);
        }
    }

    template <class Read>
    Entry list(const toml::node& value, const Key& key, const std::string& path, int line, const Read& read) {
        const auto* array = value.as_array();
        if (!array) return wrong_type(value, key, path, line);
        Entry out = at(line, Entry::Holds::list);
        out.items.reserve(array->size());
        std::size_t index = 0;
        for (const auto& item : *array)
            out.items.push_back(read(item, fmt::format("{}[{}]", path, index++), line_of(item, line)));
        return out;
    }

    Entry pair(const toml::node& value, const Key& key, const std::string& path, int line, Shape part) {
        const auto* array = value.as_array();
        if (!array || array->size() != 2) {
            fault(line, path,
                  fmt::format("is {}{}; {}", type_name(value),
                              array ? fmt::format(" of {}", array->size()) : std::string(),
                              wanted(key, units_)));
            return at(line, Entry::Holds::nothing);
        }
        return list(value, key, path, line, [&](const auto& item, const auto& p, int l) {
            return part == Shape::integer ? integer(item, key, p, l) : quantity(item, key, p, l);
        });
    }

    Entry range(const toml::node& value, const Key& key, const std::string& path, int line) {
        Entry out = pair(value, key, path, line, Shape::quantity);
        if (out.items.size() == 2 && out.items[0].holds == Entry::Holds::number &&
            out.items[1].holds == Entry::Holds::number && out.items[0].number > out.items[1].number) {
            fault(line, path, "has its greater value first; wanted: [least, greatest]");
            return at(line, Entry::Holds::nothing);
        }
        return out;
    }

    Entry tables(const toml::node& value, const KeyNode& node, const std::string& path, int line) {
        const Key& key = *node.key;
        if (const auto* v = value.as_table()) return table(*v, node, path, line);
        // In a shop file the shelf's own tables are no names; what stands inside one of them may be a word.
        const bool inside = key.path.find('.') != std::string_view::npos;
        if (key.shape == Shape::shelf && value.is_string() && (inside || kind_ == FileKind::job))
            return word(value, key, path, line);
        return list(value, key, path, line, [&](const auto& item, const auto& p, int l) {
            if (const auto* v = item.as_table()) return table(*v, node, p, l);
            return wrong_type(item, key, p, l);
        });
    }

    const std::string& file_;
    FileKind kind_;
    LengthUnit units_;
};

}  // namespace

Walked walk_file(std::string_view text, const std::string& file, FileKind kind, LengthUnit inherited) {
    Walked out;
    out.units = inherited;
    out.faults = guard_text(text, file);
    if (!out.faults.empty()) {
        out.readable = false;
        return out;
    }
    toml::table parsed;
    try {
        parsed = toml::parse(text, file);
    } catch (const toml::parse_error& error) {
        out.faults.push_back({file, static_cast<int>(error.source().begin.line), std::string(of_the_text),
                              std::string(error.description())});
        out.readable = false;
        return out;
    }
    if (const auto units = parsed["units"].value<std::string_view>()) {
        if (*units == "in") out.units = LengthUnit::inch;
        if (*units == "mm") out.units = LengthUnit::mm;
    }
    Walker walker(file, kind, out.units);
    out.root = walker.table(parsed, key_tree(), "", 1);
    // Without units no length means anything: say so first.
    if (kind == FileKind::job && !out.root.has("units"))
        walker.faults.insert(walker.faults.begin(),
                             {file, 1, "units", "is missing; wanted: units = \"in\" or units = \"mm\""});
    out.faults = std::move(walker.faults);
    return out;
}

}  // namespace seatwright::job
