#include "seatwright/drawing/told.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "seatwright/drawing/leans.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_drawing.hpp"

namespace seatwright::drawing {
namespace {

class Teller {
  public:
    Teller(const Known& known, Drawing& out) : k_(known), out_(out) {}

    void all() {
        groups();
        out_.repeats = repeats_of(out_);
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
        const bool named = !k_.names[i].empty();
        if (named) {
            g.why = sentence<"so-named">();
        } else if (g.what.ends_with("valves")) {
            g.why = why_valves(g);
            g.sure = !k_.layout.takes_in_weak;
        } else if (g.what.ends_with("bolt holes")) {
            g.why = sentence<"in-rows-on-both-sides">();
            g.sure = k_.holes.rivals.empty();
        } else if (g.what.ends_with("plugs")) {
            g.why = sentence<"within-the-bores">();
        }
        if (k_.hints[i].empty() || named) return;
        const auto hint = "hint"_is = k_.hints[i];
        g.why = g.why.empty() ? sentence<"layer-speaks-of">(hint)
                              : sentence<"and-layer-speaks-of">("why"_is = g.why, hint);
    }

    Sentence why_valves(const Group& g) const {
        if (!k_.kinds.by || !g.what.starts_with("intake")) return sentence<"about-one-centre">();
        return *k_.kinds.by == Kinds::By::number ? sentence<"about-one-centre-more">()
                                                 : sentence<"about-one-centre-larger">();
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
            g.why = sentence<"others-within">();
        }
        for (auto& [size, g] : bounds) out_.groups.push_back(std::move(g));
    }

    // ---------------------------------------------------------------- what is left open
    void ask(Sentence what, Sentence why, Sentence next) {
        out_.missing.push_back({std::move(what), std::move(why), std::move(next), 0});
    }

    // How a person would name the group taken for `what`, something else.
    Sentence name_it(const std::string& what, const char* otherwise) const {
        for (const auto& g : out_.groups)
            if (g.what == what) return sentence<"group-is">("group"_is = g.name, "kind"_is = otherwise);
        return sentence<"their-group-is">("kind"_is = otherwise);
    }

    template <class Which>
    std::vector<std::string> ids(const Which& which) const {
        std::vector<std::string> all;
        for (const auto& v : out_.valves)
            if (which(v)) all.push_back(v.id);
        return all;
    }

    static List all_of(const std::vector<std::string>& names) { return list_of(names, Join::commas); }

    void missing() {
        kinds();
        leans();
        if (const auto open = ids([](const Valve& v) { return !v.z.value; }); !open.empty())
            ask(sentence<"z-of">("valves"_is = all_of(open)), sentence<"no-height-shown">(),
                sentence<"type-z">());
        const auto end = "end"_is = k_.told.end_for_end ? "right" : "left";
        ask(sentence<"which-end">(), sentence<"front-not-said">(),
            std::abs(out_.turned) > 1e-6 ? sentence<"beside-the-head-turned">(end)
                                         : sentence<"beside-the-head">(end));
        bolts();
        if (const auto open = ids([](const Valve& v) { return !v.bore; }); !open.empty())
            ask(sentence<"bores-of">("valves"_is = all_of(open)), sentence<"no-guide-circle">(),
                sentence<"type-bores">());
    }

    void kinds() {
        if (const auto open = ids([](const Valve& v) { return !v.kind; }); !open.empty())
            ask(sentence<"kind-of">("valves"_is = all_of(open)), sentence<"seats-of-one-size">(),
                sentence<"say-intake">());
        else if (!k_.kinds.named)
            ask(sentence<"kind-of-every">(), sentence<"taken-for-intakes">("which"_is = which_are_intakes()),
                sentence<"look-at-ports">("intakes"_is = name_it("intake valves", "exhaust"),
                                          "exhausts"_is = name_it("exhaust valves", "intake")));
    }

    void bolts() {
        if (out_.holes.empty() || k_.holes.bolts.empty()) {
            ask(sentence<"bolt-holes">(), sentence<"no-rows-of-holes">(), sentence<"name-bolt-or-type">());
        } else if (!k_.holes.rivals.empty()) {
            std::vector<Part> rivals;
            rivals.reserve(k_.holes.rivals.size());
            for (const double d : k_.holes.rivals) rivals.emplace_back(as_length(d));
            ask(sentence<"bolt-holes">(),
                sentence<"rival-holes">("rivals"_is = List{Join::with_and, std::move(rivals)},
                                        "bolts"_is = as_length(k_.holes.bolt_diameter)),
                sentence<"name-bolt">());
        }
    }

    void leans() {
        const auto way = ids([](const Valve& v) { return v.lean && !v.incline.value; });
        if (!way.empty()) {
            double low = 1e9, high = 0;
            for (const auto& v : out_.valves)
                if (v.lean && !v.incline.value) {
                    low = std::min(low, *v.lean);
                    high = std::max(high, *v.lean);
                }
            const auto most = "most"_is = as_degrees(high, 2);
            constexpr double alike = 0.01 * rad_per_deg;
            ask(sentence<"which-way">("valves"_is = all_of(way)),
                high - low < alike ? sentence<"lean-shown">(most)
                                   : sentence<"leans-shown">("least"_is = as_degrees(low, 2), most),
                sentence<"look-at-stems">());
        }
        const auto open = ids([](const Valve& v) { return !v.lean && !v.incline.value; });
        if (!open.empty())
            ask(sentence<"angles-of">("valves"_is = all_of(open)), sentence<"drawn-round">(),
                sentence<"type-angles">());
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
        return k_.kinds.by == Kinds::By::number ? sentence<"more-in-every-cylinder">()
                                                : sentence<"seats-larger">();
    }

    void assumptions() {
        auto& all = out_.assumptions;
        all.push_back(k_.told.from_above ? sentence<"from-above">() : sentence<"from-outside">());
        if (!k_.told.end_for_end) all.emplace_back(sentence<"first-at-left">());
        if (!k_.layout.row_shown) all.emplace_back(sentence<"row-along-x">());
        if (!k_.layout.by_bores) all.emplace_back(sentence<"mean-for-centre">());
        if (k_.kinds.by && !k_.kinds.named)
            all.push_back(sentence<"takes-for-intakes">("which"_is = which_are_intakes()));
        all.emplace_back(sentence<"u-is-decimals">());
    }

    const Known& k_;
    Drawing& out_;
};

}  // namespace

void tell(const Known& known, Drawing& out) {
    Teller(known, out).all();
}

}  // namespace seatwright::drawing
