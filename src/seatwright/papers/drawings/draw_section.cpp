#include "seatwright/papers/drawings/draw_section.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/shape/section.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double label_size = 2.8;
constexpr double small_text = 2.4;
constexpr double metal_tone = 0.25;
constexpr double title_room = 9, below_section = 17, beside_section = 3;  // mm of paper

// Seat coordinates (r, z) to paper, one scale both ways.
struct FormView {
    double r0 = 0, z0 = 0;  // at the lower left corner
    double scale = 1;
    Vec2 corner = Vec2::Zero();
    Vec2 at(const Vec2& p) const {
        return {corner.x() + (p.x() - r0) * scale, corner.y() - (p.y() - z0) * scale};
    }
    std::vector<Vec2> at(const std::vector<Vec2>& all) const {
        std::vector<Vec2> out;
        out.reserve(all.size());
        for (const auto& p : all) out.push_back(at(p));
        return out;
    }
};

struct FormExtent {
    Vec2 low = Vec2::Constant(1e9), high = Vec2::Constant(-1e9);
    void add(const Vec2& p) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
};

FormView fit(const FormExtent& e, const SectionStyle& style) {
    FormView view;
    const double width = style.width - 2 * beside_section, height = style.height - title_room - below_section;
    const Vec2 size = e.high - e.low;
    view.scale = std::min(width / std::max(size.x(), 1e-3), height / std::max(size.y(), 1e-3));
    view.r0 = e.low.x() - (width / view.scale - size.x()) / 2;
    view.z0 = e.low.y();
    view.corner = {beside_section, style.height - below_section};
    return view;
}

std::vector<Vec2> lowered(std::vector<Vec2> points, double by) {
    for (auto& p : points) p.y() -= by;
    return points;
}

double facet_angle(const Vec2& a, const Vec2& b) {
    return std::atan2(b.y() - a.y(), b.x() - a.x());
}

// Angle and width of every facet, in a column right of the form.
void label_facets(Drawing& d, const FormView& view, const std::vector<Vec2>& form, std::size_t face,
                  LengthUnit unit) {
    const double column = view.at(form.back()).x() + 4;
    for (std::size_t i = 0; i + 1 < form.size(); ++i) {
        const Vec2 from = view.at(Vec2((form[i] + form[i + 1]) / 2));
        const Vec2 to(column, from.y() + 1.8);
        const auto words = fmt::format("{}° × {}", angle(facet_angle(form[i], form[i + 1]), 1),
                                       length((form[i + 1] - form[i]).norm(), unit));
        d.line(from, to, {Ink::line, 0.12, {}});
        d.disc(from, 0.4, Ink::line);
        d.text(to + Vec2(0.8, label_size * 0.35), words, label_size, Anchor::start, Ink::line, i == face);
    }
}

// Witness lines from every corner down to two rows of diameters below the drawing.
void label_diameters(Drawing& d, const FormView& view, const std::vector<Vec2>& form,
                     const SectionStyle& style) {
    const double first = style.height - below_section + 5;
    double last_x[2] = {-1e9, -1e9};
    for (std::size_t i = 0; i < form.size(); ++i) {
        const Vec2 p = view.at(form[i]);
        const auto words = "Ø " + length(2 * form[i].x(), style.unit);
        const double room = 0.62 * small_text * static_cast<double>(words.size()) / 2;
        // In the row that moves it least from under its corner; further right where both are taken.
        const auto clear_in = [&](int row) { return std::max(p.x(), last_x[row] + room + 0.8); };
        const int row = clear_in(0) <= clear_in(1) ? 0 : 1;
        const double y = first + row * 4.0;
        const double x = std::clamp(clear_in(row), room + 0.5, style.width - room - 0.5);
        d.line(p + Vec2(0, 0.8), Vec2(p.x(), first - small_text), {Ink::faint, 0.15, "1 0.8"});
        d.line(Vec2(p.x(), first - small_text), Vec2(x, y - small_text), {Ink::faint, 0.15, "1 0.8"});
        d.text(Vec2(x, y), words, small_text, Anchor::middle);
        last_x[row] = x + room;
    }
}

// Rise of every facet on a line of its own at x, with faint lines from the corners.
void label_heights(Drawing& d, const FormView& view, const std::vector<Vec2>& form, double x,
                   LengthUnit unit) {
    for (std::size_t i = 0; i < form.size(); ++i) {
        const Vec2 p = view.at(form[i]);
        d.line(p + Vec2(1, 0), {x + 1.2, p.y()}, {Ink::faint, 0.15, "1 0.8"});
        d.line({x - 0.8, p.y() + 0.8}, {x + 0.8, p.y() - 0.8}, {Ink::line, 0.3, {}});
        if (i + 1 == form.size()) break;
        const Vec2 q = view.at(form[i + 1]);
        d.line({x, p.y()}, {x, q.y()}, {Ink::line, 0.15, {}});
        d.text({x + 1.6, (p.y() + q.y()) / 2 + small_text * 0.35},
               length(form[i + 1].y() - form[i].y(), unit), small_text);
    }
}

