#include "seatwright/drawing/told.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "seatwright/drawing/leans.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/survey/pattern.hpp"
#include "seatwright/words/english_drawing.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::drawing {
namespace {

class Teller {
  public:
    Teller(const Known& known, Drawing& out) : k_(known), out_(out) {}

    void all() {
        groups();
        spacing();
        order();
        rows();
        missing();
        warnings();
        assumptions();
    }

  private:
    void warn(const char* code, Sentence text, Severity severity = Severity::note) {
        out_.warnings.push_back({"drawing", code, std::nullopt, std::move(text), severity});
    }

    // ---------------------------------------------------------------- groups
    void groups() {
        std::vector<Group> groups(k_.marks.groups);
        std::vector<std::set<std::string>> layers(groups.size());
        std::map<std::size_t, std::string> taken;
        for (const auto& c : k_.layout.cylinders)
            for (const auto m : c.valves) {
                const auto kind = k_.kinds.of.at(m);
                taken[m] = kind ? fmt::format("{} valves", job::kind_word(*kind)) : "valves";
            }
        for (const auto m : k_.holes.bolts) taken[m] = "bolt holes";
        for (const auto m : k_.holes.plugs) taken[m] = "plugs";
        for (const auto m : k_.holes.others) taken[m] = "other holes";
        for (std::size_t m = 0; m < k_.marks.marks.size(); ++m) {
            const auto& mark = k_.marks.marks[m];
            auto& g = groups[mark.group];
            if (g.count++ == 0) {
                for (const auto& ring : mark.rings) g.diameters.push_back(2 * ring.a);
                g.what = taken[m];
            } else if (g.what != taken[m]) {
                g.what = "in part " + g.what.substr(g.what.starts_with("in part ") ? 8 : 0);
            }
            for (const auto& ring : mark.rings) layers[mark.group].insert(ring.layer);
        }
        for (std::size_t i = 0; i < groups.size(); ++i) {
            groups[i].name = group_name(i);
            groups[i].layers.assign(layers[i].begin(), layers[i].end());
            why(groups[i], i);
            out_.groups.push_back(std::move(groups[i]));
        }
        bounds();
    }

    void why(Group& g, std::size_t i) const {
        if (!k_.names[i].empty()) {
            g.why = "so named";
        } else if (g.what.ends_with("valves")) {
            g.why = "circles about one centre, the largest several times the smallest";
            if (!k_.kinds.why.empty() && !g.what.starts_with("valves"))
                g.why += g.what.starts_with("intake") ? "; intakes: " + k_.kinds.why : "";
            g.sure = !k_.layout.takes_in_weak;
        } else if (g.what.ends_with("bolt holes")) {
            g.why =
                "one size, in rows along the head on both sides of the valves and beyond the end cylinders";
            g.sure = k_.holes.rivals.empty();
        } else if (g.what.ends_with("plugs")) {
            g.why = "within the bores, as many in every cylinder";
        }
        if (!k_.hints[i].empty() && k_.names[i].empty())
            g.why += fmt::format("{}its layer's name speaks of {}", g.why.empty() ? "" : "; ", k_.hints[i]);
    }

    void bounds() {
        std::map<long long, Group> bounds;
        constexpr double to = 1e-3;
        for (const auto& outline : k_.marks.outlines) {
            auto& g = bounds[std::llround(outline.ring.a / to)];
            ++g.count;
            g.diameters = {2 * outline.ring.a};
            if (std::find(g.layers.begin(), g.layers.end(), outline.ring.layer) == g.layers.end())
                g.layers.push_back(outline.ring.layer);
            const bool bore =
                k_.layout.by_bores &&
                std::any_of(k_.layout.cylinders.begin(), k_.layout.cylinders.end(), [&](const Cylinder& c) {
                    return (c.centre - outline.ring.centre).norm() < near_centre;
                });
            g.what = bore ? "cylinder bores" : "bounds";
            g.why = "others stand within it";
        }
        for (auto& [size, g] : bounds) out_.groups.push_back(std::move(g));
    }

    // ---------------------------------------------------------------- repeats
    void offer(std::string what, std::optional<double> value, double residual, double window,
               std::size_t spare, Sentence words) {
        const double chance = survey::chance_of(std::max(residual, 2 * out_.u_place), window, spare);
        constexpr double worth_offering = 0.01;
        if (spare > 0 && chance < worth_offering)
            out_.repeats.push_back({std::move(what), value, residual, chance, std::move(words)});
    }

