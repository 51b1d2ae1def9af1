#include "seatwright/drawing/holes.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace seatwright::drawing {
namespace {

// A head's bolts and plugs (as the table of keys and trade tables have them), mm.
constexpr double least_bolt = 5, largest_bolt = 40, least_plug = 6, largest_plug = 40;
constexpr double in_one_row = 0.5;  // mm

using Set = std::vector<std::size_t>;

// Holes of one size: by the smallest circle of each mark.
std::vector<Set> by_size(const Marks& marks, Set left) {
    std::sort(left.begin(), left.end(), [&](std::size_t a, std::size_t b) {
        return marks.marks[a].smallest() < marks.marks[b].smallest();
    });
    std::vector<Set> out;
    constexpr double same = 0.01;
    for (const auto m : left) {
        if (out.empty() || marks.marks[m].smallest() > marks.marks[out.back().back()].smallest() + same)
            out.emplace_back();
        out.back().push_back(m);
    }
    return out;
}

struct Judged {
    Set holes;
    double diameter = 0, between = 0;  // between: the part that stands between cylinders or beyond the ends
    bool hinted = false;
};

class Judge {
  public:
    Judge(const Marks& marks, const std::vector<Vec2>& at, const std::vector<Vec2>& cylinders,
          double valves_y)
        : marks_(marks), at_(at), cylinders_(cylinders), valves_y_(valves_y) {
        for (const auto& c : cylinders_) last_ = std::max(last_, c.x());
        spacing_ = cylinders_.size() > 1 ? last_ / static_cast<double>(cylinders_.size() - 1) : 0;
    }

    bool could_be_bolts(const Set& holes) const {
        const double d = marks_.marks[holes.front()].smallest();
        if (d < least_bolt || d > largest_bolt || holes.size() < 3) return false;
        double low = at_[holes[0]].x(), high = low;
        bool above = false, below = false;
        std::map<long long, std::size_t> rows;
        for (const auto m : holes) {
            low = std::min(low, at_[m].x());
            high = std::max(high, at_[m].x());
            above = above || at_[m].y() > valves_y_;
            below = below || at_[m].y() < valves_y_;
            ++rows[std::llround(at_[m].y() / in_one_row)];
        }
        if (!above || !below || low >= 0 || high <= last_) return false;
        std::size_t in_rows = 0;
        for (const auto m : holes) {
            const auto row = std::llround(at_[m].y() / in_one_row);
            std::size_t n = 0;
            for (long long k = row - 1; k <= row + 1; ++k)
                if (const auto r = rows.find(k); r != rows.end()) n += r->second;
            in_rows += n > 1 ? 1 : 0;
        }
        // A single cylinder's bolts may stand on a circle.
        return cylinders_.size() == 1 || 4 * in_rows >= 3 * holes.size();
    }

    double between(const Set& holes) const {
        if (spacing_ <= 0) return 1;
        constexpr double near = 0.2;
        std::size_t n = 0;
        for (const auto m : holes) {
            double nearest = 1e9;
            for (const auto& c : cylinders_)
                nearest = std::min(nearest, std::abs(std::abs(at_[m].x() - c.x()) - spacing_ / 2));
            n += nearest < near * spacing_ ? 1 : 0;
        }
        return static_cast<double>(n) / static_cast<double>(holes.size());
    }

    bool could_be_plugs(const Set& holes, double reach) const {
        const double d = marks_.marks[holes.front()].smallest();
        if (d < least_plug || d > largest_plug || holes.size() % cylinders_.size() != 0 ||
            holes.size() / cylinders_.size() > 2)
            return false;
        std::vector<std::size_t> of(cylinders_.size());
        for (const auto m : holes)
            for (std::size_t c = 0; c < cylinders_.size(); ++c)
                if ((at_[m] - cylinders_[c]).norm() < reach) ++of[c];
        return std::all_of(of.begin(), of.end(),
                           [&](std::size_t n) { return n == holes.size() / cylinders_.size(); });
    }

