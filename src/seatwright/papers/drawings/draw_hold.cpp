#include "seatwright/papers/drawings/draw_hold.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/papers/drawings/casting.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/scale.hpp"
#include "seatwright/report/attitude.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double unknown_guide = 45;  // mm, guide length or seat to guide where the job is silent
constexpr double cradle_gap = 10, cradle_bar = 12;  // mm between casting and cradle bar, thickness of the bar
constexpr double above_deck = 18;                   // mm of paper above the deck for spindle and title
constexpr double room_below_deck = 11,
                 front_bottom = 6;  // mm of paper below for words, from the end and the front
constexpr double beside_deck = 10;  // mm of paper for the angle

class HeldView {
  public:
    HeldView(const job::Job& job, const hold::Hold& hold, std::size_t setup, const HoldView& view)
        : job_(job),
          hold_(hold),
          setup_(hold.setups[setup]),
          view_(view),
          rotation_(setup_.rotation()),
          casting_(implied_casting(job.head, job.valve, job.guide)),
          scale_(extent(), Frame{{beside_deck, above_deck},
                                 view.width - 2 * beside_deck,
                                 view.height - above_deck -
                                     (view.seen == Seen::from_end ? room_below_deck : front_bottom)}),
          drawing_(
              view.width, view.height,
              fmt::format("Setup {} seen from the {}", setup_.id, from_end() ? "end" : "front"),
              fmt::format("Head at tilt {} deg, swing {} deg; guides of this setup stand under the spindle",
                          angle(setup_.tilt), angle(setup_.swing))) {}

    Drawing drawn() {
        fixture();
        body();
        axes_of_others();
        axes();
        spindle();
        deck_angle();
        caution();
        words();
        return drawing_;
    }

    // What the head takes at its scale, with the words round it.
    double height_needed() const {
        return scale_.length(extent().size().y()) + above_deck +
               (from_end() ? room_below_deck : front_bottom);
    }

  private:
    bool from_end() const { return view_.seen == Seen::from_end; }

    // A head-frame point as this view shows it, y up.
    Vec2 shown(const Vec3& p) const {
        const Vec3 m = rotation_ * p;
        return from_end() ? Vec2(m.y(), m.z()) : Vec2(m.x(), m.z());
    }
    Vec2 at(const Vec3& p) const { return scale_.at(shown(p)); }

    std::vector<Vec3> box(const Vec2& low, const Vec2& high, double top, double bottom) const {
        std::vector<Vec3> corners;
        for (const double x : {low.x(), high.x()})
            for (const double y : {low.y(), high.y()})
                for (const double z : {top, bottom}) corners.emplace_back(x, y, z);
        return corners;
    }
    std::vector<Vec3> body_box() const { return box(casting_.low, casting_.high, 0, -casting_.thickness); }
    std::vector<Vec3> bar_box() const {
        Vec2 low = casting_.low, high = casting_.high;
        if (hold_.posts) {
            low = hold_.posts->a.cwiseMin(hold_.posts->b) - Vec2::Constant(12);
            high = hold_.posts->a.cwiseMax(hold_.posts->b) + Vec2::Constant(12);
            // Posts in one row: the bar still reaches under the whole casting.
            low.y() = std::min(low.y(), casting_.low.y() * 0.6);
            high.y() = std::max(high.y(), casting_.high.y() * 0.6);
        }
        const double top = -casting_.thickness - cradle_gap;
        return box(low, high, top, top - cradle_bar);
    }

    Extent2 extent() const {
        Extent2 all;
        for (const auto& p : body_box()) all.hold(shown(p));
        for (const auto& p : bar_box()) all.hold(shown(p));
        return all;
    }

    std::vector<Vec2> outline(const std::vector<Vec3>& corners) const {
        std::vector<Vec2> points;
        points.reserve(corners.size());
        for (const auto& p : corners) points.push_back(at(p));
        return convex_outline(points);
    }

    void fixture() {
        drawing_.polygon(outline(bar_box()), Ink::faint, 0.25, {Ink::line, 0.2});
        if (!hold_.posts) return;
        for (const auto& p : {hold_.posts->a, hold_.posts->b}) {
            const double bottom = -casting_.thickness - cradle_gap - cradle_bar;
            const double r = job_.fixture.post_diameter.value_or(12) / 2;
            std::vector<Vec3> corners;
            for (const double dx : {-r, r})
                for (const double z : {3.0, bottom})
                    corners.push_back(from_end() ? Vec3(p.x(), p.y() + dx, z) : Vec3(p.x() + dx, p.y(), z));
            drawing_.polygon(outline(corners), Ink::touch, 0.25, {Ink::touch, 0.2});
        }
    }

