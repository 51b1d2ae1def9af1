#include "seatwright/shape/window.hpp"

#include <algorithm>

namespace seatwright::shape {

namespace {

class Bounds {
  public:
    void least(std::optional<double> bound, double now, double per, const char* what) {
        if (!bound) return;
        const double v = (*bound - now) / per;
        if (v > window.least) window.least = v, window.least_by = what;
    }
    void most(std::optional<double> bound, double now, double per, const char* what) {
        if (!bound) return;
        const double v = (*bound - now) / per;
        if (v < window.most) window.most = v, window.most_by = what;
    }
    Window window;
};

}  // namespace

double metal_below(const job::Insert& insert, const Section& section) {
    const double bore = insert.inside / 2;
    double lowest = section.points.back().y();
    for (std::size_t i = 0; i + 1 < section.points.size(); ++i) {
        const Vec2 a = section.points[i], b = section.points[i + 1];
        if (b.x() <= bore) continue;
        const double z = a.x() >= bore ? a.y() : a.y() + (b.y() - a.y()) * (bore - a.x()) / (b.x() - a.x());
        lowest = std::min(lowest, z);
    }
    return insert.depth - (section.points.back().y() - lowest);
}

std::optional<double> below_deck_now(const job::Job& job, const job::Valve& valve, const Before& before,
                                     const OldHeight& height) {
    if (before.below_deck) return *before.below_deck - (before.below_after_deck_cut ? 0 : job.depth.deck_cut);
    const auto& drawing = job.seat[valve.kind]->below_deck;
    const auto recession = height.absolute();
    if (!drawing || !recession) return std::nullopt;
    return *drawing + valve.axis().z() * *recession - job.depth.deck_cut;
}

Window depth_window(const job::Job& job, const job::Valve& valve, const Section& section,
                    const Before& before, const OldHeight& height) {
    const job::SeatForm& form = *job.seat[valve.kind];
    Bounds b;
    if (const auto stem = stem_before(form, before)) {
        b.least(form.stem_height_min, *stem, 1, "stem height");
        b.most(form.stem_height_max, *stem, 1, "stem height");
    }
    if (const auto recession = height.absolute()) {
        b.least(form.recession_min, *recession, 1, "recession");
        b.most(form.recession_max, *recession, 1, "recession");
    }
    if (const auto below = below_deck_now(job, valve, before, height)) {
        b.least(form.below_deck_min, *below, valve.axis().z(), "below deck");
        b.most(form.below_deck_max, *below, valve.axis().z(), "below deck");
    }
    if (form.insert) b.most(metal_below(*form.insert, section), 0, 1, "insert thickness");
    return b.window;
}

Window finish_window(const job::Job& job, const job::Valve& valve, const Section& section,
                     const Before& before, const OldHeight& height) {
    const job::SeatForm& form = *job.seat[valve.kind];
    const auto recession = height.absolute();
    Bounds b;
    b.least(form.recession_min, 0, 1, "recession");
    b.most(form.recession_max, 0, 1, "recession");
    const auto stem =
        before.stem_height && recession ? std::optional(*before.stem_height - *recession) : form.stem_height;
    if (stem) {
        b.least(form.stem_height_min, *stem, 1, "stem height");
        b.most(form.stem_height_max, *stem, 1, "stem height");
    }
    const auto drawn = form.below_deck ? std::optional(*form.below_deck - job.depth.deck_cut) : std::nullopt;
    const auto below = below_deck_now(job, valve, before, height);
    const double up = valve.axis().z();
    if (const auto at = below && recession ? std::optional(*below - up * *recession) : drawn) {
        b.least(form.below_deck_min, *at, up, "below deck");
        b.most(form.below_deck_max, *at, up, "below deck");
    }
    if (form.insert) b.most(metal_below(*form.insert, section), 0, 1, "insert thickness");
    return b.window;
}

}  // namespace seatwright::shape
