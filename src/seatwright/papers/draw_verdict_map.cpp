#include "seatwright/papers/draw_verdict_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/papers/verdict_mark.hpp"

namespace seatwright::papers {

namespace {

// Room round the outermost seats for the deck's edge (mm of head) where no bolt hole lies further out.
constexpr double deck_margin = 22;
constexpr double seat_mm = 36;  // drawn diameter of a seat where the valve's size is not known
constexpr double largest_mark = 3.5, largest_words = 3;  // mm of paper
constexpr double advance = 0.58;                         // of a letter, in ems

struct Extent {
    Vec2 low, high;
};

Extent extent_of(const job::Head& head) {
    Vec2 low = head.valves.front().seat.head<2>(), high = low;
    const auto take = [&](const Vec2& p, double room) {
        low = low.cwiseMin(p - Vec2(room, room));
        high = high.cwiseMax(p + Vec2(room, room));
    };
    for (const auto& v : head.valves) take(v.seat.head<2>(), deck_margin);
    for (const auto& hole : head.bolt_holes) take(hole, deck_margin / 2);
    return {low, high};
}

prove::Verdict verdict_of(const prove::Proof& proof, const std::string& head, std::size_t valve) {
    for (const auto& seat : proof.seats)
        if (seat.head == head && seat.valve == valve) return seat.verdict;
    return prove::Verdict::not_measured;
}

double seat_diameter(const job::Job& job, job::Kind kind) {
    return job.valve[kind] ? job.valve[kind]->head_diameter : seat_mm;
}

}  // namespace

Drawing draw_verdict_map(const job::Job& job, const prove::Proof& proof, const std::string& head,
                         double width) {
    const Extent extent = extent_of(job.head);
    const double scale = (width - 4) / (extent.high.x() - extent.low.x());
    const double height = scale * (extent.high.y() - extent.low.y()) + 10;
    Drawing d(width, height, fmt::format("Verdicts of head {}", head),
              "Plan of the head, each seat marked by its verdict");
    const auto paper = [&](const Vec2& p) {
        return Vec2(2 + (p.x() - extent.low.x()) * scale, 2 + (extent.high.y() - p.y()) * scale);
    };
    const Vec2 corner = paper({extent.low.x(), extent.high.y()});
    d.rect(corner, width - 4, scale * (extent.high.y() - extent.low.y()), {Ink::line, 0.3});
    for (const auto& hole : job.head.bolt_holes)
        d.circle(paper(hole), std::max(0.4, scale * job.head.bolt_hole_diameter.value_or(10) / 2),
                 {Ink::faint, 0.2});
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        const auto& valve = job.head.valves[v];
        const Vec2 at = paper(valve.seat.head<2>());
        const double radius = scale * seat_diameter(job, valve.kind) / 2;
        const auto verdict = verdict_of(proof, head, v);
        d.begin_group(fmt::format("verdict-{}", v), valve.id);
        d.circle(at, radius, {Ink::line, 0.2});
        // All inside the seat's own circle: seats of two rows may all but touch.
        const double size = std::min(0.34 * radius, largest_words);
        d.text(at + Vec2(0, -0.47 * radius), valve.id, size, Anchor::middle, Ink::line, true);
        verdict_mark(d, at, std::min(0.34 * radius, largest_mark), verdict);
        const std::string words = prove::word(verdict);
        const double fitting = 1.5 * radius / (advance * static_cast<double>(words.size()));
        d.text(at + Vec2(0, 0.68 * radius), words, std::min({size, fitting, 0.3 * radius}), Anchor::middle,
               verdict_ink(verdict));
        d.end_group();
    }
    double x = 2;
    for (const auto verdict : {prove::Verdict::pass, prove::Verdict::fail, prove::Verdict::undecided,
                               prove::Verdict::not_measured}) {
        verdict_mark(d, {x + 2, height - 4}, 1.5, verdict);
        d.text({x + 5, height - 3}, prove::word(verdict), 2.6);
        x += 30;
    }
    return d;
}

}  // namespace seatwright::papers
