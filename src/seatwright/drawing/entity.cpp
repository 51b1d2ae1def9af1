#include "seatwright/drawing/entity.hpp"

#include <Eigen/Geometry>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

#include "seatwright/base/units.hpp"

namespace seatwright::drawing {
namespace {

// The groups of an entity that say one thing once; those that repeat are in `vertices`.
struct Fields {
    std::map<int, double> numbers;
    std::string layer = "0", name;
    bool in_paper = false, invisible = false;
    int line = 0;

    double of(int code, double otherwise = 0) const {
        const auto at = numbers.find(code);
        return at == numbers.end() ? otherwise : at->second;
    }
    Vec3 point(int code, double z = 0) const { return {of(code), of(code + 10), of(code + 20, z)}; }
    // A file of text may write any number where a whole one is meant.
    int whole(int code, int otherwise = 0) const {
        constexpr double largest = 1e6;
        return static_cast<int>(std::clamp(of(code, otherwise), -largest, largest));
    }
    int flags() const { return whole(70); }
};

struct Vertex {
    Vec2 at = Vec2::Zero();
    double bulge = 0;
};

int entity_line(const Groups& groups) {
    const auto place = groups.place();
    int line = 0;
    if (place.starts_with("line ")) std::from_chars(place.data() + 5, place.data() + place.size(), line);
    return line;
}

// All groups up to the next entity. `vertices`: of a lightweight polyline, a vertex from each code 10.
Fields fields_of(Groups& groups, std::vector<Vertex>* vertices = nullptr) {
    Fields out;
    out.line = entity_line(groups);
    while (const auto g = groups.next()) {
        if (g->code == 0) {
            groups.back();
            break;
        }
        if (g->code >= 1000) continue;  // extended data of other programs
        if (g->code == 8) {
            out.layer = name_of(g->text);
        } else if (g->code == 2) {
            out.name = name_of(g->text);
        } else if (g->code == 67) {
            out.in_paper = g->number != 0;
        } else if (g->code == 60) {
            out.invisible = g->number != 0;
        } else if (vertices && g->code == 10) {
            vertices->push_back({{g->number, 0}, 0});
        } else if (vertices && g->code == 20 && !vertices->empty()) {
            vertices->back().at.y() = g->number;
        } else if (vertices && g->code == 42 && !vertices->empty()) {
            vertices->back().bulge = g->number;
        } else if (holds(g->code) == Holds::real || holds(g->code) == Holds::whole) {
            out.numbers.emplace(g->code, g->number);  // the first counts
        }
    }
    return out;
}

Mat3 plane_of(const Fields& f) {
    return own_plane({f.of(210), f.of(220), f.of(230, 1)});
}

Curve circle(const Fields& f, const Mat3& plane, const Vec3& centre, double radius) {
    return {plane * centre, plane.col(0) * radius, plane.col(1) * radius, f.layer, f.line};
}

void add_bulges(const Fields& f, const std::vector<Vertex>& vertices, bool closed, double elevation,
                std::vector<Piece>& pieces) {
    const Mat3 plane = plane_of(f);
    for (std::size_t i = 0; i < vertices.size(); ++i) {
        if (i + 1 == vertices.size() && !closed) break;
        Arc arc;
        if (!arc_of(vertices[i].at, vertices[(i + 1) % vertices.size()].at, vertices[i].bulge, arc)) continue;
        pieces.push_back(
            {circle(f, plane, {arc.centre.x(), arc.centre.y(), elevation}, arc.radius), arc.from, arc.to});
    }
}

// Where an arc ends that begins at `from`: on from there, a turn at most, however its angles were counted.
double end_of(double from, double to) {
    const double turn = 2 * pi, round = std::fmod(to - from, turn);
    return from + (to > from ? std::min(to - from, turn) : round + turn);
}

// Angles of more turns than a double tells apart are none.
bool told_apart(double from, double to) {
    constexpr double most = 1e6;
    return std::abs(from) < most && std::abs(to) < most;
}

void read_arc(const Fields& f, Gathered& into) {
    const double from = rad(f.of(50)), to = rad(f.of(51));
    if (!told_apart(from, to)) return;
    into.pieces.push_back({circle(f, plane_of(f), f.point(10), f.of(40)), from, end_of(from, to)});
}

void read_ellipse(const Fields& f, Gathered& into) {
    const Vec3 major = f.point(11), normal = plane_of(f).col(2);
    const double ratio = f.of(40, 1);
    if (!(major.norm() > 0) || !(std::abs(ratio) > 0)) return;
    const double from = f.of(41, 0), to = f.of(42, 2 * pi);
    if (!told_apart(from, to)) return;
    // In space, not in a plane of its own.
    const Vec3 minor = normal.cross(major) * ratio;
    into.pieces.push_back({{f.point(10), major, minor, f.layer, f.line}, from, end_of(from, to)});
}

void read_insert(const Fields& f, Gathered& into) {
    Insert in;
    in.block = f.name;
    in.layer = f.layer;
    in.plane = plane_of(f);
    in.at = f.point(10);
    in.scale = {f.of(41, 1), f.of(42, 1), f.of(43, 1)};
    in.turn = rad(f.of(50));
    in.columns = std::max(1, f.whole(70, 1));
    in.rows = std::max(1, f.whole(71, 1));
    in.column_step = f.of(44);
    in.row_step = f.of(45);
    in.line = f.line;
    into.block.inserts.push_back(std::move(in));
}

// The vertices behind a polyline, up to their end.
std::vector<Vertex> vertices_behind(Groups& groups) {
    constexpr int of_the_frame = 16;
    std::vector<Vertex> out;
    while (const auto g = groups.next()) {
        if (g->code != 0 || (g->text != "VERTEX" && g->text != "SEQEND")) {
            groups.back();
            break;
        }
        const bool end = g->text == "SEQEND";
        const Fields f = fields_of(groups);
        if (end) break;
        if ((f.flags() & of_the_frame) == 0) out.push_back({{f.of(10), f.of(20)}, f.of(42)});
    }
    return out;
}

bool shown(const Fields& f, Sheet& sheet) {
    if (f.in_paper) ++sheet.in_paper;
    if (!f.in_paper && f.invisible) ++sheet.invisible;
    return !f.in_paper && !f.invisible;
}

}  // namespace

void read_entity(Groups& groups, std::string_view kind, Gathered& into, Sheet& sheet) {
    constexpr int closed = 1, in_space = 8, mesh = 16, faces = 64;
    if (kind == "LWPOLYLINE") {
        std::vector<Vertex> vertices;
        const Fields f = fields_of(groups, &vertices);
        if (shown(f, sheet)) add_bulges(f, vertices, (f.flags() & closed) != 0, f.of(38), into.pieces);
        return;
    }
    const Fields f = fields_of(groups);
    if (kind == "POLYLINE") {
        const auto vertices = vertices_behind(groups);
        if (shown(f, sheet) && (f.flags() & (in_space | mesh | faces)) == 0)
            add_bulges(f, vertices, (f.flags() & closed) != 0, f.of(30), into.pieces);
        return;
    }
    if (kind == "SEQEND" || kind == "ATTRIB") return;  // behind an insert
    if (!shown(f, sheet)) return;
    if (kind == "CIRCLE") {
        const double radius = std::abs(f.of(40));
        if (radius > 0) into.block.curves.push_back(circle(f, plane_of(f), f.point(10), radius));
    } else if (kind == "ARC") {
        read_arc(f, into);
    } else if (kind == "ELLIPSE") {
        read_ellipse(f, into);
    } else if (kind == "INSERT") {
        read_insert(f, into);
    } else {
        ++sheet.not_read[name_of(kind)];
    }
}

std::string name_of(std::string_view text) {
    const auto put = [](std::string& out, unsigned point) {
        if (point >= 0xd800 && point <= 0xdfff) point = 0xfffd;
        if (point < 0x80) {
            out += static_cast<char>(point < 0x20 || point == 0x7f ? ' ' : point);
        } else if (point < 0x800) {
            out += static_cast<char>(0xc0 | point >> 6);
            out += static_cast<char>(0x80 | (point & 0x3f));
        } else {
            out += static_cast<char>(0xe0 | point >> 12);
            out += static_cast<char>(0x80 | (point >> 6 & 0x3f));
            out += static_cast<char>(0x80 | (point & 0x3f));
        }
    };
    // Continuation bytes a UTF-8 letter of two to four bytes has behind its first.
    const auto behind = [&](std::size_t i) -> std::size_t {
        const auto c = static_cast<unsigned char>(text[i]);
        const std::size_t n = c >= 0xf1 && c <= 0xf3   ? 3
                              : c >= 0xe1 && c <= 0xec ? 2
                              : c >= 0xc2 && c <= 0xdf ? 1
                                                       : 0;
        for (std::size_t k = 1; k <= n; ++k)
            if (i + k >= text.size() || (static_cast<unsigned char>(text[i + k]) & 0xc0) != 0x80) return 0;
        return n;
    };
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        unsigned point = 0;
        if (text.substr(i, 3) == "\\U+" && i + 7 <= text.size() &&
            std::from_chars(text.data() + i + 3, text.data() + i + 7, point, 16).ptr == text.data() + i + 7) {
            put(out, point);
            i += 6;
        } else if (static_cast<unsigned char>(text[i]) < 0x80) {
            put(out, static_cast<unsigned char>(text[i]));
        } else if (const auto n = behind(i); n > 0) {
            out += text.substr(i, n + 1);
            i += n;
        } else {
            put(out, static_cast<unsigned char>(text[i]));
        }
    }
    return out;
}

}  // namespace seatwright::drawing
