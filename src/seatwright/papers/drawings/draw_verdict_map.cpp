#include "seatwright/papers/drawings/draw_verdict_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/papers/drawings/casting.hpp"
#include "seatwright/papers/drawings/verdict_mark.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/scale.hpp"
#include "seatwright/prove/verdict.hpp"

namespace seatwright::papers {

namespace {

// Room round the outermost seats for the deck's edge (mm of head) where no bolt hole lies further out.
constexpr double deck_margin = 22;
constexpr double largest_mark = 3.5, largest_words = 3;  // mm of paper
constexpr double in_ring = 0.34;                         // mark and letters, of a ring's radius
constexpr double small_mark = 1.25;                      // mm of paper, where letters are at their least
constexpr double legend_row = 6, legend_foot = 2, legend_size = 2.6, edge = 2, strip_gap = 2.5;
constexpr std::size_t most_strips = 8;

// What stands at one seat.
struct Mark {
    prove::Verdict verdict = prove::Verdict::not_measured;
    std::string words;
};

enum class Lettered {
    in_rings,  // id, mark and words inside each ring
    clear,     // at the least size over the rings: id, mark, words
    no_words   // id and mark alone
};

struct Layout {
    std::vector<Strip> strips;
    Extent2 shown;  // mm of head
    double scale = 1;
    Lettered lettered = Lettered::in_rings;
    double strip_height() const { return scale * shown.size().y(); }
    double height() const {
        const auto n = static_cast<double>(strips.size());
        return 2 * edge + n * strip_height() + (n - 1) * strip_gap;  // the legend goes under it
    }
};

class PositionMap {
  public:
    PositionMap(const job::Job& job, std::vector<Mark> marks, const VerdictMapView& view)
        : job_(job), marks_(std::move(marks)), view_(view) {
        layout_ = whole();
        if (view.medium == Medium::screen || rings_readable()) return;
        for (const Lettered lettered : {Lettered::clear, Lettered::no_words})
            for (std::size_t n = 1; n <= most_strips; ++n) {
                layout_ = parted(n, lettered);
                if (cells_clear()) return;
                if (lettered == Lettered::clear && n >= word_strips) break;
            }
    }

    Drawing drawn(const std::string& title, const std::string& description,
                  const std::vector<std::pair<prove::Verdict, std::string>>& legend) const {
        struct Worded {
            Vec2 at;
            const std::pair<prove::Verdict, std::string>* said;
        };
        std::vector<Worded> words;
        double x = edge, y = layout_.height() + legend_row / 2;
        for (const auto& each : legend) {
            const double wide = 8 + words_width(each.second, legend_size);
            if (x > edge && x + wide > view_.width) {
                x = edge;
                y += legend_row;
            }
            words.push_back({{x, y}, &each});
            x += wide + 3;
        }
        Drawing d(view_.width, y + legend_row / 2 + legend_foot, title, description);
        double top = edge;
        for (const auto& strip : layout_.strips) {
            draw_strip(d, strip, top);
            top += layout_.strip_height() + strip_gap;
        }
        for (const auto& [at, said] : words) {
            verdict_mark(d, at + Vec2(2, 0), 1.5, said->first);
            d.text(at + Vec2(5, 1), said->second, legend_size);
        }
        return d;
    }

  private:
    // Words in a strip or two take little paper; in more they are left to the legend.
    static constexpr std::size_t word_strips = 2;

    // All of the deck with its bolt holes in one strip.
    Layout whole() const {
        Layout out;
        const auto& head = job_.head;
        for (const auto& v : head.valves) out.shown.hold(v.seat.head<2>(), deck_margin);
        for (const auto& hole : head.bolt_holes) out.shown.hold(hole, deck_margin / 2);
        out.strips = strips_of(head, out.shown.low.x(), out.shown.high.x(), 1);
        out.scale = (view_.width - 2 * edge) / out.shown.size().x();
        return out;
    }

