#include "seatwright/papers/drawings/head_layout.hpp"

#include <algorithm>

#include "seatwright/papers/page/lettering.hpp"

namespace seatwright::papers {

namespace {

// mm of paper: for words above the casting; below it for the post dimension, scale and legend, or where
// strips leave no dimension, for words alone; between strips; left and right.
constexpr double above_strips = 6, below_strips = 19, words_room = 12.5, between_strips = 2.5,
                 beside_strips = 3;
constexpr double largest_id = 3.4;
constexpr double least_apart = 0.4;  // mm of paper between two ids on one line
constexpr std::size_t most_head_strips = 8;
constexpr double least_strip = 8;  // mm of paper, lower is not drawn

// No two ids of the least size run into each other.
bool ids_clear(const job::Job& job, const Scale& scale) {
    const auto& valves = job.head.valves;
    for (std::size_t i = 0; i < valves.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            const Vec2 apart = (valves[i].seat - valves[k].seat).head<2>().cwiseAbs() * scale.length(1);
            const double wide =
                (words_width(valves[i].id, least_size) + words_width(valves[k].id, least_size)) / 2;
            if (apart.y() < least_size && apart.x() < wide + least_apart) return false;
        }
    return true;
}

// What of it can be read at that scale.
Marks readable(const job::Job& job, const hold::Hold& hold, const Scale& scale) {
    const auto all = [&](Marks marks, double least) {
        return std::all_of(job.head.valves.begin(), job.head.valves.end(),
                           [&](const auto& v) { return id_size(job, v, scale, marks) >= least; });
    };
    if (hold.setups.size() > 1 && all(Marks::ids_and_setups, least_size / letter_ratio))
        return Marks::ids_and_setups;
    return all(Marks::ids, least_size) || ids_clear(job, scale) ? Marks::ids : Marks::cylinders;
}

HeadLayout layout_of(const job::Job& job, const Casting& casting, const HeadView& view, std::size_t count) {
    HeadLayout out;
    out.strips = strips_of(job.head, casting.low.x(), casting.high.x(), count);
    double widest = 0;
    for (const auto& strip : out.strips) widest = std::max(widest, strip.high - strip.low);
    const bool parted = out.strips.size() > 1;
    const double below = parted ? words_room : below_strips;
    const auto n = static_cast<double>(out.strips.size());
    const auto extent = [&](double from) {
        Extent2 e;
        e.hold({from, casting.low.y()});
        e.hold({from + widest, casting.high.y()});
        return e;
    };
    const double tall = casting.high.y() - casting.low.y();
    const double room =
        std::max(least_strip, (view.height - above_strips - below - between_strips * (n - 1)) / n);
    const Scale fitting(extent(0), Frame{{0, 0}, view.width - 2 * beside_strips, room});
    const double high = fitting.length(tall);
    double top = above_strips;
    for (const auto& strip : out.strips) {
        out.scales.emplace_back(
            extent(strip.low),
            Frame{{beside_strips, top}, view.width - 2 * beside_strips, high * (1 + 1e-9)});
        top += high + between_strips;
    }
    out.height = top - between_strips + below;
    return out;
}

// The fewest strips in which all can be read; where none can, what shows the most.
HeadLayout layout_for_print(const job::Job& job, const hold::Hold& hold, const Casting& casting,
                            const HeadView& view) {
    HeadLayout best;
    for (std::size_t count = 1; count <= most_head_strips; ++count) {
        HeadLayout layout = layout_of(job, casting, view, count);
        if (layout.strips.size() < count || (count > 1 && layout.height > view.height + 1e-6)) break;
        layout.marks = readable(job, hold, layout.scales.front());
        if (count == 1 || layout.marks < best.marks ||
            (layout.marks == best.marks && best.marks == Marks::cylinders &&
             layout.scales.front().length(1) > best.scales.front().length(1)))
            best = layout;
        if (best.marks != Marks::cylinders) break;
    }
    return best;
}

}  // namespace

double id_size(const job::Job& job, const job::Valve& valve, const Scale& scale, Marks marks) {
    const double r = scale.length(drawn_radius(job, valve.kind));
    const double wide = std::max(0.1, words_width(valve.id, largest_id, Face::bold));
    return std::min(
        {largest_id, r * (marks == Marks::ids_and_setups ? 0.75 : 0.95), largest_id * 1.5 * r / wide});
}

HeadLayout head_layout(const job::Job& job, const hold::Hold& hold, const Casting& casting,
                       const HeadView& view) {
    return view.medium == Medium::print ? layout_for_print(job, hold, casting, view)
                                        : layout_of(job, casting, view, 1);
}

}  // namespace seatwright::papers