    // Centres of the cylinders by their valves, in the head frame.
    std::vector<Vec2> centres() const {
        std::map<int, std::pair<Vec2, int>> sums;
        for (const auto& v : out_.valves) {
            auto& [sum, n] = sums.try_emplace(v.cylinder, Vec2::Zero(), 0).first->second;
            sum += Vec2(*v.x.value, *v.y.value);
            ++n;
        }
        std::vector<Vec2> out;
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
        for (const auto& v : out_.valves)
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
        if (out_.cylinders < 2) return;
        const auto c = centres();
        double same = 0, mirrored = 0;
        for (int k = 2; k <= out_.cylinders; ++k) {
            const auto first = about(1, c[0], false);
            const auto at = static_cast<std::size_t>(k - 1);
            same = std::max(same, unlike(first, about(k, c[at], false)));
            mirrored = std::max(mirrored, unlike(first, about(k, c[at], k % 2 == 0)));
        }
        constexpr double decided = 1;
        if (std::abs(same - mirrored) < decided) return;
        const bool turned = mirrored < same;
        const std::size_t spare = 2 * (out_.valves.size() / static_cast<std::size_t>(out_.cylinders) - 1) *
                                  static_cast<std::size_t>(out_.cylinders - 1);
        offer(turned ? "alternate order mirrored" : "alternate order same", std::nullopt,
              std::min(same, mirrored), std::abs(spacing_), spare,
              turned ? survey::sentence<"second-other-way">() : survey::sentence<"all-same-way">());
    }

