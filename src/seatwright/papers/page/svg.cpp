#include "seatwright/papers/page/svg.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>

#include "seatwright/base/append.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::papers {

namespace {

// A thousandth of a millimetre on paper is finer than any printer; fixed digits keep the bytes repeatable.
std::string num_exactly(double v) {
    std::string s = fmt::format("{:.3f}", v);
    s.erase(s.find_last_not_of('0') + 1);
    if (s.back() == '.') s.pop_back();
    return s == "-0" ? "0" : s;
}

// The same; nearly all numbers are rounded in whole thousandths, those that lie between two are looked at
// exactly.
std::string num(double v) {
    require(std::isfinite(v), "a drawing coordinate is not finite");
    constexpr double largest = 1e9, between = 1e-3;
    const double thousandths = std::abs(v) * 1000;
    const double whole = std::floor(thousandths);
    if (!(thousandths < largest) || std::abs(thousandths - whole - 0.5) < between) return num_exactly(v);
    const auto rounded = static_cast<long>(whole) + (thousandths - whole > 0.5 ? 1 : 0);
    if (rounded == 0) return "0";
    std::array<char, 24> digits{};
    char* end = digits.data();
    if (v < 0) *end++ = '-';
    end = std::to_chars(end, digits.data() + digits.size(), rounded / 1000).ptr;
    if (long part = rounded % 1000; part != 0) {
        *end++ = '.';
        for (long place = 100; part != 0; part %= place, place /= 10)
            *end++ = static_cast<char>('0' + part / place);
    }
    return {digits.data(), end};
}

std::string escaped(std::string_view words) {
    std::string out;
    out.reserve(words.size());
    for (const char c : words) switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20) out += c;
        }
    return out;
}

std::string_view ink_name(Ink ink) {
    switch (ink) {
        case Ink::line:
            return "line";
        case Ink::faint:
            return "faint";
        case Ink::touch:
            return "touch";
        case Ink::warn:
            return "warn";
        case Ink::paper:
            return "paper";
    }
    return "line";
}

std::string stroke_of(const Stroke& s) {
    std::string out = fmt::format(R"( class="s-{}" stroke-width="{}")", ink_name(s.ink), num(s.width));
    if (!s.dash.empty()) out += fmt::format(R"( stroke-dasharray="{}")", s.dash);
    return out;
}

std::string point_list(const std::vector<Vec2>& points) {
    std::string out;
    for (const auto& p : points) out += num(p.x()) + "," + num(p.y()) + " ";
    if (!out.empty()) out.pop_back();
    return out;
}

// Contrast on paper white: line 12.6:1, touch 7.6:1, warn 6.1:1 (WCAG 2.2 formula, computed).
constexpr std::string_view style_sheet =
    ".s-line{stroke:#33383d}.s-faint{stroke:#a9aeb3}.s-touch{stroke:#1d4e89}.s-warn{stroke:#a63d1c}"
    ".s-paper{stroke:#fdfcf8}"
    ".f-line{fill:#33383d}.f-faint{fill:#a9aeb3}.f-touch{fill:#1d4e89}.f-warn{fill:#a63d1c}"
    ".f-paper{fill:#fdfcf8}"
    ".t-line{fill:#33383d}.t-faint{fill:#6b7177}.t-touch{fill:#1d4e89}.t-warn{fill:#a63d1c}"
    ".t-paper{fill:#fdfcf8}"
    "text{font-family:'DejaVu Sans',sans-serif}"
    "line,polyline,circle,ellipse,rect{fill:none;stroke-linecap:round;stroke-linejoin:round}";

}  // namespace

Drawing::Drawing(double width, double height, std::string_view title, std::string_view description)
    : width_(width), height_(height), title_(title), description_(description) {}

void Drawing::line(Vec2 a, Vec2 b, Stroke stroke) {
    append(body_, R"(<line x1="{}" y1="{}" x2="{}" y2="{}"{}/>)", num(a.x()), num(a.y()), num(b.x()),
           num(b.y()), stroke_of(stroke));
    body_ += '\n';
}

void Drawing::polyline(const std::vector<Vec2>& points, Stroke stroke, bool closed) {
    if (points.empty()) return;
    std::vector<Vec2> run = points;
    if (closed) run.push_back(points.front());
    append(body_, R"(<polyline points="{}"{}/>)", point_list(run), stroke_of(stroke));
    body_ += '\n';
}

void Drawing::polygon(const std::vector<Vec2>& points, Ink fill, double opacity, Stroke stroke) {
    if (points.empty()) return;
    append(body_, R"(<polygon points="{}" class="f-{}" fill-opacity="{}"/>)", point_list(points),
           ink_name(fill), num(opacity));
    body_ += '\n';
    if (stroke.width > 0) polyline(points, stroke, true);
}

void Drawing::circle(Vec2 centre, double radius, Stroke stroke) {
    append(body_, R"(<circle cx="{}" cy="{}" r="{}"{}/>)", num(centre.x()), num(centre.y()), num(radius),
           stroke_of(stroke));
    body_ += '\n';
}

void Drawing::disc(Vec2 centre, double radius, Ink fill, double opacity) {
    append(
        body_,
        R"(<path d="M{x},{y} a{r},{r} 0 1 0 {d},0 a{r},{r} 0 1 0 -{d},0" class="f-{f}" fill-opacity="{o}"/>)",
        fmt::arg("x", num(centre.x() - radius)), fmt::arg("y", num(centre.y())), fmt::arg("r", num(radius)),
        fmt::arg("d", num(2 * radius)), fmt::arg("o", num(opacity)), fmt::arg("f", ink_name(fill)));
    body_ += '\n';
}

