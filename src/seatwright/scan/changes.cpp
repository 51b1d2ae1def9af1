#include "seatwright/scan/changes.hpp"

#include <algorithm>
#include <cctype>
#include <set>

#include "seatwright/words/english_scan.hpp"

namespace seatwright::scan {
namespace {

// "2Ea": a cylinder from 1, I or E, a letter where a cylinder has several.
bool take_name(const std::string& name, Valve& v) {
    std::size_t n = 0;
    int cylinder = 0;
    constexpr int most_cylinders = 32;
    while (n < name.size() && std::isdigit(static_cast<unsigned char>(name[n])) != 0 && n < 2)
        cylinder = 10 * cylinder + (name[n++] - '0');
    if (cylinder < 1 || cylinder > most_cylinders || name[0] == '0' || n >= name.size()) return false;
    if (name[n] != 'I' && name[n] != 'E') return false;
    const auto kind = name[n] == 'I' ? job::Kind::intake : job::Kind::exhaust;
    if (++n < name.size() && (name[n] < 'a' || name[n] > 'z' || n + 1 != name.size())) return false;
    v.id = name;
    v.cylinder = cylinder;
    v.kind = kind;
    return true;
}

class Changer {
  public:
    Changer(Scan& scan, const Changes& changes) : scan_(scan), changes_(changes) {}

    std::vector<Objection> make() {
        valves();
        holes();
        if (!objections_.empty()) return std::move(objections_);
        told_anew();
        return {};
    }

  private:
    void wrong(const std::string& feature, Sentence text) {
        objections_.push_back({feature, std::move(text)});
    }

    template <class All>
    void only_known(const std::map<std::string, Change>& said, const All& all) {
        for (const auto& changed : said)
            if (std::none_of(all.begin(), all.end(),
                             [&](const auto& one) { return one.id == changed.first; }))
                wrong(changed.first, sentence<"not-among">());
    }

    void valves() {
        only_known(changes_.valves, scan_.valves);
        std::vector<Valve> stay;
        std::set<std::string> names;
        for (auto& v : scan_.valves) {
            const auto at = changes_.valves.find(v.id);
            const Change said = at == changes_.valves.end() ? Change() : at->second;
            if (said.dropped) {
                dropped_.insert(v.id);
                continue;
            }
            const std::string old = v.id;
            const auto doubt = doubt_of(v);
            if (said.id && *said.id != old && !take_name(*said.id, v)) {
                wrong(old, sentence<"no-valves-name">("name"_is = *said.id));
                continue;
            }
            if (said.confirmed) {
                // What it was called says what it is, if nothing else does.
                if (!v.kind) take_name(v.id, v);
                v.confirmed_by = changes_.by;
                settled_.insert(old);
            } else if (!doubt.empty()) {
                wrong(old, sentence<"settle-valve">("doubt"_is = doubt));
            }
            if (!names.insert(v.id).second) wrong(v.id, sentence<"two-of-one-name">());
            renamed_[old] = v.id;
            stay.push_back(std::move(v));
        }
        scan_.valves = std::move(stay);
        std::stable_sort(scan_.valves.begin(), scan_.valves.end(),
                         [](const Valve& a, const Valve& b) { return a.cylinder < b.cylinder; });
    }

    void holes() {
        only_known(changes_.holes, scan_.holes);
        std::vector<Hole> stay;
        for (auto& h : scan_.holes) {
            const auto at = changes_.holes.find(h.id);
            const Change said = at == changes_.holes.end() ? Change() : at->second;
            if (said.dropped) continue;
            if (said.what) h.kind = *said.what;
            if (said.confirmed || said.what)
                h.in_doubt = false;
            else if (const auto doubt = doubt_of(h); !doubt.empty())
                wrong(h.id, sentence<"settle-hole">("doubt"_is = doubt));
            if (said.confirmed) h.confirmed_by = changes_.by;
            stay.push_back(std::move(h));
        }
        scan_.holes = std::move(stay);
        scan_.bolt_diameter = bolt_diameter_of(scan_.holes);
    }

    // Warnings and repeats of what is no longer so are taken away; of valves renamed they say the new name.
    void told_anew() {
        const bool kinds = std::all_of(scan_.valves.begin(), scan_.valves.end(),
                                       [](const Valve& v) { return v.kind.has_value(); });
        std::erase_if(scan_.warnings, [&](const Warning& w) {
            return (w.code == "kind-unknown" && kinds) || w.code == "bolts-in-doubt" ||
                   (w.valve && (dropped_.contains(*w.valve) || settled_.contains(*w.valve)));
        });
        for (auto& w : scan_.warnings)
            if (w.valve && renamed_.contains(*w.valve)) w.valve = renamed_[*w.valve];
        if (!dropped_.empty()) scan_.repeats.clear();
        for (auto& c : scan_.chambers) {
            std::erase_if(c.valves, [&](const std::string& id) { return dropped_.contains(id); });
            for (auto& id : c.valves) id = renamed_[id];
        }
    }

    Scan& scan_;
    const Changes& changes_;
    std::vector<Objection> objections_;
    std::set<std::string> dropped_, settled_;
    std::map<std::string, std::string> renamed_;
};

}  // namespace

Sentence doubt_of(const Valve& v) {
    if (!v.kind) return sentence<"kind-in-doubt">();
    if (v.face_in_doubt) return sentence<"facet-in-doubt">();
    if (v.off_guide.value_or(0) > worth_saying_off)
        return sentence<"seat-beside">("off"_is = as_length(*v.off_guide));
    return {};
}

Sentence doubt_of(const Hole& h) {
    return h.in_doubt ? sentence<"bolt-in-doubt">() : Sentence();
}

tl::expected<Scan, std::vector<Objection>> changed(Scan scan, const Changes& changes) {
    if (auto objections = Changer(scan, changes).make(); !objections.empty())
        return tl::unexpected(std::move(objections));
    return scan;
}

}  // namespace seatwright::scan