    // No more of the deck than the seats take.
    Layout parted(std::size_t count, Lettered lettered) const {
        Layout out;
        out.lettered = lettered;
        const auto& head = job_.head;
        for (const auto& v : head.valves) out.shown.hold(v.seat.head<2>(), drawn_radius(job_, v.kind));
        out.strips = strips_of(head, out.shown.low.x(), out.shown.high.x(), count);
        double widest = 0;
        for (const auto& strip : out.strips) widest = std::max(widest, strip.high - strip.low);
        out.scale = (view_.width - 4 * edge) / widest;
        // Letters may stand out over the rings of the outer rows.
        const double over = std::max(0.0, cell(lettered).y() / 2 / out.scale - drawn_radius_least());
        out.shown.low.y() -= over + edge / out.scale;
        out.shown.high.y() += over + edge / out.scale;
        return out;
    }

    double drawn_radius_least() const {
        return std::min(drawn_radius(job_, job::Kind::intake), drawn_radius(job_, job::Kind::exhaust));
    }

    bool rings_readable() const {
        for (std::size_t v = 0; v < marks_.size(); ++v) {
            const double r = layout_.scale * drawn_radius(job_, job_.head.valves[v].kind);
            if (in_ring * r < least_size || words_width(marks_[v].words, least_size) > words_room * r)
                return false;
        }
        return true;
    }

    // The paper one seat's letters and mark take: the widest.
    Vec2 cell(Lettered lettered) const {
        double wide = 2 * small_mark;
        for (std::size_t v = 0; v < marks_.size(); ++v) {
            wide = std::max(wide, words_width(job_.head.valves[v].id, least_size, Face::bold));
            if (lettered == Lettered::clear) wide = std::max(wide, words_width(marks_[v].words, least_size));
        }
        const double high =
            least_size + 2 * small_mark + (lettered == Lettered::clear ? least_size + 0.6 : 0);
        return {wide + 0.5, high + 0.8};
    }

    bool cells_clear() const {
        const Vec2 room = cell(layout_.lettered);
        const auto& valves = job_.head.valves;
        for (std::size_t i = 0; i < valves.size(); ++i)
            for (std::size_t k = 0; k < i; ++k) {
                const Vec2 apart = (valves[i].seat - valves[k].seat).head<2>().cwiseAbs() * layout_.scale;
                if (apart.x() < room.x() && apart.y() < room.y()) return false;
            }
        return true;
    }

    void draw_strip(Drawing& d, const Strip& strip, double top) const {
        const auto& head = job_.head;
        const double left = layout_.strips.size() > 1 ? 2 * edge : edge;
        const auto paper = [&](const Vec2& p) {
            return Vec2(left + (p.x() - strip.low) * layout_.scale,
                        top + (layout_.shown.high.y() - p.y()) * layout_.scale);
        };
        const double right = paper({strip.high, 0}).x(), bottom = top + layout_.strip_height();
        const double out = left - edge;  // of the frame beyond the strip
        d.rect({left - out, top}, right - left + 2 * out, bottom - top, {Ink::line, 0.3});
        if (layout_.lettered == Lettered::in_rings)
            for (const auto& hole : head.bolt_holes)
                d.circle(paper(hole), std::max(0.4, layout_.scale * head.bolt_hole_diameter.value_or(10) / 2),
                         {Ink::faint, 0.2});
        for (std::size_t v = 0; v < head.valves.size(); ++v)
            if (strip.holds(head.valves[v].seat.x())) draw_seat(d, v, paper(head.valves[v].seat.head<2>()));
    }

