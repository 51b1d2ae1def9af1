#include "seatwright/papers/draw_head.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/papers/lettering.hpp"
#include "seatwright/papers/scale.hpp"
#include "seatwright/papers/show.hpp"

namespace seatwright::papers {

namespace {

constexpr double wall = 10;             // mm of casting outside the outermost hole or seat
constexpr double unknown_radius = 15;   // mm, a seat of unknown size
constexpr double guess_thickness = 90;  // mm, a head of unknown guides
constexpr double top_room = 6;          // mm of paper above the casting for words
constexpr double bottom_room = 19;      // mm of paper below it for the post dimension, scale and legend

double radius_of(const std::optional<job::ValveForm>& valve) {
    return valve && valve->head_diameter > 0 ? valve->head_diameter / 2 : unknown_radius;
}

// Centres of the cylinders: of the pattern, else the middle of each cylinder's seats.
std::map<int, Vec2> cylinder_centres(const job::Head& head) {
    std::map<int, Vec2> centres;
    std::map<int, int> counts;
    for (const auto& valve : head.valves) {
        if (head.bore_spacing && valve.cylinder <= head.cylinders) {
            // The pattern puts cylinder k at (k − 1)·spacing, turned over by a mirrored casting.
            const double x = (valve.cylinder - 1) * *head.bore_spacing;
            centres[valve.cylinder] = {head.mirror == job::Mirror::x ? -x : x, 0};
            counts[valve.cylinder] = 1;
            continue;
        }
        auto& sum = centres.try_emplace(valve.cylinder, Vec2::Zero()).first->second;
        sum += valve.seat.head<2>();
        ++counts[valve.cylinder];
    }
    for (auto& [cylinder, centre] : centres) centre /= counts[cylinder];
    return centres;
}

// Radius that shows the chamber of a cylinder: the bore where it is known, else what holds its seats.
double chamber_radius(const job::Job& job, int cylinder, const Vec2& centre) {
    if (job.head.bore_diameter) return *job.head.bore_diameter / 2;
    double most = 0;
    for (const auto& valve : job.head.valves)
        if (valve.cylinder == cylinder)
            most =
                std::max(most, (valve.seat.head<2>() - centre).norm() + drawn_radius(job, valve.kind) * 1.05);
    return most;
}

class PlanView {
  public:
    PlanView(const job::Job& job, const hold::Hold& hold, const HeadView& view)
        : job_(job),
          hold_(hold),
          view_(view),
          casting_(implied_casting(job.head, job.valve, job.guide)),
          height_(height_needed()),
          scale_(extent(), Frame{{3, top_room}, view.width - 6, height_ - top_room - bottom_room}),
          drawing_(view.width, height_, fmt::format("Plan of {}", job.head.name),
                   fmt::format("{} seats and {} bolt holes to scale, seen square to the deck, back (+Y) up",
                               job.head.valves.size(), job.head.bolt_holes.size())) {}

    Drawing drawn() {
        outline();
        chambers();
        bolts();
        obstacles();
        chain();
        for (std::size_t v = 0; v < job_.head.valves.size(); ++v) seat(v);
        posts();
        legend();
        return drawing_;
    }

  private:
    // The paper the head takes at its scale with the words round it: no more than view.height.
    double height_needed() const {
        const Scale scale(extent(), Frame{{0, 0}, view_.width - 6, view_.height - top_room - bottom_room});
        return scale.length(extent().size().y()) + top_room + bottom_room;
    }

    Extent2 extent() const {
        Extent2 all;
        all.hold(casting_.low);
        all.hold(casting_.high);
        return all;
    }

    Vec2 at(const Vec2& p) const { return scale_.at(p); }

    void outline() {
        const Vec2 corner = at({casting_.low.x(), casting_.high.y()});
        const Vec2 size = (casting_.high - casting_.low) * scale_.length(1);
        drawing_.rect(corner, size.x(), size.y(), {Ink::line, 0.3, "3 1.2"});
    }