void draw_legend(Drawing& d, const SectionStyle& style, bool worn, bool ring) {
    double x = beside_section;
    const double y = style.height - 2.5;
    const auto entry = [&](const char* words, Stroke stroke) {
        d.line({x, y - 0.9}, {x + 6, y - 0.9}, stroke);
        d.text({x + 7.2, y}, words, small_text);
        x += 9 + 0.6 * small_text * static_cast<double>(std::string_view(words).size()) + 3;
    };
    entry("new seat", {Ink::touch, 0.6, {}});
    if (worn) entry("worn, as measured", {Ink::warn, 0.4, "1.6 0.9"});
    entry("valve", {Ink::line, 0.3, {}});
    if (ring) entry("insert", {Ink::line, 0.25, "3 1"});
}

// The valve's rim resting on the face: face cone, margin, and as much of head and neck as the view holds.
std::vector<Vec2> valve_outline(const job::ValveForm& valve, const shape::Section& section, double sunk,
                                double inner) {
    const double face = valve.face_angle.value_or(std::atan2(1, 1));
    const bool inside = section.contact == shape::ContactStart::inner_edge;
    const Vec2 touch = section.points[section.face + (inside ? 0 : 1)] - Vec2(0, sunk);
    const double slope = std::tan(face), rim = valve.head_diameter / 2;
    const Vec2 edge(rim, touch.y() + (rim - touch.x()) * slope);
    const double face_width = 2 * (section.points[section.face + 1] - section.points[section.face]).x();
    const Vec2 neck(touch.x() - face_width, touch.y() - face_width * slope);
    const double margin = valve.margin.value_or(1);
    const double steep = std::tan(rad(72));
    const Vec2 tulip(std::max(inner, neck.x() - 0.8),
                     neck.y() - (neck.x() - std::max(inner, neck.x() - 0.8)) * steep);
    return {tulip, neck, edge, edge + Vec2(0, margin), Vec2(inner, edge.y() + margin)};
}

void draw_metal(Drawing& d, const FormView& view, const std::vector<Vec2>& form, const FormExtent& e,
                const std::optional<job::Insert>& ring) {
    std::vector<Vec2> metal = form;
    const double bore = ring ? std::max(ring->inside / 2, e.low.x()) : form.front().x();
    metal.emplace_back(e.high.x(), form.back().y());
    metal.emplace_back(e.high.x(), e.low.y());
    metal.emplace_back(std::min(bore, form.front().x()), e.low.y());
    if (bore < form.front().x()) metal.emplace_back(bore, form.front().y());
    d.polygon(view.at(metal), Ink::faint, metal_tone, {Ink::faint, 0.1, {}});
}

void draw_ring(Drawing& d, const FormView& view, const job::Insert& ring, const std::vector<Vec2>& form,
               const FormExtent& e) {
    const double top = form.back().y(), bottom = std::max(e.low.y(), top - ring.depth);
    const Stroke stroke{Ink::line, 0.25, "3 1"};
    const double outside = std::min(ring.outside / 2, e.high.x());
    const double inside = std::clamp(ring.inside / 2, e.low.x(), outside);
    d.line(view.at(Vec2(outside, top)), view.at(Vec2(outside, bottom)), stroke);
    if (bottom > e.low.y()) d.line(view.at(Vec2(inside, bottom)), view.at(Vec2(outside, bottom)), stroke);
    d.line(view.at(Vec2(inside, std::min(top, form.front().y()))), view.at(Vec2(inside, bottom)), stroke);
}

std::vector<Vec2> within(const std::vector<Vec2>& worn, const FormExtent& e) {
    std::vector<Vec2> out;
    for (const auto& p : worn)
        if (e.low.x() <= p.x() && p.x() <= e.high.x() && e.low.y() <= p.y() && p.y() <= e.high.y())
            out.push_back(p);
    return out;
}

// The form facet by facet, each a group named as the job file counts them from the face: "throat0" is the
// first inward, "top0" the first outward.
void draw_facets(Drawing& d, const FormView& view, const std::vector<Vec2>& form, std::size_t face) {
    for (std::size_t i = 0; i + 1 < form.size(); ++i) {
        const std::string name = i < face    ? fmt::format("throat{}", face - 1 - i)
                                 : i == face ? "face"
                                             : fmt::format("top{}", i - face - 1);
        d.begin_group("facet-" + name, name);
        d.line(view.at(form[i]), view.at(form[i + 1]), {Ink::touch, 0.6, {}});
        d.end_group();
    }
}

// In a sentence, where "in in" would be read twice.
const char* unit_said(LengthUnit unit) {
    return unit == LengthUnit::inch ? "inch" : "mm";
}

std::string seat_depth_words(const shape::Seat& seat, LengthUnit unit) {
    switch (seat.decision) {
        case shape::Decision::insert:
            return "new insert";
        case shape::Decision::not_allowed:
            return "not to be cut";
        case shape::Decision::not_measured:
        case shape::Decision::below_finish:
            return shape::word_of(seat.decision);
        case shape::Decision::cut:
            break;
    }
    if (!seat.depth) return "no depth";
    return "depth " + length_with_unit(seat.depth, unit);
}

}  // namespace