    void draw_seat(Drawing& d, std::size_t v, const Vec2& at) const {
        const auto& valve = job_.head.valves[v];
        const auto& mark = marks_[v];
        const double radius = layout_.scale * drawn_radius(job_, valve.kind);
        d.begin_group(fmt::format("verdict-{}", v), valve.id);
        if (layout_.lettered == Lettered::in_rings) {
            d.circle(at, radius, {Ink::line, 0.2});
            // All inside the seat's own circle: seats of two rows may all but touch.
            const double size = std::min(in_ring * radius, largest_words);
            d.text(at + Vec2(0, -0.47 * radius), valve.id, size, Anchor::middle, Ink::line, true);
            verdict_mark(d, at, std::min(in_ring * radius, largest_mark), mark.verdict);
            const double fitting = words_room * radius / std::max(0.1, words_width(mark.words, 1));
            d.text(at + Vec2(0, 0.68 * radius), mark.words, std::min({size, fitting, 0.3 * radius}),
                   Anchor::middle, verdict_ink(mark.verdict));
        } else {
            const bool words = layout_.lettered == Lettered::clear;
            d.circle(at, radius, {Ink::faint, 0.15});
            const double top = at.y() - cell(layout_.lettered).y() / 2 + 0.4;
            d.text({at.x(), top + 0.8 * least_size}, valve.id, least_size, Anchor::middle, Ink::line, true);
            verdict_mark(d, {at.x(), top + least_size + small_mark}, small_mark, mark.verdict);
            if (words)
                d.text({at.x(), top + 2 * least_size + 2 * small_mark + 0.2}, mark.words, least_size,
                       Anchor::middle, verdict_ink(mark.verdict));
        }
        d.end_group();
    }

    static constexpr double words_room = 1.5;  // of a ring's radius, at the height of the words
    const job::Job& job_;
    std::vector<Mark> marks_;
    VerdictMapView view_;
    Layout layout_;
};

constexpr prove::Verdict all_verdicts[] = {prove::Verdict::pass, prove::Verdict::fail,
                                           prove::Verdict::undecided, prove::Verdict::not_measured};

}  // namespace

Drawing draw_verdict_map(const job::Job& job, const prove::Proof& proof, const std::string& head,
                         const VerdictMapView& view) {
    std::vector<Mark> marks(job.head.valves.size(), {prove::Verdict::not_measured, ""});
    for (const auto& seat : proof.seats)
        if (seat.head == head) marks[seat.valve].verdict = seat.verdict;
    for (auto& mark : marks) mark.words = prove::word(mark.verdict);
    std::vector<std::pair<prove::Verdict, std::string>> legend;
    for (const auto verdict : all_verdicts) legend.emplace_back(verdict, prove::word(verdict));
    return PositionMap(job, std::move(marks), view)
        .drawn(fmt::format("Verdicts of head {}", head), "Plan of the head, each seat marked by its verdict",
               legend);
}

std::vector<PositionCount> count_positions(const job::Job& job, const prove::Proof& proof) {
    std::vector<PositionCount> out(job.head.valves.size());
    for (const auto& seat : proof.seats) {
        auto& count = out[seat.valve];
        if (seat.verdict == prove::Verdict::not_measured) continue;
        ++count.measured;
        count.fail += seat.verdict == prove::Verdict::fail ? 1 : 0;
        count.undecided += seat.verdict == prove::Verdict::undecided ? 1 : 0;
        count.pass += seat.verdict == prove::Verdict::pass ? 1 : 0;
    }
    for (auto& count : out)
        count.worst = count.fail > 0        ? prove::Verdict::fail
                      : count.undecided > 0 ? prove::Verdict::undecided
                      : count.pass > 0      ? prove::Verdict::pass
                                            : prove::Verdict::not_measured;
    return out;
}

Drawing draw_position_map(const job::Job& job, const prove::Proof& proof, const VerdictMapView& view) {
    std::vector<Mark> marks;
    for (const auto& count : count_positions(job, proof)) {
        const std::size_t of_worst = count.worst == prove::Verdict::fail        ? count.fail
                                     : count.worst == prove::Verdict::undecided ? count.undecided
                                                                                : count.pass;
        marks.push_back({count.worst, count.measured > 0 ? fmt::format("{}/{}", of_worst, count.measured)
                                                         : std::string("–")});
    }
    return PositionMap(job, std::move(marks), view)
        .drawn("Verdicts by position",
               "Plan of the head, each position marked by its worst verdict on any head",
               {{prove::Verdict::pass, "passed on all measured"},
                {prove::Verdict::fail, "failed on so many of those measured"},
                {prove::Verdict::undecided, "none failed, so many undecided"},
                {prove::Verdict::not_measured, "not measured"}});
}

}  // namespace seatwright::papers
