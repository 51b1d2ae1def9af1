#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "seatwright/job/build.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

// Valves nearer than this in x stand at one x in head order; two valves nearer than this are one twice.
constexpr double same_place_mm = 1e-6;

struct HeadReader {
    const Source& source;
    const Value& head;
    Head out;
    Faults faults;

    void fault(int line, std::string key, std::string text) {
        faults.push_back(source.fault(line, std::move(key), std::move(text)));
    }
};

Kind kind_of(const Value& entry, Kind otherwise) {
    const auto text = entry.text_of("kind");
    if (!text) return otherwise;
    return *text == kind_word(Kind::exhaust) ? Kind::exhaust : Kind::intake;
}

// Letters of the valves of one cylinder in listed order: "I", or "Ia", "Ib" where there are several.
std::vector<std::string> pattern_letters(const std::vector<const Value*>& valves) {
    PerKind<int> count, seen;
    for (const Value* v : valves) ++count[kind_of(*v, Kind::intake)];
    std::vector<std::string> out;
    for (const Value* v : valves) {
        const Kind kind = kind_of(*v, Kind::intake);
        std::string letters = kind == Kind::intake ? "I" : "E";
        if (count[kind] > 1) letters += static_cast<char>('a' + seen[kind]++ % 26);
        out.push_back(letters);
    }
    return out;
}

void read_pattern(HeadReader& r) {
    const Value* pattern = r.head.table_of("pattern");
    if (!pattern) return;
    const auto valves = pattern->tables_of("valve");
    const auto cylinders = pattern->number_of("cylinders");
    const auto spacing = pattern->number_of("bore_spacing");
    if (pattern->has("valve") && valves.empty())
        r.fault(pattern->line_of("valve"), "head.pattern.valve",
                "lists no valve; a cylinder has at least one");
    if (!cylinders || valves.empty()) return;
    const int n = static_cast<int>(*cylinders);
    r.out.cylinders = n;
    r.out.bore_spacing = spacing;
    if (n > 1 && !pattern->has("bore_spacing"))
        r.fault(pattern->line, "head.pattern.bore_spacing",
                "is missing; wanted with more than one cylinder: the distance from cylinder to cylinder");
    if (valves.size() * static_cast<std::size_t>(n) > max_valves) {
        r.fault(pattern->line, "head.pattern",
                fmt::format("makes {} valves; a head has at most {}",
                            valves.size() * static_cast<std::size_t>(n), max_valves));
        return;
    }
    const auto letters = pattern_letters(valves);
    PerKind<int> count;
    for (const Value* v : valves) ++count[kind_of(*v, Kind::intake)];
    if (count.intake > 26 || count.exhaust > 26) {
        r.fault(pattern->line_of("valve"), "head.pattern.valve",
                "lists more than 26 valves of a kind for one cylinder; letters end at z");
        return;
    }
    const bool alternate = pattern->text_of("alternate") == "mirrored";
    for (int k = 1; k <= n; ++k) {
        const double sign = alternate && k % 2 == 0 ? -1.0 : 1.0;
        for (std::size_t i = 0; i < valves.size(); ++i) {
            const Value& v = *valves[i];
            Valve valve;
            valve.id = std::to_string(k) + letters[i];
            valve.cylinder = k;
            valve.kind = kind_of(v, Kind::intake);
            valve.seat = {(k - 1) * spacing.value_or(0) + sign * v.number_of("x").value_or(0),
                          v.number_of("y").value_or(0), v.number_of("z").value_or(0)};
            valve.incline = v.number_of("incline").value_or(0);
            valve.cant = sign * v.number_of("cant").value_or(0) + 0.0;
            valve.pattern = static_cast<int>(i);
            r.out.valves.push_back(valve);
        }
    }
}

int cylinder_from_id(const std::string& id) {
    int value = 0;
    for (std::size_t i = 0; i < id.size() && i < 3 && id[i] >= '0' && id[i] <= '9'; ++i)
        value = 10 * value + (id[i] - '0');
    return value >= 1 && value <= max_cylinders ? value : 1;
}

