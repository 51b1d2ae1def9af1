#include "seatwright/survey/walk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "seatwright/hold/attitude.hpp"
#include "seatwright/survey/ask_words.hpp"
#include "seatwright/survey/contradictions.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

using job::Across;
using AskOf = Ask::Of;

// A setup is the one a pilot will stand plumb in if the sensor, its zero not yet known, is as near as this.
constexpr double near_enough = 1.5 * rad_per_deg;

// Guides that stand plumb together.
struct Group {
    std::vector<std::string> guides;
    std::optional<Vec3> axis;  // none: no lean of theirs is known
    std::string setup;         // empty: not begun
    bool begun = false;
};

class Walker {
  public:
    Walker(const Said& said, const Readings& readings, const Asked* found)
        : said_(said), r_(readings), found_(found) {}

    std::vector<Step> take() {
        level();
        // A look at the head, which needs no tilt, before anything is read by a sign that may be wrong.
        if (found_ != nullptr)
            for (const auto& way : found_->ways) ask(way, sentence<"brings-way">());
        auto groups = groups_of();
        for (auto& group : groups) claim_setup(group, groups);
        for (auto& group : groups)
            if (!group.begun) name_setup(group);
        // A setup once begun is read to its end: nobody tilts a head to and fro for one reading.
        for (const auto& group : groups)
            if (group.begun) tilted(group);
        // Cylinders numbered against the readout: the head is turned, or the readout counts the other way.
        if (found_ != nullptr && found_->turned) ask({AskOf::end}, sentence<"brings-end">());
        if (found_ != nullptr)
            for (std::size_t i = 0; i < found_->asks.size(); ++i)
                weighed(found_->survey.missing[i], found_->asks[i], groups);
        for (const auto& group : groups)
            if (!group.begun) tilted(group);
        sizes();
        return std::move(out_);
    }

  private:
    void ask(Ask ask, const Sentence& why, double help = 0) {
        const std::string key = key_of(ask);
        if (done(ask) || std::count(said_.left_out.begin(), said_.left_out.end(), key) > 0) return;
        // A row whose sign is asked with a picture is not levelled again: it would be read the same way.
        if (ask.of == AskOf::guide_level && way_is_asked(ask)) return;
        if (!asked_.insert(key).second) return;
        auto sentence = words_of(ask);
        out_.push_back({std::move(ask), std::move(sentence), why, help});
    }

    bool way_is_asked(const Ask& level) const {
        const auto letters = [](const std::string& id) {
            const auto name = guide_name(id);
            return name ? name->letters : id;
        };
        return found_ != nullptr &&
               std::any_of(found_->ways.begin(), found_->ways.end(), [&](const Ask& way) {
                   return way.across == level.across && letters(way.id) == letters(level.id);
               });
    }

    // What was set aside is read again.
    bool aside(const std::string& key) const {
        return found_ != nullptr &&
               std::any_of(found_->survey.aside.begin(), found_->survey.aside.end(),
                           [&](const Aside& a) { return a.key == key || a.key.starts_with(key + "."); });
    }

    std::size_t deck_places(const std::string& setup) const {
        return static_cast<std::size_t>(std::count_if(
            r_.points.begin(), r_.points.end(),
            [&](const Point& p) { return p.what == What::deck && p.setup == setup && !aside(p.key); }));
    }

    bool point(What what, const std::string& setup, const std::string& id) const {
        return std::any_of(r_.points.begin(), r_.points.end(), [&](const Point& p) {
            return p.what == what && p.id == id && (setup.empty() || p.setup == setup) && !aside(p.key);
        });
    }

    const Level* level_of(bool deck, const std::string& id, Across across) const {
        const auto at = std::find_if(r_.levels.begin(), r_.levels.end(), [&](const Level& l) {
            return l.on_deck == deck && l.across == across && (deck || l.id == id) && !aside(l.key);
        });
        return at == r_.levels.end() ? nullptr : &*at;
    }

    bool done(const Ask& a) const {
        switch (a.of) {
            case AskOf::setup:
                return set_of(a.setup) != nullptr;
            case AskOf::deck_level:
            case AskOf::guide_level: {
                const Level* l = level_of(a.of == AskOf::deck_level, a.id, a.across);
                return l != nullptr && l->second;
            }
            case AskOf::deck:
                return deck_places(a.setup) >= static_cast<std::size_t>(std::max(1, std::atoi(a.id.c_str())));
            case AskOf::hole:
                return point(What::hole, a.setup, a.id);
            case AskOf::guide:
                return point(What::guide, "", a.id) || point(What::seat, "", a.id);
            case AskOf::valve_head:
                return point(What::valve_head, "", a.id) || point(What::seat, "", a.id);
            case AskOf::way:
                return false;  // the engine asks no more once it is answered
            case AskOf::size:
                return std::any_of(r_.sizes.begin(), r_.sizes.end(), [&](const Size& s) {
                    return s.what == a.size && guide_name(s.id)->kind == guide_name(a.id)->kind;
                });
            case AskOf::end:
                return said_.end;
        }
        return false;
    }

