#include "seatwright/drawing/layout.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "seatwright/job/job.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::drawing {
namespace {

// What a guide and a seat measure at most and least (as the table of keys has them), and how much larger the
// seat is: seats are 3 to 7 stems wide, a bolt's counterbore about twice its hole (from memory).
constexpr double least_guide = 2.5, largest_guide = 26, least_seat = 9, largest_seat = 150;
constexpr double surely_larger = 2.8, perhaps_larger = 2.3;
constexpr std::size_t most_in_cylinder = 6;

double seat_of(const Marks& marks, std::size_t m) {
    return marks.marks[m].largest();
}

// Seats of one size, by rising size: of each mark its class.
std::map<std::size_t, std::size_t> classes_of(const Marks& marks, std::vector<std::size_t> valves) {
    constexpr double apart = 0.012;  // of the size: valves of one head differ by more or not at all
    std::sort(valves.begin(), valves.end(),
              [&](std::size_t a, std::size_t b) { return seat_of(marks, a) < seat_of(marks, b); });
    std::map<std::size_t, std::size_t> out;
    std::size_t now = 0;
    for (std::size_t i = 0; i < valves.size(); ++i) {
        if (i > 0 && seat_of(marks, valves[i]) > (1 + apart) * seat_of(marks, valves[i - 1])) ++now;
        out[valves[i]] = now;
    }
    return out;
}

Vec2 mean_of(const Marks& marks, const std::vector<std::size_t>& valves) {
    Vec2 out = Vec2::Zero();
    for (const auto m : valves) out += marks.marks[m].at / static_cast<double>(valves.size());
    return out;
}

// The width of the circle that takes in all seats of one cylinder, at least.
double width_of(const Marks& marks, const std::vector<std::size_t>& valves) {
    double out = 0;
    for (const auto a : valves)
        for (const auto b : valves)
            out = std::max(out, (marks.marks[a].at - marks.marks[b].at).norm() +
                                    (seat_of(marks, a) + seat_of(marks, b)) / 2);
    return out;
}

using Parts = std::vector<std::vector<std::size_t>>;

// Whether every part has as many seats of each size.
bool like_parts(const Parts& parts, const std::map<std::size_t, std::size_t>& classes) {
    const auto made_of = [&](const std::vector<std::size_t>& part) {
        std::vector<std::size_t> out;
        out.reserve(part.size());
        for (const auto m : part) out.push_back(classes.at(m));
        std::sort(out.begin(), out.end());
        return out;
    };
    return std::all_of(parts.begin(), parts.end(),
                       [&](const auto& part) { return made_of(part) == made_of(parts.front()); });
}

// Seats of one cylinder lie within its bore, and bores stand beside each other.
bool fits(const Marks& marks, const Parts& parts) {
    constexpr double play = 1.05;
    double width = 0;
    for (const auto& part : parts) width = std::max(width, width_of(marks, part));
    for (std::size_t i = 0; i + 1 < parts.size(); ++i)
        if (play * (mean_of(marks, parts[i + 1]) - mean_of(marks, parts[i])).norm() < width) return false;
    return true;
}

// The most cylinders the valves fall into along that direction.
Parts parts_along(const Marks& marks, std::vector<std::size_t> valves,
                  const std::map<std::size_t, std::size_t>& classes, const Vec2& way) {
    std::stable_sort(valves.begin(), valves.end(), [&](std::size_t a, std::size_t b) {
        return marks.marks[a].at.dot(way) < marks.marks[b].at.dot(way);
    });
    const std::size_t n = valves.size();
    for (std::size_t each = std::min<std::size_t>(2, n); each < n; ++each) {
        if (n % each != 0 || n / each > job::max_cylinders || each > most_in_cylinder) continue;
        Parts parts;
        for (std::size_t i = 0; i < n; i += each)
            parts.emplace_back(valves.begin() + static_cast<std::ptrdiff_t>(i),
                               valves.begin() + static_cast<std::ptrdiff_t>(i + each));
        if (like_parts(parts, classes) && fits(marks, parts)) return parts;
    }
    return {valves};
}

// The direction in which places lie furthest apart.
Vec2 long_way(const std::vector<Vec2>& places) {
    Vec2 mean = Vec2::Zero();
    for (const auto& p : places) mean += p / static_cast<double>(places.size());
    double xx = 0, xy = 0, yy = 0;
    for (const auto& p : places) {
        const Vec2 d = p - mean;
        xx += d.x() * d.x();
        xy += d.x() * d.y();
        yy += d.y() * d.y();
    }
    const double angle = 0.5 * std::atan2(2 * xy, xx - yy);
    return {std::cos(angle), std::sin(angle)};
}

// By the circles the valves stand in: of each valve the smallest that takes in another too.
std::vector<Cylinder> by_bores(const Marks& marks, const std::vector<std::size_t>& valves,
                               const std::map<std::size_t, std::size_t>& classes) {
    std::map<std::size_t, std::size_t> cylinder_of;
    std::vector<Cylinder> out;
    for (const auto& outline : marks.outlines) {
        Cylinder c;
        bool nested = false;
        for (const auto m : outline.within) {
            if (std::find(valves.begin(), valves.end(), m) == valves.end()) continue;
            if (cylinder_of.contains(m)) nested = true;
            c.valves.push_back(m);
        }
        if (nested || c.valves.size() < 2 || c.valves.size() > most_in_cylinder || !outline.ring.round())
            continue;
        for (const auto m : c.valves) cylinder_of[m] = out.size();
        c.centre = outline.ring.centre;
        c.bore = 2 * outline.ring.a;
        out.push_back(std::move(c));
    }
    Parts parts;
    for (const auto& c : out) parts.push_back(c.valves);
    if (out.empty() || cylinder_of.size() != valves.size() || !like_parts(parts, classes)) return {};
    // Of concentric circles the one the cylinder is bored to is not known: the largest that takes in no other
    // cylinder's valves.
    for (auto& c : out)
        for (const auto& outline : marks.outlines)
            if ((outline.ring.centre - c.centre).norm() < near_centre && outline.ring.round() &&
                std::all_of(valves.begin(), valves.end(), [&](std::size_t m) {
                    return (marks.marks[m].at - c.centre).norm() >= outline.ring.a ||
                           std::find(c.valves.begin(), c.valves.end(), m) != c.valves.end();
                }))
                c.bore = std::max(*c.bore, 2 * outline.ring.a);
    return out;
}

Layout arranged(const Marks& marks, const std::vector<std::size_t>& valves) {
    Layout out;
    const auto classes = classes_of(marks, valves);
    out.cylinders = by_bores(marks, valves, classes);
    out.by_bores = !out.cylinders.empty();
    if (!out.by_bores) {
        std::vector<Vec2> places, everything;
        for (const auto m : valves) places.push_back(marks.marks[m].at);
        for (const auto& mark : marks.marks) everything.push_back(mark.at);
        Parts best;
        for (const Vec2& way :
             {Vec2(Vec2::UnitX()), long_way(places), long_way(everything), Vec2(Vec2::UnitY())}) {
            auto parts = parts_along(marks, valves, classes, way);
            if (parts.size() > best.size()) best = std::move(parts);
        }
        for (auto& part : best) {
            Cylinder c;
            c.centre = mean_of(marks, part);
            c.valves = std::move(part);
            out.cylinders.push_back(std::move(c));
        }
    }
    out.row_shown = out.cylinders.size() > 1;
    if (out.row_shown) {
        std::vector<Vec2> centres;
        for (const auto& c : out.cylinders) centres.push_back(c.centre);
        Vec2 way = long_way(centres);
        constexpr double upright = 1e-6;
        if (way.x() < -upright || (std::abs(way.x()) <= upright && way.y() < 0)) way = -way;
        out.turn = std::atan2(way.y(), way.x());
        std::sort(out.cylinders.begin(), out.cylinders.end(), [&](const Cylinder& a, const Cylinder& b) {
            return a.centre.dot(way) < b.centre.dot(way);
        });
    }
    return out;
}

// Marks that stand in the middle of the others of each cylinder: an injector or plug, no valve.
std::vector<std::size_t> middles(const Marks& marks, const Layout& layout) {
    constexpr double near_middle = 0.25;
    std::vector<std::size_t> out;
    for (const auto& c : layout.cylinders) {
        if (c.valves.size() < 3) return {};
        std::optional<std::size_t> middle;
        for (const auto m : c.valves) {
            auto others = c.valves;
            others.erase(std::find(others.begin(), others.end(), m));
            const Vec2 mean = mean_of(marks, others);
            double away = 0;
            for (const auto o : others)
                away += (marks.marks[o].at - mean).norm() / static_cast<double>(others.size());
            // Of two others the third stands between them only if it is small.
            if ((marks.marks[m].at - mean).norm() < near_middle * away) middle = m;
        }
        if (!middle) return {};
        out.push_back(*middle);
    }
    return out;
}

}  // namespace