    void rows() {
        constexpr double across_window = 20;
        std::map<std::string, std::vector<double>> like;
        for (const auto& v : out_.valves) like[v.id.substr(v.id.find_first_of("IE"))].push_back(*v.y.value);
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
        for (const auto& h : out_.holes) {
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

    // ---------------------------------------------------------------- what is left open
    void ask(std::string what, std::string why, std::string next) {
        out_.missing.push_back({std::move(what), std::move(why), std::move(next), 0});
    }

    // How a person would name the group taken for `what`, something else.
    std::string name_it(const std::string& what, const char* otherwise) const {
        for (const auto& g : out_.groups)
            if (g.what == what) return fmt::format("--name {}={}", g.name, otherwise);
        return fmt::format("--name A={}", otherwise);
    }

    template <class Which>
    std::string ids(const Which& which) const {
        std::vector<std::string> all;
        for (const auto& v : out_.valves)
            if (which(v)) all.push_back(v.id);
        return fmt::format("{}", fmt::join(all, ", "));
    }

    void missing() {
        if (const auto open = ids([](const Valve& v) { return !v.kind; }); !open.empty())
            ask("kind of " + open, "their seats are all of one size",
                "say which group or row is the intake: type head.valve.kind, or name the groups (--name "
                "A=intake)");
        else if (!k_.kinds.named)
            ask("kind of every valve",
                fmt::format("intakes are taken to be those of which {} (common practice)",
                            k_.kinds.why.starts_with("there") ? k_.kinds.why : "the seats are larger"),
                fmt::format("look at the ports; if it is the other way round name the groups ({} {})",
                            name_it("intake valves", "exhaust"), name_it("exhaust valves", "intake")));
        leans();
        if (const auto open = ids([](const Valve& v) { return !v.z.value; }); !open.empty())
            ask("z of " + open, "a view of the deck shows no height",
                "type z from a section of the drawing, or read one valve of each kind below deck (survey)");
        ask("which end is which",
            "a drawing does not say which end is the front, nor from which side it is seen",
            fmt::format(
                "put the drawing beside the head: cylinder 1 is at its {} end{}; if not, add --end-for-end; "
                "drawn as seen from the cams' side, add --from-above",
                k_.told.end_for_end ? "right" : "left",
                std::abs(out_.turned) > 1e-6 ? ", the sheet turned so that the row lies level" : ""));
        if (out_.holes.empty() || k_.holes.bolts.empty())
            ask("bolt holes", "no holes of one size stand in rows on both sides of the valves",
                "name their group (--name A=bolt), or type head.bolt_holes");
        else if (!k_.holes.rivals.empty())
            ask("bolt holes",
                fmt::format("holes of {} could be the bolts' as well as those of {}",
                            lengths(k_.holes.rivals), written(as_length(k_.holes.bolt_diameter), out_.units)),
                "name the group that takes the head bolts (--name A=bolt)");
        if (const auto open = ids([](const Valve& v) { return !v.bore; }); !open.empty())
            ask("guide bores of " + open, "no circle of a guide is drawn",
                "type guide.intake.bore and guide.exhaust.bore");
    }

    std::string lengths(const std::vector<double>& all) const {
        std::vector<std::string> out;
        for (const double d : all) out.push_back(written(as_length(d), out_.units));
        return fmt::format("{}", fmt::join(out, " and "));
    }

    void leans() {
        const auto way = ids([](const Valve& v) { return v.lean && !v.incline.value; });
        if (!way.empty()) {
            double low = 1e9, high = 0;
            for (const auto& v : out_.valves)
                if (v.lean && !v.incline.value) {
                    low = std::min(low, deg(*v.lean));
                    high = std::max(high, deg(*v.lean));
                }
            ask("which way " + way + " lean",
                fmt::format("ellipses show a lean of {}, not to which side",
                            high - low < 0.01 ? fmt::format("{:.2f} deg", high)
                                              : fmt::format("{:.2f} to {:.2f} deg", low, high)),
                "look whether the stems lean apart or together, and give incline and cant their signs: "
                "positive leans towards +Y and +X out of the deck");
        }
        const auto open = ids([](const Valve& v) { return !v.lean && !v.incline.value; });
        if (!open.empty())
            ask("incline and cant of " + open, "they are drawn round, upright or not",
                "type the angles of the drawing's section, or read them with the sensor on a pilot (survey)");
    }

    // ---------------------------------------------------------------- warnings
    void warnings() {
        if (std::any_of(out_.valves.begin(), out_.valves.end(), [](const Valve& v) { return !v.kind; }))
            warn("kind-unknown", sentence<"one-size">(), Severity::blocking);
        if (k_.kinds.against) warn("layers-against", sentence<"layers-against">());
        if (k_.unit_against) warn("unit", sentence<"other-unit">("unit"_is = name_of_unit(k_.sheet.unit)));
        if (k_.layout.takes_in_weak) warn("seats-in-doubt", sentence<"seats-in-doubt">());
        if (k_.holes.bolts.empty()) warn("no-bolt-holes", sentence<"no-bolt-holes">());
        for (const auto& c : k_.layout.cylinders)
            for (const auto m : c.valves)
                if (!lean_of_agrees(m)) {
                    warn("leans-disagree", sentence<"leans-disagree">("valve"_is = id_of(m)));
                }
        if (k_.view.elsewhere > 0) warn("elsewhere", sentence<"elsewhere">("count"_is = k_.view.elsewhere));
    }

    bool lean_of_agrees(std::size_t m) const { return lean_of(k_.marks, m, 1).agree; }
    std::string id_of(std::size_t m) const {
        const auto& mark = k_.marks.marks[m];
        for (const auto& v : out_.valves)
            if (v.group == mark.group) return v.id;
        return "?";
    }

    Sentence which_are_intakes() const {
        return k_.kinds.why.starts_with("there") ? sentence<"more-in-every-cylinder">()
                                                 : sentence<"seats-larger">();
    }

    void assumptions() {
        auto& all = out_.assumptions;
        all.push_back(k_.told.from_above ? sentence<"from-above">() : sentence<"from-outside">());
        if (!k_.told.end_for_end) all.emplace_back(sentence<"first-at-left">());
        if (!k_.layout.row_shown) all.emplace_back(sentence<"row-along-x">());
        if (!k_.layout.by_bores) all.emplace_back(sentence<"mean-for-centre">());
        if (!k_.kinds.why.empty() && !k_.kinds.named)
            all.push_back(sentence<"takes-for-intakes">("which"_is = which_are_intakes()));
        all.emplace_back(sentence<"u-is-decimals">());
    }

    const Known& k_;
    Drawing& out_;
    double spacing_ = 0;
};

}  // namespace

void tell(const Known& known, Drawing& out) {
    Teller(known, out).all();
}

}  // namespace seatwright::drawing