    // ------------------------------------------------------------------ the deck nearly level
    void level() {
        for (const auto across : {Across::incline, Across::cant})
            ask({AskOf::deck_level, level_setup, {}, across}, sentence<"brings-zero">());
        for (const char* place : {"1", "2", "3"})
            ask({AskOf::deck, level_setup, place}, sentence<"brings-deck">());
        for (const auto& hole : tie_holes()) ask({AskOf::hole, level_setup, hole}, sentence<"brings-tie">());
        for (const auto& guide : said_.guides)
            for (const auto across : {Across::incline, Across::cant})
                ask({AskOf::guide_level, level_setup, guide, across}, sentence<"brings-lean">());
    }

    // The two holes read in every setup: the first two that were read, else H1 and H2.
    std::vector<std::string> tie_holes() const {
        std::vector<std::string> out;
        const auto add = [&](const std::string& id) {
            if (out.size() < 2 && std::count(out.begin(), out.end(), id) == 0) out.push_back(id);
        };
        for (const auto& p : r_.points)
            if (p.what == What::hole && p.z) add(p.id);
        for (const char* id : {"H1", "H2"}) add(id);
        return out;
    }

    // ------------------------------------------------------------------ guides that stand plumb together
    std::optional<Vec3> lean_of(const std::string& guide) const {
        if (found_ == nullptr) return std::nullopt;
        const auto at = std::find_if(found_->survey.valves.begin(), found_->survey.valves.end(),
                                     [&](const Valve& v) { return v.id == guide; });
        if (at == found_->survey.valves.end() || !at->incline.value || !at->cant.value) return std::nullopt;
        return Vec3(std::tan(*at->cant.value), std::tan(*at->incline.value), 1).normalized();
    }

    // Where it was left out: of the like guide of the nearest cylinder, every second one before others.
    std::optional<Vec3> lean_of_like(const std::string& guide) const {
        const auto mine = *guide_name(guide);
        std::optional<Vec3> best;
        int least = 1 << 20;
        for (const auto& other : said_.guides) {
            const auto name = *guide_name(other);
            if (name.letters != mine.letters) continue;
            const int apart = std::abs(name.cylinder - mine.cylinder),
                      cost = apart + (apart % 2 == 0 ? 0 : 100);
            if (cost >= least) continue;
            if (const auto axis = lean_of(other)) {
                best = axis;
                least = cost;
            }
        }
        return best;
    }

    std::vector<Group> groups_of() const {
        std::vector<Group> out;
        if (found_ == nullptr) return out;
        for (const auto& guide : said_.guides) {
            if (!lean_of(guide) && std::any_of(out_.begin(), out_.end(), [&](const Step& s) {
                    return s.ask.of == AskOf::guide_level && s.ask.id == guide;
                }))
                continue;  // its lean comes first
            const auto axis = lean_of_like(guide);
            const auto at = std::find_if(out.begin(), out.end(), [&](const Group& g) {
                return axis.has_value() == g.axis.has_value() &&
                       (!axis || angle_between(*axis, *g.axis) < not_plumb);
            });
            if (at == out.end()) {
                out.push_back({{guide}, axis, {}, false});
            } else {
                at->guides.push_back(guide);
            }
        }
        return out;
    }

    double sign() const { return found_ != nullptr && found_->turned ? -1 : 1; }

    std::optional<hold::Attitude> attitude_of(const Group& group) const {
        if (!group.axis) return std::nullopt;
        const auto at = hold::attitude_for(*group.axis);
        return hold::Attitude{sign() * at.tilt, sign() * at.swing};
    }

    // How far its pilots stand out of plumb there; more than any where that is not known.
    double out_of(const Group& group, std::optional<double> tilt, std::optional<double> swing) const {
        if (!group.axis || !tilt) return pi;
        return angle_between(hold::spindle_in_head({sign() * *tilt, sign() * swing.value_or(0)}),
                             *group.axis);
    }

    // Of several groups near to a setup it is the nearest's.
    bool stands(const Group& group, const std::vector<Group>& all, std::optional<double> tilt,
                std::optional<double> swing) const {
        const double out = out_of(group, tilt, swing);
        return out < near_enough && std::none_of(all.begin(), all.end(), [&](const Group& other) {
                   return out_of(other, tilt, swing) < out;
               });
    }

    // The setup some guide of it was read in, else the one that was set by a pilot of its own, else one that
    // is set to it. A setup somebody set by a pilot is of that pilot's group whatever the leans say, since
    // one of them may have the wrong sign.
    void claim_setup(Group& group, const std::vector<Group>& all) {
        for (const auto& p : r_.points)
            if (p.what == What::guide && std::count(group.guides.begin(), group.guides.end(), p.id) > 0)
                group.setup = p.setup;
        for (const auto& s : said_.setups)
            if (group.setup.empty() && std::count(group.guides.begin(), group.guides.end(), s.by) > 0)
                group.setup = s.setup;
        for (const auto& s : found_->survey.setups) {
            const auto* set = set_of(s.name);
            if (group.setup.empty() && (set == nullptr || set->by.empty()) &&
                stands(group, all, s.tilt.value, s.swing.value))
                group.setup = s.name;
        }
        for (const auto& s : said_.setups)
            if (group.setup.empty() && s.by.empty() && stands(group, all, s.tilt, s.swing))
                group.setup = s.setup;
        group.begun = !group.setup.empty();
        if (group.begun) named_.insert(group.setup);
    }