bool names_a_valve(const std::string& name) {
    return name == "valve" || name == job::kind_word(job::Kind::intake) ||
           name == job::kind_word(job::Kind::exhaust);
}

std::optional<double> guide_bore(const Marks& marks, std::size_t m) {
    std::optional<double> out;
    if (marks.marks[m].rings.size() > 1) out = marks.marks[m].smallest();
    for (const auto& s : marks.shifted[m]) out = std::min(out.value_or(2 * s.bore.a), 2 * s.bore.a);
    return out;
}

std::optional<Layout> layout_of(const Marks& marks, const std::vector<std::string>& names) {
    std::vector<std::size_t> sure, weak, named;
    for (std::size_t m = 0; m < marks.marks.size(); ++m) {
        const auto& name = names[marks.marks[m].group];
        if (!name.empty()) {
            if (names_a_valve(name)) named.push_back(m);
            continue;
        }
        const auto bore = guide_bore(marks, m);
        const double seat = seat_of(marks, m);
        if (!bore || *bore < least_guide || *bore > largest_guide || seat < least_seat || seat > largest_seat)
            continue;
        if (seat >= surely_larger * *bore) sure.push_back(m);
        if (seat >= perhaps_larger * *bore) weak.push_back(m);
    }
    auto valves = named.empty() ? (sure.empty() ? weak : sure) : named;
    if (valves.empty() || valves.size() > job::max_valves) return std::nullopt;
    auto out = arranged(marks, valves);
    if (const auto middle = middles(marks, out); named.empty() && !middle.empty()) {
        std::erase_if(valves, [&](std::size_t m) {
            return std::find(middle.begin(), middle.end(), m) != middle.end();
        });
        out = arranged(marks, valves);
    }
    out.takes_in_weak = named.empty() && sure.empty();
    return out;
}

}  // namespace seatwright::drawing