    void body() {
        drawing_.polygon(outline(body_box()), Ink::faint, 0.12, {Ink::line, 0.3, "3 1.2"});
        std::vector<Vec3> deck;
        for (const auto& p : body_box())
            if (p.z() == 0) deck.push_back(p);
        const auto face = outline(deck);
        if (face.size() >= 3) drawing_.polygon(face, Ink::paper, 0.55, {Ink::line, 0.45});
        if (face.size() == 2) drawing_.line(face[0], face[1], {Ink::line, 0.6});
    }

    double guide_reach(const job::Valve& valve) const {
        const auto& guide = job_.guide[valve.kind];
        if (!guide) return 2 * unknown_guide;
        return guide->to_seat.value_or(unknown_guide) + guide->length.value_or(unknown_guide);
    }

    // Axes that fall on one another on paper are drawn once.
    bool drawn_before(const Vec2& a, const Vec2& b) {
        for (const auto& [c, d] : lines_)
            if ((a - c).norm() < 0.4 && (b - d).norm() < 0.4) return true;
        lines_.emplace_back(a, b);
        return false;
    }

    void axes_of_others() {
        for (const auto& other : hold_.setups) {
            if (other.id == setup_.id) continue;
            for (const auto& held : other.valves) {
                const auto& valve = job_.head.valves[held.valve];
                const Vec2 low = at(valve.seat - valve.axis() * guide_reach(valve));
                const Vec2 high = at(valve.seat + valve.axis() * 14);
                if (!drawn_before(low, high)) drawing_.line(low, high, {Ink::faint, 0.25, "2 1 0.5 1"});
            }
        }
    }

    void axes() {
        for (const auto& held : setup_.valves) {
            const auto& valve = job_.head.valves[held.valve];
            const Vec2 low = at(valve.seat - valve.axis() * guide_reach(valve));
            const Vec2 high = at(valve.seat + valve.axis() * 20);
            if (drawn_before(low, high)) continue;
            guide_walls(valve);
            const Ink ink = held.reachable ? Ink::touch : Ink::warn;
            drawing_.line(low, high, {ink, 0.35, "4 1 0.8 1"});
            const double r = scale_.length(drawn_radius(job_, valve.kind));
            const Vec2 across = (high - low).normalized();
            const Vec2 rim = Vec2(-across.y(), across.x()) * r;
            drawing_.line(at(valve.seat) - rim, at(valve.seat) + rim, {Ink::line, 0.6});
        }
    }

    void guide_walls(const job::Valve& valve) {
        const auto& guide = job_.guide[valve.kind];
        if (!guide || !guide->length || !guide->to_seat) return;
        const Vec2 top = at(valve.seat - valve.axis() * *guide->to_seat);
        const Vec2 bottom = at(valve.seat - valve.axis() * (*guide->to_seat + *guide->length));
        const Vec2 along = bottom - top;
        if (along.norm() < 0.5) return;
        const Vec2 side = Vec2(-along.y(), along.x()).normalized() *
                          std::max(0.5, scale_.length(guide->bore.value_or(8) / 2));
        for (const double s : {-1.0, 1.0}) drawing_.line(top + side * s, bottom + side * s, {Ink::line, 0.2});
    }

    void spindle() {
        const auto& valve = job_.head.valves[setup_.datum];
        const double x = at(valve.seat).x();
        const double foot = at(valve.seat + valve.axis() * 20).y();
        const double nose = 16;
        drawing_.polygon({{x - 3, nose - 4.5},
                          {x + 3, nose - 4.5},
                          {x + 3, nose - 1.2},
                          {x + 1.4, nose},
                          {x - 1.4, nose},
                          {x - 3, nose - 1.2}},
                         Ink::faint, 0.3, {Ink::line, 0.3});
        if (foot > nose) drawing_.line({x, nose - 6}, {x, foot}, {Ink::touch, 0.35, "4 1 0.8 1"});
        // On the side the deck's angle is not.
        const bool right = (from_end() ? setup_.tilt : -setup_.swing) <= 0;
        drawing_.text({x + (right ? 4.2 : -4.2), nose - 1.6}, "spindle", 2.6,
                      right ? Anchor::start : Anchor::end, Ink::faint);
    }

