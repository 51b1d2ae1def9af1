#include "seatwright/papers/drawings/draw_head.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/papers/drawings/head_layout.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

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
    PlanView(const job::Job& job, const hold::Hold& hold, const HeadView& view, const Casting& casting,
             const HeadLayout& layout)
        : job_(job),
          hold_(hold),
          view_(view),
          casting_(casting),
          layout_(layout),
          drawing_(view.width, layout.height, fmt::format("Plan of {}", job.head.name),
                   fmt::format("{} seats and {} bolt holes to scale, seen square to the deck, back (+Y) up",
                               job.head.valves.size(), job.head.bolt_holes.size())) {}

    Drawing drawn() {
        for (strip_ = 0; strip_ < layout_.strips.size(); ++strip_) {
            outline();
            chambers();
            bolts();
            obstacles();
            chain();
            for (std::size_t v = 0; v < job_.head.valves.size(); ++v)
                if (strip().holds(job_.head.valves[v].seat.x())) seat(v);
            if (layout_.marks == Marks::cylinders) numbers();
            posts();
        }
        strip_ = layout_.strips.size() - 1;
        spacing();
        legend();
        return drawing_;
    }

  private:
    const Strip& strip() const { return layout_.strips[strip_]; }
    const Scale& scale() const { return layout_.scales[strip_]; }
    Vec2 at(const Vec2& p) const { return scale().at(p); }
    bool parted() const { return layout_.strips.size() > 1; }
    // Holes on the cut stand in both strips.
    bool shows(double x) const {
        constexpr double near = 1e-6;
        return strip().holds(x) || strip().holds(x - near) || strip().holds(x + near);
    }

    // Dashed; where the head goes on in the next strip, a broken line.
    void outline() {
        const Vec2 a = at({strip().low, casting_.high.y()}), b = at({strip().high, casting_.low.y()});
        const Stroke dashed{Ink::line, 0.3, "3 1.2"};
        if (!parted()) {
            drawing_.rect(a, b.x() - a.x(), b.y() - a.y(), dashed);
            return;
        }
        drawing_.line(a, {b.x(), a.y()}, dashed);
        drawing_.line({a.x(), b.y()}, b, dashed);
        const auto side = [&](double x, bool end) {
            if (end) {
                drawing_.line({x, a.y()}, {x, b.y()}, dashed);
                return;
            }
            const double middle = (a.y() + b.y()) / 2;
            drawing_.polyline({{x, a.y()},
                               {x, middle - 2},
                               {x - 1.2, middle - 1},
                               {x + 1.2, middle + 1},
                               {x, middle + 2},
                               {x, b.y()}},
                              {Ink::faint, 0.25});
        };
        side(a.x(), strip().first);
        side(b.x(), strip().last);
    }

    void chambers() {
        for (const auto& [cylinder, centre] : cylinder_centres(job_.head)) {
            if (!strip().holds(centre.x())) continue;
            const double r = scale().length(chamber_radius(job_, cylinder, centre));
            const Vec2 c = at(centre);
            drawing_.circle(c, r, {Ink::faint, 0.25, job_.head.bore_diameter ? "" : "1.5 1"});
            drawing_.line(c - Vec2(1.5, 0), c + Vec2(1.5, 0), {Ink::faint, 0.2});
            drawing_.line(c - Vec2(0, 1.5), c + Vec2(0, 1.5), {Ink::faint, 0.2});
        }
    }

    void bolts() {
        const double r = std::max(0.7, scale().length(job_.head.bolt_hole_diameter.value_or(12) / 2));
        for (std::size_t h = 0; h < job_.head.bolt_holes.size(); ++h) {
            if (!shows(job_.head.bolt_holes[h].x())) continue;
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
            if (!strip().holds(obstacle.centre.x())) continue;
            const Vec2 c = at(obstacle.centre.head<2>());
            const double r = std::max(0.5, scale().length(obstacle.diameter / 2));
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
        const double r = scale().length(drawn_radius(job_, valve.kind));
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
        if (layout_.marks != Marks::cylinders) name(v, c);
        drawing_.end_group();
    }

    void name(std::size_t v, const Vec2& c) {
        const auto& valve = job_.head.valves[v];
        const bool letter = layout_.marks == Marks::ids_and_setups && hold_.setups.size() > 1;
        double size = id_size(job_, valve, scale(), letter ? Marks::ids_and_setups : Marks::ids);
        // In print not under the least size; a plain face then, which is narrower.
        const bool small = view_.medium == Medium::print && size < least_size;
        if (small) size = least_size;
        drawing_.text(c + Vec2(0, letter ? 0.05 * size : 0.36 * size), valve.id, size, Anchor::middle,
                      Ink::line, !small);
        if (letter)
            drawing_.text(c + Vec2(0, 0.95 * size), setup_of(v), size * letter_ratio, Anchor::middle,
                          Ink::touch);
    }

    void numbers() {
        for (const auto& [cylinder, centre] : cylinder_centres(job_.head))
            if (strip().holds(centre.x()))
                drawing_.text(at({centre.x(), casting_.high.y()}) + Vec2(0, least_size),
                              std::to_string(cylinder), least_size, Anchor::middle, Ink::line, true);
    }

    bool in_one_row() const {
        return hold_.posts && std::abs(hold_.posts->a.y() - hold_.posts->b.y()) < 1e-6;
    }

    // Posts across a diagonal: a chain line under the seats.
    void chain() {
        if (!hold_.posts || in_one_row() || parted()) return;
        drawing_.line(at(hold_.posts->a), at(hold_.posts->b), {Ink::touch, 0.2, "4 1 0.8 1"});
    }

    void posts() {
        if (!hold_.posts) return;
        for (const auto& [name, post] : {std::pair{"a", hold_.posts->a}, std::pair{"b", hold_.posts->b}})
            if (shows(post.x()))
                drawing_.text(at(post) + Vec2(name[0] == 'a' ? -2.6 : 2.6, -1.4), name, 3.4, Anchor::middle,
                              Ink::touch, true);
    }

    // Along the row the spacing is dimensioned under the head; a diagonal one is a chain line.
    void spacing() {
        if (!hold_.posts) return;
        const auto& posts = *hold_.posts;
        const std::string words =
            fmt::format("posts a to b: {} apart", length_with_unit(posts.span, view_.unit));
        const double bottom = at({0, casting_.low.y()}).y();
        if (in_one_row() && !parted()) {
            const Vec2 a = at(posts.a), b = at(posts.b);
            const Vec2 left = a.x() < b.x() ? a : b, right = a.x() < b.x() ? b : a;
            drawing_.dimension(left, right, -(bottom - left.y() + 9.5), words, 3.2);
            return;
        }
        drawing_.text({view_.width / 2, bottom + 7},
                      words + (parted() ? " (from strip to strip)" : " (along the chain line)"), 3.2,
                      Anchor::middle, Ink::touch);
    }

    void legend() {
        const double top = layout_.scales.front().at({0, casting_.high.y()}).y(), bottom = layout_.height;
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
        drawing_.text({1, bottom - 1.2}, "scale " + scale().words(), 2.8);
        std::string words = "double ring: exhaust; stroke: way the guide leans";
        if (hold_.setups.size() > 1 && layout_.marks == Marks::ids_and_setups) words += "; letter: setup";
        if (layout_.marks == Marks::cylinders) words += "; numbers: cylinders, too small for the guides' ids";
        drawing_.text({view_.width - 1, bottom - 1.2}, words, 2.6, Anchor::end, Ink::faint);
    }

    const job::Job& job_;
    const hold::Hold& hold_;
    const HeadView& view_;
    const Casting& casting_;
    const HeadLayout& layout_;
    Drawing drawing_;
    std::size_t strip_ = 0;
};

}  // namespace

Drawing draw_head_plan(const job::Job& job, const hold::Hold& hold, const HeadView& view) {
    const Casting casting = implied_casting(job.head, job.valve, job.guide);
    const HeadLayout layout = head_layout(job, hold, casting, view);
    return PlanView(job, hold, view, casting, layout).drawn();
}

}  // namespace seatwright::papers
