// The table of keys over values as they were given, whether in a file or by an entry of the store.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/key_path.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/value.hpp"
#include "seatwright/job/walk.hpp"
#include "seatwright/job/wanted.hpp"
#include "seatwright/job/wrong_value.hpp"
#include "seatwright/toml/document.hpp"

namespace seatwright::job {

// `Given` is a view of a value such as toml::Value: kind(), text(), integer(), number(), flag(), items(),
// size(), find(name), name(), line(), key_line(). What is of Kind::nothing has been told of already.
template <class Given>
class Walker {
  public:
    using Kind = toml::Kind;

    // Faults name `file`. `whole`: every key that was given is there to be seen, so that one can be said to
    // be missing.
    Walker(const std::string& file, FileKind kind, LengthUnit units, bool whole)
        : file_(file), kind_(kind), units_(units), whole_(whole) {}

    // `from` needs items() and line() only.
    template <class Table>
    Value table(const Table& from, const KeyNode& node, const KeyPath& path, int line) {
        Value out;
        out.holds = Value::Holds::table;
        out.line = from.line() > 0 ? from.line() : line;
        const auto given = by_name(from);
        out.fields.reserve(given.size());
        for (const auto& [name, value] : given) {
            const KeyPath at(path, name);
            const int key_line = value.key_line();
            const KeyNode* child = node.child(name);
            if (!child || !child->key) {
                fault(key_line, at, unknown_key(name, node));
            } else if (misplaced(*child->key)) {
                fault(key_line, at, "belongs in the job file, not in the shop file");
            } else {
                out.fields.push_back({name, value_of(value, *child, at, key_line)});
            }
        }
        for (const auto& child : node.children)
            if (whole_ && child.key && child.key->required && !misplaced(*child.key) && !out.has(child.name))
                fault(out.line, KeyPath(path, child.name), "is missing; " + wanted(*child.key, units_));
        return out;
    }

    Faults faults;

  private:
    void fault(int line, const KeyPath& path, std::string text) {
        faults.push_back({file_, line, path.text(), std::move(text)});
    }

    bool misplaced(const Key& key) const { return kind_ == FileKind::shop && key.where == Where::job; }

    // Two files that say the same are walked alike, whatever the order of their keys.
    template <class Table>
    static std::vector<std::pair<std::string, Given>> by_name(const Table& table) {
        std::vector<std::pair<std::string, Given>> out;
        for (const auto& value : table.items()) out.emplace_back(value.name(), value);
        std::sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
        return out;
    }

    Value value_of(const Given& value, const KeyNode& node, const KeyPath& path, int line) {
        if (value.kind() == Kind::nothing) return at(line, Value::Holds::nothing);
        const Key& key = *node.key;
        switch (key.type) {
            case ValueType::quantity:
                return quantity(value, key, path, line);
            case ValueType::integer:
                return integer(value, key, path, line);
            case ValueType::flag:
                return flag(value, key, path, line);
            case ValueType::text:
            case ValueType::label:
            case ValueType::choice:
                return word(value, key, path, line);
            case ValueType::texts:
                return list(value, key, path, line,
                            [&](const auto& item, const KeyPath& p, int l) { return word(item, key, p, l); });
            case ValueType::range:
                return range(value, key, path, line);
            case ValueType::quantities:
                if (value.kind() != Kind::list) {
                    Value out = at(line, Value::Holds::list);
                    out.items.push_back(quantity(value, key, path, line));
                    return out;
                }
                return list(value, key, path, line, [&](const auto& item, const KeyPath& p, int l) {
                    return quantity(item, key, p, l);
                });
            case ValueType::point:
                return pair(value, key, path, line, ValueType::quantity);
            case ValueType::points:
                return list(value, key, path, line, [&](const auto& item, const KeyPath& p, int l) {
                    return pair(item, key, p, l, ValueType::quantity);
                });
            case ValueType::pair:
                return pair(value, key, path, line, ValueType::integer);
            case ValueType::table:
                if (value.kind() == Kind::table) return table(value, node, path, line);
                return wrong_type(value, key, path, line);
            case ValueType::tables:
            case ValueType::shelf:
                return tables(value, node, path, line);
        }
        return at(line, Value::Holds::nothing);
    }

    static Value at(int line, Value::Holds holds) {
        Value out;
        out.line = line;
        out.holds = holds;
        return out;
    }

    Value wrong_type(const Given& value, const Key& key, const KeyPath& path, int line) {
        fault(line, path, fmt::format("is {}; {}", type_name(value.kind()), wanted(key, units_)));
        return at(line, Value::Holds::nothing);
    }

    Value flag(const Given& value, const Key& key, const KeyPath& path, int line) {
        const auto given = value.flag();
        if (!given) return wrong_type(value, key, path, line);
        Value out = at(line, Value::Holds::flag);
        out.flag = *given;
        return out;
    }

