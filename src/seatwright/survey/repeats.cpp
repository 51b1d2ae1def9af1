#include "seatwright/survey/repeats.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/base/numerics/statistics.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

constexpr double height_window = 10, lean_window = 10 * rad_per_deg, across_window = 20;
constexpr double worth_offering = 0.01;

struct Spread {
    double mean = 0, residual = 0, told_apart = 0;
    std::size_t spare = 0;
    double chance(double window) const { return chance_of(std::max(residual, told_apart), window, spare); }
};

Spread spread_of(const std::vector<double>& values, const std::vector<double>& us) {
    Spread out;
    if (values.empty()) return out;
    out.mean = numerics::summary(values).mean;
    for (std::size_t i = 0; i < values.size(); ++i) {
        out.residual = std::max(out.residual, std::abs(values[i] - out.mean));
        out.told_apart = std::max(out.told_apart, 2 * us[i]);
    }
    out.spare = values.size() - 1;
    return out;
}

class Offers {
  public:
    Offers(const State& state, const std::optional<Pattern>& pattern)
        : s_(state), l_(state.layout), pattern_(pattern) {}

    std::vector<Repeat> take() {
        of_cylinders();
        std::map<std::string, std::vector<std::size_t>> like;
        for (std::size_t g = 0; g < l_.guides.size(); ++g)
            like[guide_name(l_.guides[g])->letters].push_back(g);
        for (const auto& [letters, guides] : like) of_like(letters, guides);
        of_holes();
        std::stable_sort(out_.begin(), out_.end(),
                         [](const Repeat& a, const Repeat& b) { return a.chance < b.chance; });
        return std::move(out_);
    }

  private:
    void offer(Repeat repeat) {
        if (repeat.chance < worth_offering) out_.push_back(std::move(repeat));
    }

    void of_cylinders() {
        if (!pattern_ || pattern_->strays.size() > 0) return;
        const auto& p = *pattern_;
        offer({"bore spacing", std::abs(p.spacing), p.residual, p.chance,
               sentence<"cylinders-repeat">("spacing"_is = as_length(std::abs(p.spacing)),
                                            "residual"_is = as_length(p.residual))});
        if (!p.decided) return;
        offer({p.mirrored ? "alternate order mirrored" : "alternate order same", std::nullopt, p.residual,
               p.chance, p.mirrored ? sentence<"second-other-way">() : sentence<"all-same-way">()});
    }

    Spread of_figure(const std::vector<std::size_t>& guides, int figure, bool turned) const {
        std::vector<double> values, us;
        for (const auto g : guides) {
            if (figure == 1 ? !s_.flat_closed(Row::Of::guide, g) : !s_.closed(g, figure)) continue;
            const double v = s_.solution.unknowns[l_.guide(g) + figure];
            const bool even = guide_name(l_.guides[g])->cylinder % 2 == 0;
            values.push_back(turned && even ? -v : v);
            us.push_back(s_.u(l_.guide(g) + figure));
        }
        return spread_of(values, us);
    }

    void of_like(const std::string& letters, const std::vector<std::size_t>& guides) {
        const Spread y = of_figure(guides, 1, false), z = of_figure(guides, 2, false),
                     incline = of_figure(guides, 3, false);
        const Spread cant = of_figure(guides, 4, pattern_ && pattern_->mirrored);
        if (y.spare > 0)
            offer({"row of guides " + letters, y.mean, y.residual, y.chance(across_window),
                   sentence<"guides-in-row">("letters"_is = letters, "y"_is = as_length(y.mean),
                                             "residual"_is = as_length(y.residual))});
        if (z.spare == 0 || incline.spare == 0 || cant.spare == 0) return;
        offer({"like valves " + letters, z.mean, z.residual,
               z.chance(height_window) * incline.chance(lean_window) * cant.chance(lean_window),
               sentence<"valves-alike">(
                   "letters"_is = letters, "z"_is = as_length(z.mean), "z_within"_is = as_length(z.residual),
                   "incline"_is = as_degrees(incline.mean, 2),
                   "incline_within"_is = as_degrees(incline.residual, 2),
                   "cant"_is = as_degrees(cant.mean, 2), "cant_within"_is = as_degrees(cant.residual, 2))});
    }

    // Holes that stand in a row, and evenly in it.
    void of_holes() {
        std::vector<std::size_t> left;
        for (std::size_t h = 0; h < l_.holes.size(); ++h)
            if (s_.flat_closed(Row::Of::hole, h)) left.push_back(h);
        const auto at = [&](std::size_t h) -> Vec2 { return s_.solution.unknowns.segment<2>(l_.hole(h)); };
        while (!left.empty()) {
            std::vector<std::size_t> row, rest;
            for (const auto h : left) (std::abs(at(h).y() - at(left[0]).y()) < 1 ? row : rest).push_back(h);
            left = std::move(rest);
            if (row.size() > 1) of_row(row);
        }
    }

    void of_row(std::vector<std::size_t> row) {
        const auto x = [&](std::size_t h) { return s_.solution.unknowns[l_.hole(h)]; };
        std::sort(row.begin(), row.end(), [&](std::size_t a, std::size_t b) { return x(a) < x(b); });
        std::vector<double> ys, us, xs;
        for (const auto h : row) {
            ys.push_back(s_.solution.unknowns[l_.hole(h) + 1]);
            xs.push_back(x(h));
            us.push_back(s_.u(l_.hole(h)));
        }
        const Spread y = spread_of(ys, us);
        // Two holes make the line: only a third says that it is one.
        if (row.size() > 2)
            offer({"row of holes", y.mean, y.residual,
                   chance_of(std::max(y.residual, y.told_apart), across_window, row.size() - 2),
                   sentence<"holes-in-row">("count"_is = row.size(), "y"_is = as_length(y.mean),
                                            "residual"_is = as_length(y.residual))});
        if (row.size() < 3) return;
        std::vector<double> steps, step_us;
        for (std::size_t i = 1; i < row.size(); ++i) {
            steps.push_back(xs[i] - xs[i - 1]);
            step_us.push_back(std::hypot(us[i], us[i - 1]));
        }
        const Spread step = spread_of(steps, step_us);
        offer({"hole spacing", step.mean, step.residual, step.chance(step.mean),
               sentence<"holes-every">("count"_is = row.size(), "step"_is = as_length(step.mean),
                                       "residual"_is = as_length(step.residual))});
    }

    const State& s_;
    const Layout& l_;
    const std::optional<Pattern>& pattern_;
    std::vector<Repeat> out_;
};

}  // namespace

std::vector<Repeat> repeats_of(const State& state, const std::optional<Pattern>& pattern) {
    return Offers(state, pattern).take();
}

}  // namespace seatwright::survey