    void chambers() {
        for (const auto& [cylinder, centre] : cylinder_centres(job_.head)) {
            const double r = scale_.length(chamber_radius(job_, cylinder, centre));
            const Vec2 c = at(centre);
            drawing_.circle(c, r, {Ink::faint, 0.25, job_.head.bore_diameter ? "" : "1.5 1"});
            drawing_.line(c - Vec2(1.5, 0), c + Vec2(1.5, 0), {Ink::faint, 0.2});
            drawing_.line(c - Vec2(0, 1.5), c + Vec2(0, 1.5), {Ink::faint, 0.2});
        }
    }

    void bolts() {
        const double r = std::max(0.7, scale_.length(job_.head.bolt_hole_diameter.value_or(12) / 2));
        for (std::size_t h = 0; h < job_.head.bolt_holes.size(); ++h) {
            const Vec2 c = at(job_.head.bolt_holes[h]);
            const bool post = hold_.posts && (hold_.posts->holes[0] == h || hold_.posts->holes[1] == h);
            drawing_.circle(c, r, {post ? Ink::touch : Ink::line, post ? 0.5 : 0.25});
            if (post) drawing_.disc(c, r * 0.6, Ink::touch);
            if (!post) {
                drawing_.line(c - Vec2(r, 0) * 1.5, c + Vec2(r, 0) * 1.5, {Ink::faint, 0.15});
                drawing_.line(c - Vec2(0, r) * 1.5, c + Vec2(0, r) * 1.5, {Ink::faint, 0.15});
            }
        }
    }

    void obstacles() {
        for (const auto& obstacle : job_.head.obstacles) {
            const Vec2 c = at(obstacle.centre.head<2>());
            const double r = std::max(0.5, scale_.length(obstacle.diameter / 2));
            drawing_.circle(c, r, {Ink::faint, 0.25});
            drawing_.line(c - Vec2(r, r) * 0.7, c + Vec2(r, r) * 0.7, {Ink::faint, 0.2});
            drawing_.line(c - Vec2(r, -r) * 0.7, c + Vec2(r, -r) * 0.7, {Ink::faint, 0.2});
        }
    }

    std::string setup_of(std::size_t valve) const {
        for (const auto& setup : hold_.setups)
            for (const auto& held : setup.valves)
                if (held.valve == valve) return setup.id;
        return {};
    }

    void seat(std::size_t v) {
        const auto& valve = job_.head.valves[v];
        const Vec2 c = at(valve.seat.head<2>());
        const double r = scale_.length(drawn_radius(job_, valve.kind));
        drawing_.begin_group("plan-" + valve.id, valve.id);
        drawing_.disc(c, r, Ink::paper);
        drawing_.circle(c, r, {Ink::line, 0.35});
        if (valve.kind == job::Kind::exhaust) drawing_.circle(c, r * 0.88, {Ink::line, 0.18});
        // The stroke outside the ring: a millimetre and a half for ten degrees of lean.
        const Vec3 axis = valve.axis();
        const double lean = std::hypot(axis.x(), axis.y());
        if (lean > 1e-6) {
            const Vec2 way(axis.x() / lean, -axis.y() / lean);
            const double reach = std::clamp(deg(std::asin(lean)) * 0.15, 1.0, 4.0);
            drawing_.line(c + way * r, c + way * (r + reach), {Ink::touch, 0.5});
        }
        const bool letter = hold_.setups.size() > 1;
        const double room = 1.5 * r;
        const double size = std::min({3.4, r * (letter ? 0.75 : 0.95),
                                      3.4 * room / std::max(0.1, words_width(valve.id, 3.4, Face::bold))});
        drawing_.text(c + Vec2(0, letter ? 0.05 * size : 0.36 * size), valve.id, size, Anchor::middle,
                      Ink::line, true);
        if (letter)
            drawing_.text(c + Vec2(0, 0.95 * size), setup_of(v), size * 0.8, Anchor::middle, Ink::touch);
        drawing_.end_group();
    }

    bool in_one_row() const {
        return hold_.posts && std::abs(hold_.posts->a.y() - hold_.posts->b.y()) < 1e-6;
    }

    // Posts across a diagonal: a chain line under the seats.
    void chain() {
        if (!hold_.posts || in_one_row()) return;
        drawing_.line(at(hold_.posts->a), at(hold_.posts->b), {Ink::touch, 0.2, "4 1 0.8 1"});
    }