void read_explicit_valves(HeadReader& r) {
    std::set<std::string> seen;
    std::size_t index = 0;
    const auto entries = r.head.tables_of("valve");
    if (entries.size() > max_valves) {
        r.fault(entries[max_valves]->line, "head.valve",
                fmt::format("lists {} valves; a head has at most {}", entries.size(), max_valves));
        return;
    }
    for (const Value* v : entries) {
        const std::string path = fmt::format("head.valve[{}]", index++);
        const auto id = v->text_of("id");
        if (!id) continue;  // the table of keys has said so
        if (*id == "?") {
            r.fault(v->line_of("id"), path + ".id", "\"?\" means a valve that is not known; give it a name");
            continue;
        }
        if (!seen.insert(*id).second) {
            r.fault(v->line_of("id"), path + ".id",
                    fmt::format("\"{}\" is listed twice; ids are unique", *id));
            continue;
        }
        const auto at = r.out.index_of(*id);
        Valve valve;
        if (at) {
            valve = r.out.valves[*at];
        } else {
            for (const char* key : {"kind", "x"})
                if (!v->has(key))
                    r.fault(
                        v->line, path + "." + key,
                        fmt::format("is missing; \"{}\" is no valve of the pattern whose value it could keep",
                                    *id));
            valve.cylinder = cylinder_from_id(*id);
        }
        valve.id = *id;
        if (const auto c = v->number_of("cylinder")) valve.cylinder = static_cast<int>(*c);
        valve.kind = kind_of(*v, valve.kind);
        valve.seat.x() = v->number_of("x").value_or(valve.seat.x());
        valve.seat.y() = v->number_of("y").value_or(valve.seat.y());
        valve.seat.z() = v->number_of("z").value_or(valve.seat.z());
        valve.incline = v->number_of("incline").value_or(valve.incline);
        valve.cant = v->number_of("cant").value_or(valve.cant);
        if (v->has("z") || v->has("incline")) valve.pattern = -1;
        if (at) {
            r.out.valves[*at] = valve;
        } else {
            r.out.valves.push_back(valve);
        }
    }
    if (r.out.valves.size() > max_valves)
        r.fault(r.head.line, "head",
                fmt::format("has {} valves; at most {} are planned", r.out.valves.size(), max_valves));
}

void read_holes_and_obstacles(HeadReader& r) {
    if (const Value* holes = r.head.find("bolt_holes"))
        for (const auto& hole : holes->items)
            if (hole.items.size() == 2)
                r.out.bolt_holes.emplace_back(hole.items[0].number, hole.items[1].number);
    r.out.bolt_hole_diameter = r.head.number_of("bolt_hole_diameter");
    for (const Value* o : r.head.tables_of("obstacle"))
        r.out.obstacles.push_back({o->text_of("name").value_or("obstacle"),
                                   Vec3(o->number_of("x").value_or(0), o->number_of("y").value_or(0),
                                        o->number_of("z").value_or(0)),
                                   o->number_of("diameter").value_or(0), o->number_of("incline").value_or(0),
                                   o->number_of("cant").value_or(0), o->number_of("length")});
    const auto posts = r.head.numbers_of("posts");
    if (posts.size() != 2) return;
    const auto holes = static_cast<double>(r.out.bolt_holes.size());
    for (const double p : posts)
        if (p < 0 || p >= holes) {
            r.fault(r.head.line_of("posts"), "head.posts",
                    holes == 0
                        ? std::string("names bolt holes, but head.bolt_holes lists none")
                        : fmt::format("names hole {:.0f}; holes are counted 0 to {:.0f}", p, holes - 1));
            return;
        }
    if (posts[0] == posts[1]) {
        r.fault(r.head.line_of("posts"), "head.posts", "names one hole twice; two posts need two holes");
        return;
    }
    r.out.posts = {static_cast<std::size_t>(posts[0]), static_cast<std::size_t>(posts[1])};
}

void apply_mirror(Head& head) {
    if (head.mirror == Mirror::none) return;
    const int axis = head.mirror == Mirror::x ? 0 : 1;
    // Adding 0 turns a negative zero into a plain one.
    const auto turn = [](double& value) { value = -value + 0.0; };
    for (auto& v : head.valves) {
        turn(v.seat[axis]);
        turn(head.mirror == Mirror::x ? v.cant : v.incline);
    }
    for (auto& hole : head.bolt_holes) turn(hole[axis]);
    for (auto& o : head.obstacles) {
        turn(o.centre[axis]);
        turn(head.mirror == Mirror::x ? o.cant : o.incline);
    }
}

