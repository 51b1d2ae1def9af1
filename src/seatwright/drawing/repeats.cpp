// What repeats over a drawn head, offered with the chance that it is chance (survey/pattern.hpp).
#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/drawing/told.hpp"
#include "seatwright/survey/pattern.hpp"
#include "seatwright/words/english_drawing.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::drawing {
namespace {

class Offers {
  public:
    explicit Offers(const Drawing& drawing) : d_(drawing) {}

    std::vector<survey::Repeat> take() {
        spacing();
        order();
        rows();
        return std::move(out_);
    }

  private:
    void offer(std::string what, std::optional<double> value, double residual, double window,
               std::size_t spare, Sentence words) {
        const double chance = survey::chance_of(std::max(residual, 2 * d_.u_place), window, spare);
        constexpr double worth_offering = 0.01;
        if (spare > 0 && chance < worth_offering)
            out_.push_back({std::move(what), value, residual, chance, std::move(words)});
    }

    // Centres of the cylinders by their valves, in the head frame.
    std::vector<Vec2> centres() const {
        std::map<int, std::pair<Vec2, int>> sums;
        for (const auto& v : d_.valves) {
            auto& [sum, n] = sums.try_emplace(v.cylinder, Vec2::Zero(), 0).first->second;
            sum += Vec2(*v.x.value, *v.y.value);
            ++n;
        }
        std::vector<Vec2> out;
        out.reserve(sums.size());
        for (const auto& [cylinder, s] : sums) out.push_back(s.first / s.second);
        return out;
    }

    void spacing() {
        const auto c = centres();
        if (c.size() < 2) return;
        const double n = static_cast<double>(c.size());
        double xx = 0, xk = 0;
        for (std::size_t k = 0; k < c.size(); ++k) {
            const double d = static_cast<double>(k) - (n - 1) / 2;
            xk += d * c[k].x();
            xx += d * d;
        }
        spacing_ = xk / xx;
        double mean = 0, residual = 0;
        for (const auto& p : c) mean += p.x() / n;
        for (std::size_t k = 0; k < c.size(); ++k)
            residual = std::max(
                residual, std::abs(c[k].x() - mean - spacing_ * (static_cast<double>(k) - (n - 1) / 2)));
        offer("bore spacing", spacing_, residual, spacing_, c.size() - 2,
              survey::sentence<"cylinders-repeat">("spacing"_is = as_length(spacing_),
                                                   "residual"_is = as_length(residual)));
    }

    // Places of a cylinder's valves about its centre, sorted; `mirrored`: x the other way round.
    std::vector<Vec2> about(int cylinder, const Vec2& centre, bool mirrored) const {
        std::vector<Vec2> out;
        for (const auto& v : d_.valves)
            if (v.cylinder == cylinder) {
                const Vec2 d = Vec2(*v.x.value, *v.y.value) - centre;
                out.emplace_back(mirrored ? -d.x() : d.x(), d.y());
            }
        return out;
    }

    static double unlike(std::vector<Vec2> a, const std::vector<Vec2>& b) {
        double worst = 0;
        for (const auto& p : b) {
            const auto near = std::min_element(a.begin(), a.end(), [&](const Vec2& x, const Vec2& y) {
                return (x - p).norm() < (y - p).norm();
            });
            if (near == a.end()) return 1e9;
            worst = std::max(worst, (*near - p).cwiseAbs().maxCoeff());
            a.erase(near);
        }
        return worst;
    }

    void order() {
        if (d_.cylinders < 2) return;
        const auto c = centres();
        double same = 0, mirrored = 0;
        for (int k = 2; k <= d_.cylinders; ++k) {
            const auto first = about(1, c[0], false);
            const auto at = static_cast<std::size_t>(k - 1);
            same = std::max(same, unlike(first, about(k, c[at], false)));
            mirrored = std::max(mirrored, unlike(first, about(k, c[at], k % 2 == 0)));
        }
        constexpr double decided = 1;
        if (std::abs(same - mirrored) < decided) return;
        const bool turned = mirrored < same;
        const std::size_t spare = 2 * (d_.valves.size() / static_cast<std::size_t>(d_.cylinders) - 1) *
                                  static_cast<std::size_t>(d_.cylinders - 1);
        offer(turned ? "alternate order mirrored" : "alternate order same", std::nullopt,
              std::min(same, mirrored), std::abs(spacing_), spare,
              turned ? survey::sentence<"second-other-way">() : survey::sentence<"all-same-way">());
    }

    void rows() {
        constexpr double across_window = 20;
        std::map<std::string, std::vector<double>> like;
        for (const auto& v : d_.valves) like[v.id.substr(v.id.find_first_of("IE"))].push_back(*v.y.value);
        const auto row = [&](const std::string& what, const std::vector<double>& ys, std::size_t fitted,
                             const Sentence& which) {
            if (ys.size() <= fitted) return;
            const auto [low, high] = std::minmax_element(ys.begin(), ys.end());
            double mean = 0;
            for (const double y : ys) mean += y / static_cast<double>(ys.size());
            const double residual = std::max(*high - mean, mean - *low);
            offer(what, mean, residual, across_window, ys.size() - fitted,
                  sentence<"in-a-row">("which"_is = which, "y"_is = as_length(mean),
                                       "residual"_is = as_length(residual)));
        };
        for (const auto& [letters, ys] : like)
            row("row of guides " + letters, ys, 1, sentence<"guides-stand">("letters"_is = letters));
        std::vector<std::vector<double>> lines;
        for (const auto& h : d_.holes) {
            if (h.kind != survey::HoleKind::bolt) continue;
            const auto line = std::find_if(lines.begin(), lines.end(),
                                           [&](const auto& l) { return std::abs(l[0] - *h.y.value) < 0.5; });
            if (line == lines.end()) {
                lines.push_back({*h.y.value});
            } else {
                line->push_back(*h.y.value);
            }
        }
        for (const auto& ys : lines)
            row("row of holes", ys, 2, sentence<"holes-stand">("count"_is = ys.size()));
    }

    const Drawing& d_;
    std::vector<survey::Repeat> out_;
    double spacing_ = 0;
};

}  // namespace

std::vector<survey::Repeat> repeats_of(const Drawing& drawing) {
    return Offers(drawing).take();
}

}  // namespace seatwright::drawing