    void posts() {
        if (!hold_.posts) return;
        const auto& posts = *hold_.posts;
        const Vec2 a = at(posts.a), b = at(posts.b);
        const std::string words =
            fmt::format("posts a to b: {} apart", length_with_unit(posts.span, view_.unit));
        const double bottom = at({0, casting_.low.y()}).y();
        for (const auto& [name, p] : {std::pair{"a", a}, std::pair{"b", b}})
            drawing_.text(p + Vec2(name[0] == 'a' ? -2.6 : 2.6, -1.4), name, 3.4, Anchor::middle, Ink::touch,
                          true);
        // Along the row the spacing is dimensioned under the head; a diagonal one is a chain line.
        if (in_one_row()) {
            const Vec2 left = a.x() < b.x() ? a : b, right = a.x() < b.x() ? b : a;
            drawing_.dimension(left, right, -(bottom - left.y() + 9.5), words, 3.2);
            return;
        }
        drawing_.text({view_.width / 2, bottom + 7}, words + " (along the chain line)", 3.2, Anchor::middle,
                      Ink::touch);
    }

    void legend() {
        const double top = at({0, casting_.high.y()}).y(), bottom = height_;
        const auto side = [&](job::LoadSide which, const char* name) {
            return job_.fixture.load_from == which ? fmt::format("{}: load from here", name)
                                                   : std::string(name);
        };
        drawing_.text({view_.width / 2, top - 1.8}, side(job::LoadSide::back, "back (+Y)"), 2.8,
                      Anchor::middle,
                      job_.fixture.load_from == job::LoadSide::back ? Ink::touch : Ink::faint);
        const double under = at({0, casting_.low.y()}).y() + 3.4;
        drawing_.text({view_.width / 2, under}, side(job::LoadSide::front, "front"), 2.8, Anchor::middle,
                      job_.fixture.load_from == job::LoadSide::front ? Ink::touch : Ink::faint);
        drawing_.text({1, bottom - 1.2}, "scale " + scale_.words(), 2.8);
        drawing_.text({view_.width - 1, bottom - 1.2},
                      hold_.setups.size() > 1
                          ? "double ring: exhaust; stroke: way the guide leans; letter: setup"
                          : "double ring: exhaust; stroke: way the guide leans",
                      2.6, Anchor::end, Ink::faint);
    }

    const job::Job& job_;
    const hold::Hold& hold_;
    const HeadView& view_;
    Casting casting_;
    double height_;
    Scale scale_;
    Drawing drawing_;
};

}  // namespace

double drawn_radius(const job::Job& job, job::Kind kind) {
    if (job.valve[kind]) return radius_of(job.valve[kind]);
    if (job.seat[kind] && job.seat[kind]->contact_diameter) return *job.seat[kind]->contact_diameter / 2;
    return unknown_radius;
}

Casting implied_casting(const job::Head& head, const job::PerKind<std::optional<job::ValveForm>>& valve,
                        const job::PerKind<std::optional<job::GuideForm>>& guide) {
    Extent2 all;
    const double hole = head.bolt_hole_diameter.value_or(0) / 2;
    for (const auto& h : head.bolt_holes) all.hold(h, hole + wall);
    Casting casting;
    for (const auto& v : head.valves) {
        all.hold(v.seat.head<2>(), radius_of(valve[v.kind]) + wall);
        const auto& g = guide[v.kind];
        const double deep = g && g->to_seat ? *g->to_seat + 0.6 * g->length.value_or(0) : guess_thickness;
        casting.thickness = std::max(casting.thickness, deep - v.seat.z());
    }
    if (head.bore_diameter)
        for (const auto& [cylinder, centre] : cylinder_centres(head))
            all.hold(centre, *head.bore_diameter / 2);
    if (all.empty()) all.hold(Vec2::Zero(), wall);
    casting.low = all.low;
    casting.high = all.high;
    if (casting.thickness <= 0) casting.thickness = guess_thickness;
    return casting;
}

Drawing draw_head_plan(const job::Job& job, const hold::Hold& hold, const HeadView& view) {
    return PlanView(job, hold, view).drawn();
}

}  // namespace seatwright::papers