// Ascending x; those within same_place_mm of their neighbour stand at one x and go by y.
void into_head_order(std::vector<Valve>& valves) {
    std::stable_sort(valves.begin(), valves.end(),
                     [](const Valve& a, const Valve& b) { return a.seat.x() < b.seat.x(); });
    for (std::size_t first = 0; first < valves.size();) {
        std::size_t last = first + 1;
        while (last < valves.size() && valves[last].seat.x() - valves[last - 1].seat.x() <= same_place_mm)
            ++last;
        std::stable_sort(valves.begin() + static_cast<std::ptrdiff_t>(first),
                         valves.begin() + static_cast<std::ptrdiff_t>(last),
                         [](const Valve& a, const Valve& b) { return a.seat.y() < b.seat.y(); });
        first = last;
    }
}

void check_places(HeadReader& r) {
    const auto& valves = r.out.valves;
    for (std::size_t i = 0; i < valves.size(); ++i)
        for (std::size_t j = i + 1;
             j < valves.size() && valves[j].seat.x() - valves[i].seat.x() <= same_place_mm; ++j)
            if ((valves[i].seat - valves[j].seat).norm() <= same_place_mm)
                r.fault(r.head.line, "head",
                        fmt::format("has valves {} and {} at one place; give each its own x, y", valves[i].id,
                                    valves[j].id));
}

std::vector<std::string> texts_of(const Value& table, std::string_view key) {
    std::vector<std::string> out;
    if (const Value* list = table.find(key))
        for (const auto& item : list->items)
            if (item.holds == Value::Holds::text) out.push_back(item.text);
    return out;
}

}  // namespace

bool valves_in_doubt(const Faults& faults) {
    return std::any_of(faults.begin(), faults.end(), [](const Fault& f) {
        return f.key == "head" || f.key.starts_with("head.pattern") || f.key.starts_with("head.valve");
    });
}

Built<Head> build_head(const Source& source, const Faults& known) {
    const Value* head = source.root->table_of("head");
    if (!head) return {};  // the table of keys has said so
    HeadReader r{source, *head, {}, {}};
    r.out.name = head->text_of("name").value_or("");
    r.out.material = head->text_of("material").value_or("");
    r.out.mass = head->number_of("mass");
    r.out.layout = head->text_of("layout").value_or("");
    r.out.bore_diameter = head->number_of("bore_diameter");
    r.out.chamber_area = head->number_of("chamber_area");
    r.out.assumed = texts_of(*head, "assumed");
    r.out.surveyed = texts_of(*head, "surveyed");
    const auto mirror = head->text_of("mirror").value_or("none");
    r.out.mirror = mirror == "x" ? Mirror::x : mirror == "y" ? Mirror::y : Mirror::none;
    read_pattern(r);
    read_explicit_valves(r);
    read_holes_and_obstacles(r);
    if (!head->has("pattern") && !head->has("valve"))
        r.fault(head->line, "head", "has no valve; give [head.pattern] or [[head.valve]]");
    if (head->has("valve") && r.out.valves.empty() && r.faults.empty() && !head->has("pattern"))
        r.fault(head->line_of("valve"), "head.valve", "lists no valve; a head has at least one");
    apply_mirror(r.out);
    into_head_order(r.out.valves);
    const bool in_doubt = valves_in_doubt(known) || valves_in_doubt(r.faults);
    if (!in_doubt) check_places(r);
    if (const auto datum = head->text_of("datum")) {
        r.out.datum = *datum;
        if (!in_doubt && !r.out.index_of(*datum)) {
            r.fault(head->line_of("datum"), "head.datum", no_valve(r.out, *datum));
        }
    }
    return {std::move(r.out), std::move(r.faults)};
}

std::string valves_of(const Head& head) {
    constexpr std::size_t most = 12;
    std::string ids;
    for (std::size_t i = 0; i < std::min(most, head.valves.size()); ++i)
        ids += (i > 0 ? ", " : "") + head.valves[i].id;
    return head.valves.size() > most ? ids + ", …" : ids;
}

std::string no_valve(const Head& head, const std::string& id) {
    return fmt::format("\"{}\" is no valve of this head; its valves are {}", id, valves_of(head));
}

}  // namespace seatwright::job
