#include "seatwright/drawing/drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "seatwright/drawing/holes.hpp"
#include "seatwright/drawing/layout.hpp"
#include "seatwright/drawing/leans.hpp"
#include "seatwright/drawing/marks.hpp"
#include "seatwright/drawing/plan_view.hpp"
#include "seatwright/drawing/told.hpp"

namespace seatwright::drawing {
namespace {

// A head along its row, mm: what a small single and a large row of cylinders measure, with room (from
// memory).
constexpr double shortest_head = 25, longest_head = 6000;

tl::unexpected<Faults> no(const std::string& file, std::string text) {
    return tl::unexpected(Faults{{file, 0, "", std::move(text)}});
}

struct Unit {
    double mm = 0;
    std::string name;
    bool inches = false;
    bool against = false;  // the drawing says another
};

Checked<Unit> unit_of(const Sheet& sheet, const Told& told, const std::string& file) {
    if (told.units) {
        const bool inch = *told.units == LengthUnit::inch;
        const double said = mm_of_unit(sheet.unit);
        return Unit{inch ? mm_per_inch : 1, inch ? "inches" : "millimetres", inch,
                    sheet.unit != 0 && said != (inch ? mm_per_inch : 1)};
    }
    if (sheet.unit == 0)
        return no(file,
                  fmt::format("does not say its unit ($INSUNITS is {}){}; say whether it is mm or inches",
                              "0 or missing",
                              !sheet.metric   ? ""
                              : *sheet.metric ? ", though it was drawn with metric settings"
                                              : ", though it was drawn with inch settings"));
    const double mm = mm_of_unit(sheet.unit);
    if (mm == 0)
        return no(file,
                  fmt::format("says that its unit is number {} ($INSUNITS), in which no head is drawn; say "
                              "whether it is mm or inches",
                              sheet.unit));
    return Unit{mm, name_of_unit(sheet.unit), std::abs(mm - mm_per_inch) < 1e-9, false};
}

// What was looked at, where nothing was found.
std::string looked_at(const Sheet& sheet, const View& view) {
    std::string out;
    const auto add = [&](std::size_t n, const char* what) {
        if (n > 0) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", n, what);
    };
    add(view.rings.size(), "circles");
    add(view.hidden, "on layers that are frozen or off");
    add(sheet.in_paper, "entities in paper space");
    add(view.elsewhere, "blocks that are in other files or missing");
    add(view.edge_on, "circles seen edge on");
    std::size_t rest = 0;
    for (const auto& [kind, n] : sheet.not_read) rest += n;
    add(rest, "entities of other kinds");
    return out.empty() ? "nothing is drawn in it" : "in it: " + out;
}

double length_of(const View& view) {
    Vec2 low = Vec2::Constant(1e300), high = -low;
    for (const auto& ring : view.rings) {
        low = low.cwiseMin(ring.centre - Vec2::Constant(ring.a));
        high = high.cwiseMax(ring.centre + Vec2::Constant(ring.a));
    }
    return (high - low).maxCoeff();
}

// Of heads drawn in another unit: the one in which it would be a head.
std::string other_unit(double length, double mm) {
    std::string out;
    for (const auto& [size, words] : {std::pair{1.0, "millimetres"}, std::pair{mm_per_inch, "inches"}}) {
        const double then = length / mm * size;
        if (size != mm && then > shortest_head && then < longest_head)
            out += fmt::format("; in {0} it would be {1:.0f} mm: say that it is in {0}", words, then);
    }
    return out;
}

struct Frame {
    bool from_above = false;
    Mat2 turn = Mat2::Identity();
    Vec2 origin = Vec2::Zero();  // after turning
    Vec2 way(Vec2 d) const {
        if (from_above) d.y() = -d.y();
        return turn * d;
    }
    Vec2 at(const Vec2& p) const { return way(p) - origin; }
};

class Maker {
  public:
    Maker(const Sheet& sheet, const View& view, const Marks& marks, const Layout& layout, const Told& told,
          Drawing& out)
        : sheet_(sheet), view_(view), marks_(marks), layout_(layout), told_(told), out_(out) {}

    void make(const std::vector<std::string>& names, const std::vector<std::string>& hints) {
        frame();
        std::vector<Vec2> at, cylinders;
        for (const auto& mark : marks_.marks) at.push_back(frame_.at(mark.at));
        for (const auto& c : layout_.cylinders) cylinders.push_back(frame_.at(c.centre));
        holes_ = holes_of(marks_, layout_, at, cylinders, names, hints);
        kinds_ = kinds_of(marks_, layout_, names);
        deck();
        valves(at);
        holes(at);
        if (layout_.by_bores) out_.bore_diameter = *layout_.cylinders.front().bore;
    }