    Value quantity(const Given& value, const Key& key, const KeyPath& path, int line) {
        if (auto text = value.text()) {
            const auto parsed = parse_quantity(*text, key.dimension, units_);
            if (!parsed) {
                fault(line, path, parsed.error());
                return at(line, Value::Holds::nothing);
            }
            Value out = in_bounds(*parsed, key, path, line);
            out.text = std::move(*text);
            return out;
        }
        const auto bare = value.number();
        if (!bare) return wrong_type(value, key, path, line);
        if (!std::isfinite(*bare)) {
            fault(line, path,
                  fmt::format("is not a finite number; wanted: {}", quantity_wanted(key, units_)));
            return at(line, Value::Holds::nothing);
        }
        return in_bounds(from_bare(*bare, key.dimension, units_), key, path, line);
    }

    Value in_bounds(double value, const Key& key, const KeyPath& path, int line) {
        Value out = at(line, Value::Holds::nothing);
        if (auto wrong = out_of_bounds(value, key, units_); !wrong.empty()) {
            fault(line, path, std::move(wrong));
            return out;
        }
        out.holds = Value::Holds::number;
        out.number = value + 0.0;  // no negative zero
        return out;
    }

    Value integer(const Given& value, const Key& key, const KeyPath& path, int line) {
        const auto given = value.number();
        if (!given || std::floor(*given) != *given) return wrong_type(value, key, path, line);
        if (*given < key.bounds.low || *given > key.bounds.high) {
            fault(line, path, fmt::format("is {:.0f}; it must be {}", *given, bounds_in_words(key, units_)));
            return at(line, Value::Holds::nothing);
        }
        Value out = at(line, Value::Holds::number);
        out.number = *given;
        return out;
    }

    Value word(const Given& value, const Key& key, const KeyPath& path, int line) {
        Value out = at(line, Value::Holds::text);
        if (auto text = value.text()) {
            out.text = std::move(*text);
        } else if (const auto whole = value.integer(); whole && takes_whole_number(key)) {
            out.text = std::to_string(*whole);
        } else {
            return wrong_type(value, key, path, line);
        }
        if (auto wrong = not_that_word(out.text, key); !wrong.empty()) {
            fault(line, path, std::move(wrong));
            return at(line, Value::Holds::nothing);
        }
        return out;
    }

    template <class Read>
    Value list(const Given& value, const Key& key, const KeyPath& path, int line, const Read& read) {
        if (value.kind() != Kind::list) return wrong_type(value, key, path, line);
        Value out = at(line, Value::Holds::list);
        std::size_t index = 0;
        for (const auto& item : value.items())
            out.items.push_back(read(item, KeyPath(path, index++), item.line()));
        return out;
    }

    Value pair(const Given& value, const Key& key, const KeyPath& path, int line, ValueType part) {
        const bool is_list = value.kind() == Kind::list;
        if (!is_list || value.size() != 2) {
            const std::string size = is_list ? fmt::format(" of {}", value.size()) : "";
            fault(line, path, fmt::format("is {}{}; {}", type_name(value.kind()), size, wanted(key, units_)));
            return at(line, Value::Holds::nothing);
        }
        return list(value, key, path, line, [&](const auto& item, const KeyPath& p, int l) {
            return part == ValueType::integer ? integer(item, key, p, l) : quantity(item, key, p, l);
        });
    }

    Value range(const Given& value, const Key& key, const KeyPath& path, int line) {
        Value out = pair(value, key, path, line, ValueType::quantity);
        if (out.items.size() == 2 && out.items[0].holds == Value::Holds::number &&
            out.items[1].holds == Value::Holds::number && out.items[0].number > out.items[1].number) {
            fault(line, path, "has its greater value first; wanted: [least, greatest]");
            return at(line, Value::Holds::nothing);
        }
        return out;
    }

    Value tables(const Given& value, const KeyNode& node, const KeyPath& path, int line) {
        const Key& key = *node.key;
        if (value.kind() == Kind::table) return table(value, node, path, line);
        // In a shop file the shelf's own tables are no names; what stands inside one of them may be a word.
        const bool inside = key.path.find('.') != std::string_view::npos;
        if (key.type == ValueType::shelf && value.kind() == Kind::text && (inside || kind_ == FileKind::job))
            return word(value, key, path, line);
        return list(value, key, path, line, [&](const auto& item, const KeyPath& p, int l) {
            if (item.kind() == Kind::table) return table(item, node, p, l);
            return wrong_type(item, key, p, l);
        });
    }

    const std::string& file_;
    FileKind kind_;
    LengthUnit units_;
    bool whole_;
};

}  // namespace seatwright::job