    // The first name that is no other group's. A setup of that name was set when it was asked for: its pilot
    // stood plumb in it, whatever was read of its lean before (a sign missed).
    void name_setup(Group& group) {
        for (char c = 'A'; c <= 'Z' && group.setup.empty(); ++c) {
            const std::string name(1, c);
            if (name == level_setup || named_.count(name) > 0) continue;
            group.begun = set_of(name) != nullptr;
            const bool read = std::any_of(r_.points.begin(), r_.points.end(),
                                          [&](const Point& p) { return p.setup == name; });
            if (group.begun || !read) group.setup = name;
        }
        if (group.setup.empty()) group.setup = fmt::format("S{}", named_.size());
        named_.insert(group.setup);
    }

    // None: nobody has set it.
    const Said::Set* set_of(const std::string& name) const {
        const auto at = std::find_if(said_.setups.begin(), said_.setups.end(),
                                     [&](const auto& s) { return s.setup == name; });
        return at == said_.setups.end() ? nullptr : &*at;
    }

    // All that is read in one tilt.
    void tilted(const Group& group, const Sentence& why = sentence<"brings-guides">(), double help = 0) {
        std::vector<std::string> left;
        for (const auto& guide : group.guides)
            if (!point(What::guide, "", guide) || !point(What::valve_head, "", guide)) left.push_back(guide);
        if (left.empty()) return;
        // What was read and set aside comes last: its row may show what is wrong.
        std::stable_partition(left.begin(), left.end(), [&](const std::string& guide) {
            return std::none_of(r_.points.begin(), r_.points.end(),
                                [&](const Point& p) { return p.what == What::guide && p.id == guide; });
        });
        if (group.setup != level_setup) {
            Ask set{AskOf::setup, group.setup, left.front()};
            if (const auto at = attitude_of(group)) {
                set.tilt = at->tilt;
                set.swing = at->swing;
            }
            ask(std::move(set), why, help);
            for (const auto& hole : tie_holes()) ask({AskOf::hole, group.setup, hole}, why, help);
            ask({AskOf::deck, group.setup, "1"}, why, help);
        }
        for (const auto& guide : left) ask({AskOf::guide, group.setup, guide}, why, help);
        for (const auto& guide : left) ask({AskOf::valve_head, group.setup, guide}, why, help);
    }

    void weighed(const Missing& missing, const std::vector<Ask>& asks, const std::vector<Group>& groups) {
        const Sentence& why = missing.why;
        for (const auto& wanted : asks) {
            if (!wanted.setup.empty() || wanted.of == AskOf::way) {
                Ask again = wanted;
                if (again.of == AskOf::hole && again.id.empty())
                    for (const auto& hole : tie_holes())
                        ask({AskOf::hole, again.setup, hole}, why, missing.help);
                else
                    ask(std::move(again), why, missing.help);
                continue;
            }
            for (const auto& group : groups)
                if (std::count(group.guides.begin(), group.guides.end(), wanted.id) > 0)
                    tilted(group, why, missing.help);
        }
    }

    // ------------------------------------------------------------------ calipers and rule
    void sizes() {
        std::set<job::Kind> told;
        for (const auto& guide : said_.guides) {
            if (!told.insert(guide_name(guide)->kind).second) continue;
            for (const auto what :
                 {SizeOf::bore, SizeOf::stem, SizeOf::valve_head, SizeOf::guide_length, SizeOf::to_seat}) {
                Ask size{AskOf::size, {}, guide};
                size.size = what;
                ask(std::move(size), sentence<"brings-form">());
            }
        }
    }

    const Said& said_;
    const Readings& r_;
    const Asked* found_;
    std::set<std::string> asked_, named_;
    std::vector<Step> out_;
};

}  // namespace

std::vector<Step> walk(const Said& said, const Readings& readings, const Asked* found) {
    return Walker(said, readings, found).take();
}

std::vector<std::string> guide_names(int cylinders, int intakes, int exhausts) {
    std::vector<std::string> out;
    for (int c = 1; c <= cylinders; ++c)
        for (const auto& [kind, count] : {std::pair{'I', intakes}, {'E', exhausts}})
            for (int k = 0; k < count; ++k)
                out.push_back(count == 1 ? fmt::format("{}{}", c, kind)
                                         : fmt::format("{}{}{}", c, kind, static_cast<char>('a' + k)));
    return out;
}

}  // namespace seatwright::survey