    // The deck's line carried on beyond its upper end, against the level.
    void deck_angle() {
        const double shown_angle = from_end() ? std::atan2(rotation_(2, 1), rotation_(1, 1))
                                              : std::atan2(rotation_(2, 0), rotation_(0, 0));
        if (std::abs(shown_angle) < 1e-4) return;
        const bool right = shown_angle > 0;  // the end that stands high
        const Vec2 middle = (casting_.low + casting_.high) / 2;
        const Vec3 end = from_end() ? Vec3(middle.x(), right ? casting_.high.y() : casting_.low.y(), 0)
                                    : Vec3(right ? casting_.high.x() : casting_.low.x(), middle.y(), 0);
        const Vec2 corner = at(end);
        const double sign = right ? 1 : -1, reach = beside_deck - 1.5;
        const double size = std::abs(shown_angle);
        const Stroke fine{Ink::touch, 0.2, {}};
        drawing_.line(corner, corner + Vec2(sign * reach, 0), fine);
        drawing_.line(corner, corner + Vec2(sign * std::cos(size), -std::sin(size)) * reach, fine);
        std::vector<Vec2> arc;
        for (int k = 0; k <= 12; ++k) {
            const double t = size * k / 12;
            arc.emplace_back(corner + Vec2(sign * std::cos(t), -std::sin(t)) * (reach - 1.5));
        }
        drawing_.polyline(arc, fine);
        // Seen from the front a swung deck shows a little less than its swing: the title says the setting.
        if (!from_end()) return;
        const std::string what = fmt::format("{}°", angle(size));
        const double wide = words_width(what, 2.8);
        const double x =
            std::clamp(corner.x() + sign * reach * 0.5, wide / 2 + 0.5, view_.width - wide / 2 - 0.5);
        drawing_.text({x, corner.y() - std::sin(size) * reach - 1.2}, what, 2.8, Anchor::middle, Ink::touch);
    }

    void warning_sign(const Vec2& top, double size) {
        const Vec2 left = top + Vec2(-0.58 * size, size), right = top + Vec2(0.58 * size, size);
        drawing_.polygon({top, right, left}, Ink::paper, 1, {Ink::warn, 0.5});
        drawing_.text(top + Vec2(0, size * 0.86), "!", size * 0.72, Anchor::middle, Ink::warn, true);
    }

    void caution() {
        const auto& safety = setup_.safety;
        if (!from_end() || !safety.slides_when_released || safety.stopped) return;
        // Down the slope along the deck, just above it.
        const double down = rotation_(2, 1) > 0 ? -1 : 1;
        const Vec2 middle = (casting_.low + casting_.high) / 2;
        const double half = (casting_.high.y() - casting_.low.y()) / 2;
        const double off = 3.5 / scale_.length(1);
        const Vec2 from = at({middle.x(), middle.y() + down * half * 0.45, off});
        const Vec2 to = at({middle.x(), middle.y() + down * half * 1.0, off});
        const Vec2 way = (to - from).normalized(), side(-way.y(), way.x());
        drawing_.line(from, to, {Ink::warn, 0.7});
        drawing_.polygon({to + way * 1.6, to - way * 1.4 + side * 1.3, to - way * 1.4 - side * 1.3},
                         Ink::warn, 1, {Ink::warn, 0.1});
        warning_sign({view_.width - 4.5, 5.5}, 5);
    }

    void words() {
        drawing_.text({1, 4}, "Setup " + setup_.id, 3.4, Anchor::start, Ink::line, true);
        const std::string set = attitude_words(setup_);
        const double at_x = 3.5 + words_width("Setup " + setup_.id, 3.4, Face::bold);
        const bool beside = at_x + words_width(set, 3.0) < view_.width - 8;
        drawing_.text({beside ? at_x : 1, beside ? 4 : 8}, set, 3.0);
        const auto& safety = setup_.safety;
        const bool warn = safety.slides_when_released && !safety.stopped;
        std::string line;
        if (warn)
            line = "SLIDES: tilt back first";
        else if (safety.slides_when_released)
            line = job_.fixture.captive ? "a captive fixture holds it" : "the posts stop a slide";
        else if (safety.friction_known)
            line = "stays when released";
        if (from_end())
            drawing_.text({1, view_.height - 5}, fitted(line, view_.width - 2, 2.6), 2.6, Anchor::start,
                          warn ? Ink::warn : Ink::faint, warn);
        drawing_.text({1, view_.height - 1.2},
                      fitted(fmt::format("{}, scale {}", from_end() ? "from the end" : "from the front",
                                         scale_.words()),
                             view_.width - 2, 2.6),
                      2.6, Anchor::start, Ink::faint);
    }

    const job::Job& job_;
    const hold::Hold& hold_;
    const hold::Setup& setup_;
    const HoldView& view_;
    Mat3 rotation_;
    Casting casting_;
    Scale scale_;
    Drawing drawing_;
    std::vector<std::pair<Vec2, Vec2>> lines_;
};

}  // namespace

Drawing draw_hold(const job::Job& job, const hold::Hold& hold, std::size_t setup, const HoldView& view) {
    HoldView trimmed = view;
    if (view.seen == Seen::from_front)  // a long head is low
        trimmed.height = std::min(view.height, HeldView(job, hold, setup, view).height_needed() + 0.01);
    return HeldView(job, hold, setup, trimmed).drawn();
}

}  // namespace seatwright::papers