    const Holes& holes() const { return holes_; }
    const Kinds& kinds() const { return kinds_; }

  private:
    double u() const { return out_.u_place; }
    Figure figure(double value, double spread = 0) const { return {value, std::hypot(u(), spread)}; }

    void frame() {
        frame_.from_above = told_.from_above;
        double turn = layout_.turn;
        if (told_.from_above) turn = -turn;
        // Turned where the row lies across the sheet; what is drawn along X stays as it is to the last bit.
        constexpr double along = 1e-12;
        if (std::abs(turn) < along) turn = 0;
        out_.turned = layout_.turn;
        if (told_.end_for_end) turn += pi;
        frame_.turn = turn == 0 ? Mat2(Mat2::Identity()) : plane_rotation(-turn);
        if (told_.end_for_end && turn == pi) frame_.turn = -Mat2::Identity();
        const auto& first = told_.end_for_end ? layout_.cylinders.back() : layout_.cylinders.front();
        frame_.origin = frame_.way(first.centre);
    }

    // Of a head drawn in space: how high its deck is.
    void deck() {
        std::vector<double> heights;
        for (const auto m : holes_.bolts) heights.push_back(marks_.marks[m].rings.front().height);
        bool same = heights.size() > 1;
        for (const double h : heights) same = same && std::abs(h - heights[0]) < 1e-6;
        bool in_space = false;
        for (const auto& c : layout_.cylinders)
            for (const auto m : c.valves)
                if (same)
                    in_space = in_space || std::abs(marks_.marks[m].rings.back().height - heights[0]) > 1e-6;
        if (same && in_space) deck_ = heights[0];
    }

    void valves(const std::vector<Vec2>& at) {
        const auto count = layout_.cylinders.size();
        out_.cylinders = static_cast<int>(count);
        for (std::size_t i = 0; i < count; ++i) {
            const auto& c = layout_.cylinders[told_.end_for_end ? count - 1 - i : i];
            auto order = c.valves;
            std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
                constexpr double tie = 1e-6;
                return std::abs(at[a].x() - at[b].x()) > tie ? at[a].x() < at[b].x() : at[a].y() < at[b].y();
            });
            for (const auto m : order) {
                valve(m, at[m], static_cast<int>(i) + 1);
                // The mark itself may be shared by spreads; every valve stands in one cylinder only.
            }
        }
        name_valves(out_.valves);
    }

    void valve(std::size_t m, const Vec2& place, int cylinder) {
        const Mark& mark = marks_.marks[m];
        Valve v;
        v.cylinder = cylinder;
        v.kind = kinds_.of.at(m);
        v.x = figure(place.x(), mark.spread);
        v.y = figure(place.y(), mark.spread);
        v.group = mark.group;
        v.bore = guide_bore(marks_, m);
        for (const auto& ring : mark.rings) v.diameters.push_back(2 * ring.a);
        v.gauge = gauge_of(v);
        const Lean lean = lean_of(marks_, m, u());
        v.lean = lean.size;
        v.u_lean = lean.u;
        if (lean.size) {
            v.lean_way = frame_.way(lean.way);
            if (lean.sign_known) {
                const double t = std::tan(*lean.size);
                const auto of = [&](double part) { return Figure{std::atan(t * part), lean.u}; };
                v.cant = of(v.lean_way.x());
                v.incline = of(v.lean_way.y());
            }
        }
        if (deck_) v.z = figure(mark.rings.back().height - *deck_);
        out_.valves.push_back(std::move(v));
    }

    // The mean of the two circles that bound a face; of a seat drawn as one circle that one.
    static std::optional<double> gauge_of(const Valve& v) {
        constexpr double widest_face = 6;  // of the diameters: a face of 4 mm at 45 deg
        auto d = v.diameters;
        if (v.bore) std::erase_if(d, [&](double x) { return x == *v.bore; });
        if (d.size() == 1) return d[0];
        if (d.size() == 2 && d[1] - d[0] <= widest_face) return (d[0] + d[1]) / 2;
        return std::nullopt;
    }

    void holes(const std::vector<Vec2>& at) {
        const auto add = [&](const std::vector<std::size_t>& marks, survey::HoleKind kind, const char* word) {
            int n = 0;
            for (const auto m : marks) {
                const Mark& mark = marks_.marks[m];
                Hole h;
                h.id = fmt::format("{} {}", word, ++n);
                h.x = figure(at[m].x(), mark.spread);
                h.y = figure(at[m].y(), mark.spread);
                h.diameter = mark.smallest();
                h.kind = kind;
                h.group = mark.group;
                out_.holes.push_back(std::move(h));
            }
        };
        add(holes_.bolts, survey::HoleKind::bolt, "bolt");
        add(holes_.plugs, survey::HoleKind::plug, "plug");
        add(holes_.others, survey::HoleKind::other, "hole");
        if (!holes_.bolts.empty()) out_.bolt_diameter = holes_.bolt_diameter;
    }