Drawing draw_section(const job::Job& job, const shape::Seat& seat, const SectionStyle& style) {
    const job::Valve& valve = job.head.valves[seat.valve];
    const std::string title =
        fmt::format("Seat {} in section, {}", valve.id, seat_depth_words(seat, style.unit));
    Drawing d(style.width, style.height, title,
              "new seat, worn surface, valve and ring in section; radius to the right, spindle upwards");
    d.text({beside_section, 5.5}, title, 3.4, Anchor::start, Ink::line, true);
    d.text({style.width - beside_section, 5.5}, fmt::format("lengths in {}", unit_said(style.unit)),
           small_text, Anchor::end);
    if (seat.section.points.size() < 2 || !job.valve[valve.kind]) return d;
    const double sunk = seat.depth.value_or(0);
    const auto form = lowered(seat.section.points, sunk);
    const job::ValveForm& head = *job.valve[valve.kind];
    const auto& ring = job.seat[valve.kind]->insert;
    FormExtent e;
    for (const auto& p : form) e.add(p);
    const double air = 0.28 * (e.high - e.low).norm();
    const double contact_top = form[seat.section.face + 1].y();
    e.add(form.front() - Vec2(air, air));
    e.add(form.back() + Vec2(2.2 * air, 0));
    e.add({std::max(head.head_diameter / 2, form.back().x()), contact_top + head.margin.value_or(1) + air});
    if (ring && ring->outside / 2 < form.back().x() + 4 * air)
        e.add({ring->outside / 2 + air / 2, contact_top});
    const FormView view = fit(e, style);
    draw_metal(d, view, form, e, ring);
    if (ring) draw_ring(d, view, *ring, form, e);
    d.polyline(view.at(valve_outline(head, seat.section, sunk, e.low.x())), {Ink::line, 0.3, {}});
    const auto worn = within(seat.worn, e);
    if (worn.size() > 1) d.polyline(view.at(worn), {Ink::warn, 0.4, "1.6 0.9"});
    draw_facets(d, view, form, seat.section.face);
    const Vec2 gauge = view.at(Vec2(seat.section.gauge / 2, -sunk));
    d.circle(gauge, 0.9, {Ink::touch, 0.25, {}});
    d.text(gauge + Vec2(-1.6, -1.2), "gauge Ø " + length(seat.section.gauge, style.unit), small_text,
           Anchor::end, Ink::touch);
    label_diameters(d, view, form, style);
    label_facets(d, view, form, seat.section.face, style.unit);
    draw_legend(d, style, worn.size() > 1, ring.has_value());
    return d;
}

std::optional<Drawing> draw_form_to_order(const job::Job& job, job::Kind kind, const SectionStyle& style) {
    if (!job.valve[kind] || !job.seat[kind]) return std::nullopt;
    const shape::Section section = shape::section_of(*job.valve[kind], *job.seat[kind]);
    const auto& form = section.points;
    const char* word = job::kind_word(kind);
    const std::string title = fmt::format("Form to order, {} seats", word);
    Drawing d(style.width, style.height, title, "edge of the blade, dimensioned; radius to the right");
    d.text({beside_section, 5.5}, title, 3.4, Anchor::start, Ink::line, true);
    d.text({style.width - beside_section, 5.5},
           fmt::format("gauge Ø {}  contact Ø {}", length(section.gauge, style.unit),
                       length_with_unit(section.contact_od, style.unit)),
           label_size, Anchor::end);
    FormExtent e;
    for (const auto& p : form) e.add(p);
    const double air = 0.3 * (e.high - e.low).norm();
    e.add(form.front() - Vec2(air, 0.3 * air));
    e.add(form.back() + Vec2(2.6 * air, air));
    const FormView view = fit(e, style);
    std::vector<Vec2> body = form;
    body.emplace_back(form.back().x(), e.high.y());
    body.emplace_back(form.front().x(), e.high.y());
    d.polygon(view.at(body), Ink::faint, 0.25, {Ink::faint, 0.2, {}});
    d.polyline(view.at(form), {Ink::touch, 0.7, {}});
    const Vec2 gauge = view.at(Vec2(section.gauge / 2, 0));
    d.circle(gauge, 0.9, {Ink::touch, 0.25, {}});
    label_diameters(d, view, form, style);
    label_facets(d, view, form, section.face, style.unit);
    label_heights(d, view, form, view.at(form.back()).x() + 40, style.unit);
    d.text({beside_section, style.height - 4.4},
           fmt::format("lengths in {}; facet angles from the plane square to the axis, within 0.1°;",
                       unit_said(style.unit)),
           small_text);
    d.text({beside_section, style.height - 1.3}, "the outer and inner facets may be longer, the face may not",
           small_text);
    return d;
}

}  // namespace seatwright::papers
