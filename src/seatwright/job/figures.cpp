#include "seatwright/job/figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "seatwright/job/key_tree.hpp"

namespace seatwright::job {
namespace {

// Tables whose figures hold does not read: whether the whole file reads in another unit is told without them.
constexpr std::array<std::string_view, 5> beside_hold{"seat.", "depth.", "reading.seat", "reading.first",
                                                      "reading.proof"};

// What the figures of one table belong to.
struct TextPlace {
    std::string path;  // "head.valve.1I"
    std::string head, valve;
    bool sure = false;  // the reading says so of itself
};

class Walk {
  public:
    explicit Walk(LengthUnit units) : units_(units) { figures.file_units = units; }

    void table(const Value& from, const KeyNode& node, const TextPlace& place) {
        for (const auto& field : from.fields) {
            const KeyNode* child = node.child(field.name);
            if (!child || !child->key) continue;
            TextPlace below = place;
            below.path = place.path.empty() ? field.name : place.path + "." + field.name;
            value(field.entry, *child, below);
        }
    }

    Figures figures;

  private:
    void value(const Value& entry, const KeyNode& node, const TextPlace& place) {
        switch (entry.holds) {
            case Value::Holds::table:
                return table(entry, node, named(entry, node, place, 0));
            case Value::Holds::list:
                for (std::size_t i = 0; i < entry.items.size(); ++i) {
                    const Value& item = entry.items[i];
                    if (item.holds == Value::Holds::table)
                        table(item, node, named(item, node, place, i));
                    else
                        value(item, node,
                              {fmt::format("{}[{}]", place.path, i), place.head, place.valve, place.sure});
                }
                return;
            case Value::Holds::number:
                return number(entry, *node.key, place);
            default:
                return;
        }
    }

    // An entry of a list by what it is of, so that the key stays when others are added before it.
    static TextPlace named(const Value& item, const KeyNode& node, const TextPlace& place,
                           std::size_t index) {
        const auto path = node.key->path;
        if (node.key->type != ValueType::tables) return place;
        TextPlace out = place;
        if (path.starts_with("reading.")) {
            out.head = item.text_of("head").value_or("1");
            out.valve = item.text_of("valve").value_or("?");
            out.sure = item.flag_of("sure").value_or(false);
            out.path = fmt::format("{}.{}.{}", place.path, out.head, out.valve);
        } else if (path == "head.valve" || path == "depth.seat") {
            out.valve = item.text_of(path == "depth.seat" ? "valve" : "id").value_or("");
            out.path = place.path + "." + out.valve;
        } else {
            out.path = fmt::format("{}[{}]", place.path, index);
        }
        return out;
    }

    void number(const Value& entry, const Key& key, const TextPlace& place) {
        const Plausible* range = plausible_for(key.path);
        if (!range) return;
        const bool fits = can_be(*range, entry.number);
        const bool bare = entry.text.empty();
        if (bare && range->dimension == Dimension::length) count_unit(*range, key.path, entry.number, fits);
        if (fits || place.sure) return;
        const std::string typed =
            bare ? fmt::format("{:.10g}", to_bare(entry.number, range->dimension, units_)) : entry.text;
        figures.odd.push_back({range, place.path, place.head, place.valve, entry.number, typed, entry.line});
    }

    void count_unit(const Plausible& range, std::string_view path, double value, bool fits) {
        const auto in = [&](std::string_view table) { return path.starts_with(table); };
        if (std::any_of(beside_hold.begin(), beside_hold.end(), in)) return;
        const double other = units_ == LengthUnit::inch ? value / mm_per_inch : value * mm_per_inch;
        const bool fits_other = can_be(range, other);
        if (fits && !fits_other) ++figures.units.as_written;
        if (!fits && fits_other) ++figures.units.in_other_unit;
    }

    LengthUnit units_;
};

}  // namespace

Figures figures_of(const Value& root, LengthUnit units) {
    Walk walk(units);
    walk.table(root, key_tree(), {});
    return std::move(walk.figures);
}

}  // namespace seatwright::job