    const Sheet& sheet_;
    const View& view_;
    const Marks& marks_;
    const Layout& layout_;
    const Told& told_;
    Drawing& out_;
    Frame frame_;
    Holes holes_;
    Kinds kinds_;
    std::optional<double> deck_;
};

// What a person called the groups, by their number. Error: a name of no group.
Checked<std::vector<std::string>> names_of(const Marks& marks, const Told& told, const std::string& file) {
    std::vector<std::string> out(marks.groups);
    for (const auto& [name, what] : told.names) {
        std::size_t g = 0;
        while (g < marks.groups && group_name(g) != name) ++g;
        if (g == marks.groups)
            return no(file, fmt::format("has no group {} to be {}; its groups are A to {}", name, what,
                                        group_name(marks.groups - 1)));
        out[g] = what;
    }
    return out;
}

}  // namespace

Checked<Drawing> drawing_of(std::string_view bytes, const std::string& file, const Told& told) {
    const auto sheet = read_sheet(bytes, file);
    if (!sheet) return tl::unexpected(sheet.error());
    const auto as_drawn = view_of(*sheet, 1, file);
    if (!as_drawn) return tl::unexpected(as_drawn.error());
    if (as_drawn->rings.empty())
        return no(file, "shows no circle, so no hole and no seat; " + looked_at(*sheet, *as_drawn));
    const auto unit = unit_of(*sheet, told, file);
    if (!unit) return tl::unexpected(unit.error());
    const auto view = view_of(*sheet, unit->mm, file);
    if (!view) return tl::unexpected(view.error());
    const double length = length_of(*view);
    if (length > longest_head || length < shortest_head)
        return no(
            file,
            fmt::format("is no head in {}: its circles lie within {:.4g} mm{}", unit->name, length, [&] {
                const auto other = other_unit(length, unit->mm);
                return other.empty() ? std::string("; save the view of the deck alone, in its true size")
                                     : other;
            }()));
    const double finest = sheet->finest * unit->mm;
    auto marks = marks_of(*view, std::max(near_centre, 2 * finest), file);
    if (!marks) return tl::unexpected(marks.error());
    sort_groups(*marks);
    const auto names = names_of(*marks, told, file);
    if (!names) return tl::unexpected(names.error());
    const auto layout = layout_of(*marks, *names);
    if (!layout)
        return no(file,
                  fmt::format(
                      "shows no seat on its guide (circles about one centre, the largest 9 to 150 mm "
                      "and at least 2.3 times the smallest of 2.5 to 26 mm); {}; if it is a head's, say what "
                      "the groups are{}",
                      looked_at(*sheet, *view), other_unit(length, unit->mm)));
    Drawing out;
    out.file = file;
    out.title = title_of(file);
    out.drawn_in = unit->name;
    out.units = unit->inches ? LengthUnit::inch : LengthUnit::mm;
    // Written to a place, a figure lies evenly within half of it either way.
    out.u_place = finest / std::sqrt(12.0);
    out.curves = view->rings.size();
    out.hidden = view->hidden;
    out.in_paper = sheet->in_paper;
    out.not_read = sheet->not_read;
    for (const auto& mark : marks->marks) out.twice += mark.drawn_twice ? 1 : 0;
    const auto hints = hints_of(*marks);
    Maker maker(*sheet, *view, *marks, *layout, told, out);
    maker.make(*names, hints);
    // One seat alone, or seats hardly wider than their guides without a bolt hole, is some other part.
    const bool named = std::any_of(names->begin(), names->end(), names_a_valve);
    if (!named && (out.valves.size() < 2 || (layout->takes_in_weak && maker.holes().bolts.empty())))
        return no(file,
                  fmt::format(
                      "shows {} that could be a seat on its guide and no head around {}; if it is one, "
                      "say what the groups are",
                      out.valves.size() < 2 ? "one place" : "places", out.valves.size() < 2 ? "it" : "them"));
    tell({*sheet, *view, *marks, *layout, maker.holes(), maker.kinds(), *names, hints, told, unit->against},
         out);
    return out;
}

survey::Laid laid(const Drawing& drawing) {
    survey::Laid out;
    for (const auto& h : drawing.holes)
        if (h.kind == survey::HoleKind::bolt) out.bolts.emplace_back(*h.x.value, *h.y.value);
    out.u_bolt = drawing.u_place;
    for (const auto& v : drawing.valves) out.add(v, v.kind, drawing.u_place);
    return out;
}

}  // namespace seatwright::drawing
