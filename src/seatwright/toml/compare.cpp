#include "seatwright/toml/compare.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace seatwright::toml {
namespace {

using How = Difference::How;
using Steps = std::span<const PathPart>;

struct Named {
    std::string name;
    Value value;
};

// Empty tables, and tables of such, and empty lists mean the same as none.
bool is_empty(const Value& value) {
    const Items items = value.items();
    if (value.kind() == Kind::list) return items.begin() == items.end();
    return value.kind() == Kind::table && std::all_of(items.begin(), items.end(), is_empty);
}

// The values of a table by their names, without the empty ones if `pruned`; an absent table has none.
std::vector<Named> by_name(const Value& table, bool pruned) {
    std::vector<Named> out;
    for (const auto& value : table.items())
        if (!pruned || !is_empty(value)) out.push_back({value.name(), value});
    std::sort(out.begin(), out.end(), [](const Named& a, const Named& b) { return a.name < b.name; });
    return out;
}

bool same_value(const Value& a, const Value& b, bool pruned);

bool same_tables(const std::vector<Named>& a, const std::vector<Named>& b, bool pruned) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](const Named& x, const Named& y) {
        return x.name == y.name && same_value(x.value, y.value, pruned);
    });
}

bool same_numbers(double a, double b) {
    return a == b || (std::isnan(a) && std::isnan(b));
}

bool same_value(const Value& a, const Value& b, bool pruned) {
    if (a.kind() != b.kind()) return false;
    switch (a.kind()) {
        case Kind::table:
            return same_tables(by_name(a, pruned), by_name(b, pruned), pruned);
        case Kind::list: {
            // What stands in lists is compared as it is.
            const Items x = a.items(), y = b.items();
            return std::equal(x.begin(), x.end(), y.begin(), y.end(), same);
        }
        case Kind::text:
            return a.text() == b.text();
        case Kind::integer:
            return a.integer() == b.integer();
        case Kind::number:
            return same_numbers(*a.number(), *b.number());
        case Kind::flag:
            return a.flag() == b.flag();
        case Kind::moment:
            return a.moment() == b.moment();
        default:
            return true;
    }
}

class Compared {
  public:
    explicit Compared(const Difference& difference) : by_(difference) {}

    bool below(const Value& before, const Value& after, Steps path) const {
        if (path.empty()) return at_the_end(before, after);
        if (path.front().index) return list(before, after, path);
        if ((before && before.kind() != Kind::table) || after.kind() != Kind::table) return false;
        return table(before, after, path);
    }

  private:
    bool pruned() const { return by_.how == How::removed; }

    bool at_the_end(const Value& before, const Value& after) const {
        if (by_.how == How::set) return same(after, by_.value);
        if (by_.how == How::removed) return !after;
        if (after.kind() != Kind::list || (before && before.kind() != Kind::list)) return false;
        const Items old = before.items(), now = after.items();
        auto at = now.begin();
        for (const auto& value : old) {
            if (at == now.end() || !same(value, *at)) return false;
            ++at;
        }
        return at != now.end() && same(*at, by_.value) && ++at == now.end();
    }

    bool table(const Value& before, const Value& after, Steps path) const {
        const auto taken_out = [&](std::vector<Named>& all) {
            Value out;
            const auto found = std::find_if(all.begin(), all.end(),
                                            [&](const Named& one) { return one.name == path.front().key; });
            if (found == all.end()) return out;
            out = found->value;
            all.erase(found);
            return out;
        };
        auto old = by_name(before, pruned()), now = by_name(after, pruned());
        const Value there = taken_out(old), here = taken_out(now);
        if (!same_tables(old, now, pruned())) return false;
        if (here || path.size() == 1) return below(there, here, path.subspan(1));
        // What held it may be gone with it, and may have said nothing before.
        return by_.how == How::removed && (!there || is_empty_without(there, path.subspan(1)));
    }

    // Whether nothing but the value at the path is in a table or list.
    static bool is_empty_without(const Value& holder, Steps path) {
        if (path.empty()) return true;
        if (path.front().index) return path.size() == 1 && holder.kind() == Kind::list && holder.size() == 1;
        if (holder.kind() != Kind::table) return false;
        const auto all = by_name(holder, true);
        return all.size() == 1 && all[0].name == path.front().key &&
               is_empty_without(all[0].value, path.subspan(1));
    }

    bool list(const Value& before, const Value& after, Steps path) const {
        if (before.kind() != Kind::list || after.kind() != Kind::list) return false;
        const bool gone = by_.how == How::removed && path.size() == 1;
        const Items old = before.items(), now = after.items();
        auto at = now.begin();
        std::size_t index = 0;
        for (const auto& value : old) {
            const bool here = index++ == *path.front().index;
            if (here && gone) continue;
            if (at == now.end() || !(here ? below(value, *at, path.subspan(1)) : same(value, *at)))
                return false;
            ++at;
        }
        return at == now.end();
    }

    const Difference& by_;
};

}  // namespace

bool same(const Value& a, const Value& b) {
    return same_value(a, b, false);
}

bool differs_by(const Value& before, const Value& after, const Difference& difference) {
    return Compared(difference).below(before, after, difference.path);
}

}  // namespace seatwright::toml