void Drawing::ellipse(Vec2 centre, double a, double b, double turn, Stroke stroke) {
    append(body_, R"svg(<ellipse rx="{}" ry="{}" transform="translate({} {}) rotate({})"{}/>)svg", num(a),
           num(b), num(centre.x()), num(centre.y()), num(deg(turn)), stroke_of(stroke));
    body_ += '\n';
}

void Drawing::rect(Vec2 corner, double width, double height, Stroke stroke) {
    append(body_, R"(<rect x="{}" y="{}" width="{}" height="{}"{}/>)", num(corner.x()), num(corner.y()),
           num(width), num(height), stroke_of(stroke));
    body_ += '\n';
}

void Drawing::text(Vec2 at, std::string_view words, double size, Anchor anchor, Ink ink, bool bold,
                   double turn_deg) {
    const char* align = anchor == Anchor::start ? "start" : anchor == Anchor::middle ? "middle" : "end";
    std::string place = fmt::format(R"(x="{}" y="{}")", num(at.x()), num(at.y()));
    if (turn_deg != 0)
        place +=
            fmt::format(R"svg( transform="rotate({} {} {})")svg", num(turn_deg), num(at.x()), num(at.y()));
    append(body_, R"(<text {} font-size="{}" text-anchor="{}" class="t-{}"{}>{}</text>)", place, num(size),
           align, ink_name(ink), bold ? R"( font-weight="bold")" : "", escaped(words));
    body_ += '\n';
}

void Drawing::dimension(Vec2 a, Vec2 b, double offset, std::string_view words, double size) {
    const Vec2 along = b - a;
    if (along.norm() <= 0) return;
    const Vec2 unit = along.normalized();
    // Left of a→b as seen on paper, where y points down.
    const Vec2 left(unit.y(), -unit.x());
    const Vec2 shift = left * offset;
    const double sign = offset < 0 ? -1 : 1;
    const Vec2 a1 = a + shift, b1 = b + shift;
    const Stroke fine{Ink::line, 0.15, {}};
    const double over = 1.2, gap = 0.8;
    line(a + left * (sign * gap), a1 + left * (sign * over), fine);
    line(b + left * (sign * gap), b1 + left * (sign * over), fine);
    line(a1, b1, fine);
    // Slanted ticks, as on an architect's sheet: legible at any size.
    const Vec2 tick = (unit + left).normalized() * 1.1;
    line(a1 - tick, a1 + tick, {Ink::line, 0.3, {}});
    line(b1 - tick, b1 + tick, {Ink::line, 0.3, {}});
    double turn = deg(std::atan2(unit.y(), unit.x()));
    Vec2 up = left;
    if (turn > 89.999 || turn < -90.001) {
        turn += turn > 0 ? -180 : 180;
        up = -left;
    }
    // Words outside the ticks when the line is too short for them.
    const double words_length = 0.6 * size * static_cast<double>(words.size());
    const Vec2 middle = (a1 + b1) / 2 + up * 0.9;
    if (words_length > along.norm() - 1) {
        const Vec2 beside = b1 + unit * 2.2 + up * 0.9;
        const bool flipped = up != left;
        text(beside, words, size, flipped ? Anchor::end : Anchor::start, Ink::line, false, turn);
        line(b1, b1 + unit * 2.0, fine);
    } else {
        text(middle, words, size, Anchor::middle, Ink::line, false, turn);
    }
}

void Drawing::leader(Vec2 from, Vec2 to, std::string_view words, double size) {
    const Stroke fine{Ink::line, 0.15, {}};
    const bool right = to.x() >= from.x();
    const Vec2 shelf(to.x() + (right ? 2.0 : -2.0), to.y());
    line(from, to, fine);
    line(to, shelf, fine);
    disc(from, 0.45, Ink::line);
    text(Vec2(shelf.x() + (right ? 0.8 : -0.8), shelf.y() + size * 0.35), words, size,
         right ? Anchor::start : Anchor::end);
}

void Drawing::begin_group(std::string_view id, std::string_view data_name) {
    append(body_, R"(<g id="{}")", escaped(id));
    if (!data_name.empty()) append(body_, R"( data-name="{}")", escaped(data_name));
    body_ += ">\n";
    ++open_groups_;
}

void Drawing::end_group() {
    require(open_groups_ > 0, "end_group without begin_group");
    body_ += "</g>\n";
    --open_groups_;
}

void Drawing::place(const Drawing& other, Vec2 at, double scale) {
    require(other.open_groups_ == 0, "placing a drawing with an open group");
    append(body_, "<g transform=\"translate({} {}) scale({})\">\n", num(at.x()), num(at.y()),
           fmt::format("{:.6g}", scale));
    body_ += other.body_ + "</g>\n";
}

std::string Drawing::document() const {
    return fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
        "role=\"img\">\n<title>{2}</title>\n<desc>{3}</desc>\n<style>{4}</style>\n{5}</svg>\n",
        num(width_), num(height_), escaped(title_), escaped(description_), style_sheet, body_);
}

std::string Drawing::embedded() const {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" role=\"img\" "
        "class=\"drawing\">\n<title>{2}</title>\n<desc>{3}</desc>\n{4}</svg>\n",
        num(width_), num(height_), escaped(title_), escaped(description_), body_);
}

}  // namespace seatwright::papers