  private:
    const Marks& marks_;
    const std::vector<Vec2>& at_;
    const std::vector<Vec2>& cylinders_;
    double valves_y_ = 0, last_ = 0, spacing_ = 0;
};

// How far from a cylinder's centre its plug may stand.
double reach_of(const Layout& layout, const Marks& marks, const std::vector<Vec2>& at,
                const std::vector<Vec2>& cylinders) {
    double out = 0;
    for (std::size_t c = 0; c < layout.cylinders.size(); ++c) {
        if (layout.cylinders[c].bore) out = std::max(out, *layout.cylinders[c].bore / 2);
        for (const auto m : layout.cylinders[c].valves)
            if (!layout.cylinders[c].bore)
                out = std::max(out, (at[m] - cylinders[c]).norm() + marks.marks[m].largest() / 2);
    }
    return out;
}

}  // namespace

Holes holes_of(const Marks& marks, const Layout& layout, const std::vector<Vec2>& at,
               const std::vector<Vec2>& cylinders, const std::vector<std::string>& names,
               const std::vector<std::string>& hints) {
    Holes out;
    std::set<std::size_t> valves;
    double valves_y = 0;
    for (const auto& c : layout.cylinders)
        for (const auto m : c.valves) valves.insert(m);
    for (const auto m : valves) valves_y += at[m].y() / static_cast<double>(valves.size());
    Set left, named_bolts;
    for (std::size_t m = 0; m < marks.marks.size(); ++m) {
        if (valves.contains(m)) continue;
        const auto& name = names[marks.marks[m].group];
        if (name == "bolt")
            named_bolts.push_back(m);
        else if (name == "plug")
            out.plugs.push_back(m);
        else if (name.empty())
            left.push_back(m);
        else
            out.others.push_back(m);
    }
    const Judge judge(marks, at, cylinders, valves_y);
    auto sets = by_size(marks, left);
    if (!named_bolts.empty()) {
        out.bolts = std::move(named_bolts);
        out.bolts_named = true;
    } else {
        std::vector<Judged> could;
        for (const auto& set : sets)
            if (judge.could_be_bolts(set))
                could.push_back({set, marks.marks[set.front()].smallest(), judge.between(set),
                                 std::any_of(set.begin(), set.end(), [&](std::size_t m) {
                                     return hints[marks.marks[m].group] == "bolt";
                                 })});
        std::stable_sort(could.begin(), could.end(), [](const Judged& a, const Judged& b) {
            if (a.hinted != b.hinted) return a.hinted;
            if (std::abs(a.between - b.between) > 0.25) return a.between > b.between;
            return a.diameter > b.diameter;
        });
        if (!could.empty()) {
            out.bolts = could.front().holes;
            for (std::size_t i = 1; i < could.size(); ++i)
                if (!could.front().hinted && could[i].between > could.front().between - 0.25)
                    out.rivals.push_back(could[i].diameter);
        }
    }
    if (!out.bolts.empty()) {
        out.bolt_diameter = marks.marks[out.bolts.front()].smallest();
        std::erase_if(sets, [&](const Set& set) { return set == out.bolts; });
    }
    const double reach = reach_of(layout, marks, at, cylinders);
    for (const auto& set : sets) {
        auto& into = judge.could_be_plugs(set, reach) ? out.plugs : out.others;
        into.insert(into.end(), set.begin(), set.end());
    }
    // Along the head, row by row, as a person reads them.
    const auto by_row = [&](std::size_t a, std::size_t b) {
        const auto ra = std::llround(at[a].y() / in_one_row), rb = std::llround(at[b].y() / in_one_row);
        return ra != rb ? ra < rb : at[a].x() < at[b].x();
    };
    for (auto* set : {&out.bolts, &out.plugs, &out.others}) std::sort(set->begin(), set->end(), by_row);
    return out;
}

}  // namespace seatwright::drawing
