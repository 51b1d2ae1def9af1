#include "seatwright/survey/candidates.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "seatwright/hold/attitude.hpp"
#include "seatwright/survey/contradictions.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

using Says = Row::Says;
using Of = Row::Of;

// A ball on a rim stands about so high over the deck.
constexpr double usual_over = 7;

List names_of(const State& state, const std::vector<std::size_t>& guides) {
    std::vector<std::string> names;
    names.reserve(guides.size());
    for (const auto g : guides) names.push_back(state.layout.guides[g]);
    return list_of(names);
}

class Gathering {
  public:
    explicit Gathering(const State& state) : s_(state), l_(state.layout) {}

    std::vector<Candidate> take() {
        for (std::size_t s = 0; s < l_.setups.size(); ++s) of_setup(s);
        of_sensor();
        of_guides();
        return std::move(out_);
    }

  private:
    Row row(Says says, std::size_t setup, Of of, std::size_t which, int axis) const {
        Row r;
        r.says = says;
        r.setup = setup;
        r.of = of;
        r.which = which;
        r.axis = axis;
        r.sd = says == Says::lean ? s_.readings.sensor_sd : usual_point_sd;
        return r;
    }

    Row known(Eigen::Index at, double sd) const {
        Row r;
        r.says = Says::sum;
        r.weights = {{at, 1}};
        r.sd = sd;
        return r;
    }

    void ball(std::size_t setup, std::size_t hole, std::vector<Row>& rows) const {
        for (int axis = 0; axis < 3; ++axis) {
            rows.push_back(row(Says::coordinate, setup, Of::hole, hole, axis));
            rows.back().over = usual_over;
        }
    }

    void deck(std::size_t setup, const Vec2& at, std::vector<Row>& rows) const {
        rows.push_back(row(Says::deck, setup, Of::nothing, 0, 0));
        rows.back().at = turn_of(l_, setup, s_.solution.unknowns) * Vec3(at.x(), at.y(), 0) +
                         Vec3(s_.solution.unknowns.segment<3>(l_.setup(setup) + 3));
    }

    bool in_use(const Row& r) const { return !r.aside && r.read; }

    bool read(std::size_t setup, Of of, std::size_t which, int axis) const {
        return std::any_of(s_.rows.begin(), s_.rows.end(), [&](const Row& r) {
            return in_use(r) && r.says == Says::coordinate && r.setup == setup && r.of == of &&
                   r.which == which && r.axis == axis;
        });
    }

    // Holes known against each other that this setup has not, the furthest from what it has first.
    std::vector<std::size_t> holes_not_read(std::size_t setup) const {
        std::vector<std::size_t> here, out;
        for (std::size_t h = 0; h < l_.holes.size(); ++h) {
            if (read(setup, Of::hole, h, 0) && read(setup, Of::hole, h, 2)) {
                here.push_back(h);
            } else if (s_.flat_closed(Of::hole, h)) {
                out.push_back(h);
            }
        }
        const auto x = [&](std::size_t h) { return s_.solution.unknowns[l_.hole(h)]; };
        const auto far = [&](std::size_t h) {
            double least = 1e9;
            for (const auto other : here) least = std::min(least, std::abs(x(h) - x(other)));
            return here.empty() ? std::abs(x(h)) : least;
        };
        std::stable_sort(out.begin(), out.end(),
                         [&](std::size_t a, std::size_t b) { return far(a) > far(b); });
        return out;
    }

    // Guide by guide what is asked of each.
    std::vector<Ask> of_each(const std::vector<std::size_t>& guides, std::size_t setup,
                             std::initializer_list<Ask> asked) const {
        std::vector<Ask> out;
        out.reserve(guides.size() * asked.size());
        for (const auto g : guides)
            for (Ask ask : asked) {
                ask.setup = l_.setups[setup];
                ask.id = l_.guides[g];
                out.push_back(std::move(ask));
            }
        return out;
    }

    bool has_places(std::size_t setup) const {
        return std::any_of(s_.rows.begin(), s_.rows.end(),
                           [&](const Row& r) { return in_use(r) && r.setup == setup && r.of == Of::guide; });
    }

    void of_setup(std::size_t s) {
        if (!has_places(s)) return;
        const auto setup = "setup"_is = l_.setups[s];
        const auto holes = holes_not_read(s);
        std::vector<Row> hole_rows, deck_row, deck_rows;
        const std::string& name = l_.setups[s];
        std::vector<Ask> hole_asks, deck_asks;
        for (const char* place : {"1", "2", "3"}) deck_asks.push_back({Ask::Of::deck, name, place});
        Sentence hole_next;
        if (!holes.empty()) {
            const auto hole = "hole"_is = l_.holes[holes[0]];
            ball(s, holes[0], hole_rows);
            hole_asks.push_back({Ask::Of::hole, name, l_.holes[holes[0]]});
            hole_next = sentence<"read-hole">(setup, hole);
            out_.push_back({sentence<"hole-in-setup">(hole, setup), hole_next, hole_rows, hole_asks});
        }
        if (holes.size() > 1) {
            const auto hole = "hole"_is = l_.holes[holes[0]];
            const auto other = "other"_is = l_.holes[holes[1]];
            ball(s, holes[1], hole_rows);
            hole_asks.push_back({Ask::Of::hole, name, l_.holes[holes[1]]});
            hole_next = sentence<"read-two-holes">(setup, hole, other);
            out_.push_back({sentence<"holes-in-setup">(hole, other, setup), hole_next, hole_rows, hole_asks});
        }
        if (holes.empty() && l_.setups.size() > 1) {
            // Holes nobody has read yet: what two of them would tie this setup by.
            const auto at = l_.setup(s);
            std::vector<Row> tied{known(at + 2, usual_point_sd / 200)};
            for (int axis = 0; axis < 3; ++axis) tied.push_back(known(at + 3 + axis, usual_point_sd));
            out_.push_back({sentence<"two-holes">(setup),
                            sentence<"read-holes-far-apart">(setup),
                            tied,
                            {{Ask::Of::hole, name}, {Ask::Of::hole, name}}});
        }
        deck(s, {0, 0}, deck_row);
        out_.push_back(
            {sentence<"deck-height">(setup), sentence<"read-deck">(setup), deck_row, {deck_asks.front()}});
        for (const Vec2& at : {Vec2(0, -45), Vec2(300, -45), Vec2(150, 45)}) deck(s, at, deck_rows);
        out_.push_back(
            {sentence<"deck-at-three">(setup), sentence<"read-deck-at-three">(setup), deck_rows, deck_asks});
        if (!hole_rows.empty()) {
            hole_rows.insert(hole_rows.end(), deck_rows.begin(), deck_rows.end());
            hole_asks.insert(hole_asks.end(), deck_asks.begin(), deck_asks.end());
            out_.push_back({sentence<"holes-and-deck">(setup),
                            sentence<"read-holes-and-deck">("holes"_is = hole_next), hole_rows, hole_asks});
        }
    }

    // Where the head lies so that the sensor is read: the setup that has most of it, else the one nearest
    // level.
    std::size_t sensor_setup() const {
        std::vector<std::size_t> count(l_.setups.size());
        for (const auto& r : s_.rows)
            if (in_use(r) && r.says == Says::lean) ++count[r.setup];
        std::size_t best = 0;
        const auto tilt = [&](std::size_t s) { return std::abs(s_.solution.unknowns[l_.setup(s)]); };
        for (std::size_t s = 1; s < count.size(); ++s)
            if (count[s] > count[best] || (count[s] == count[best] && tilt(s) < tilt(best))) best = s;
        return best;
    }

    Ask deck_level(std::size_t setup, int axis) const {
        Ask out{Ask::Of::deck_level, l_.setups[setup]};
        out.across = axis == 1 ? job::Across::incline : job::Across::cant;
        return out;
    }

    void of_sensor() {
        if (l_.setups.empty()) return;
        const std::size_t s = sensor_setup();
        const auto setup = "setup"_is = l_.setups[s];
        std::vector<Row> both;
        std::vector<Ask> two_ways;
        for (const int axis : {1, 0}) {
            const auto across = "across"_is = axis == 1 ? "incline" : "cant";
            std::vector<Row> rows;
            for (const double sign : {1.0, -1.0}) {
                rows.push_back(row(Says::lean, s, Of::nothing, 0, axis));
                rows.back().sign = sign;
            }
            out_.push_back({sentence<"sensor-on-deck">(across),
                            sentence<"read-level-on-deck">(setup, across),
                            rows,
                            {deck_level(s, axis)}});
            two_ways.push_back(deck_level(s, axis));
            both.insert(both.end(), rows.begin(), rows.end());
        }
        out_.push_back(
            {sentence<"sensor-both-ways">(), sentence<"read-level-both-ways">(setup), both, two_ways});
        std::vector<Row> turned;
        Ask again;
        for (const auto& r : s_.rows)
            if (in_use(r) && r.says == Says::lean && r.sign > 0) {
                turned.push_back(r);
                turned.back().sign = -1;
                again = r.of == Of::guide ? Ask{Ask::Of::guide_level, l_.setups[r.setup], l_.guides[r.which]}
                                          : Ask{Ask::Of::deck_level, l_.setups[r.setup]};
                again.across = r.axis == 1 ? job::Across::incline : job::Across::cant;
                break;
            }
        if (!turned.empty() && s_.u(l_.bias()) > open_lean)
            out_.push_back({sentence<"sensor-turned">(), sentence<"read-level-turned">(), turned, {again}});
    }

    // Of guides that lack the same in the same setup one candidate.
    void of_guides() {
        std::map<std::size_t, std::vector<std::size_t>> flat, height, lean, both;
        std::vector<std::size_t> asked;
        for (std::size_t g = 0; g < l_.guides.size(); ++g) {
            if (s_.signs_asked[g] != 0) asked.push_back(g);
            const auto over = s_.over_in(g);
            const bool z = std::any_of(s_.rows.begin(), s_.rows.end(), [&](const Row& r) {
                return in_use(r) && r.says == Says::coordinate && r.of == Of::guide && r.which == g &&
                       r.axis == 2;
            });
            const bool levelled = s_.levelled(g, 0) && s_.levelled(g, 1);
            if (over && !z) height[*over].push_back(g);
            if (!levelled && s_.signs_asked[g] == 0) lean[over.value_or(sensor_setup())].push_back(g);
            if (!over) no_place(g, z, flat, both);
        }
        for (const auto& [known_lean, guides] : apart_) new_setup(known_lean, guides);
        for (const auto& [s, guides] : flat) places(s, guides, false);
        for (const auto& [s, guides] : both) places(s, guides, true);
        for (const auto& [s, guides] : height) {
            std::vector<Row> rows;
            rows.reserve(guides.size());
            for (const auto g : guides) rows.push_back(row(Says::coordinate, s, Of::guide, g, 2));
            out_.push_back({sentence<"seat-heights">("guides"_is = names_of(s_, guides)),
                            sentence<"read-valve-head">("setup"_is = l_.setups[s]), rows,
                            of_each(guides, s, {{Ask::Of::valve_head}})});
        }
        for (const auto& [s, guides] : lean) leans(s, guides);
        if (!asked.empty()) {
            std::vector<Row> rows;
            for (const auto g : asked)
                for (int k = 3; k < 5; ++k) rows.push_back(known(l_.guide(g) + k, s_.readings.sensor_sd));
            out_.push_back({sentence<"which-way">("guides"_is = names_of(s_, asked)),
                            sentence<"look-along-head">(), rows, ways_of(s_)});
        }
    }

    void no_place(std::size_t g, bool z, std::map<std::size_t, std::vector<std::size_t>>& flat,
                  std::map<std::size_t, std::vector<std::size_t>>& both) {
        // The setup in which it stands plumb, if there is one.
        if (s_.closed(g, 3) && s_.closed(g, 4))
            for (std::size_t s = 0; s < l_.setups.size(); ++s)
                if (angle_between(turn_of(l_, s, s_.solution.unknowns) * s_.axis(g), Vec3::UnitZ()) <
                    not_plumb) {
                    (z ? flat : both)[s].push_back(g);
                    return;
                }
        // Guides that lean alike, or of which no lean is known, share a new setup.
        const bool known_lean = s_.closed(g, 3) && s_.closed(g, 4);
        for (auto& group : apart_)
            if (group.known_lean == known_lean &&
                (!known_lean || angle_between(s_.axis(group.guides.front()), s_.axis(g)) < not_plumb)) {
                group.guides.push_back(g);
                return;
            }
        apart_.push_back({known_lean, {g}});
    }

    void new_setup(bool known_lean, const std::vector<std::size_t>& guides) {
        std::vector<Row> rows;
        for (const auto g : guides) {
            const auto place = l_.guide(g);
            rows.insert(rows.end(), {known(place, usual_point_sd), known(place + 1, usual_point_sd),
                                     known(place + 2, usual_point_sd)});
            for (const int axis : {0, 1})
                for (const double sign : {1.0, -1.0}) {
                    if (known_lean) continue;
                    rows.push_back(row(Says::lean, sensor_setup(), Of::guide, g, axis));
                    rows.back().sign = sign;
                }
        }
        Sentence at = sentence<"own-setup">();
        std::vector<Ask> asks{{Ask::Of::setup}};
        if (known_lean) {
            const auto attitude = hold::attitude_for(s_.axis(guides.front()));
            const double sign = s_.turned ? -1 : 1;
            asks.front().tilt = sign * attitude.tilt;
            asks.front().swing = sign * attitude.swing;
            const auto tilt = "tilt"_is = as_degrees(sign * attitude.tilt, 2);
            at = std::abs(attitude.swing) > not_plumb
                     ? sentence<"own-setup-swung">(tilt, "swing"_is = as_degrees(sign * attitude.swing, 2))
                     : sentence<"own-setup-tilted">(tilt);
        }
        for (const auto g : guides)
            for (const auto of : {Ask::Of::guide, Ask::Of::valve_head})
                asks.push_back({of, {}, l_.guides[g]});
        const auto where = "where"_is = at;
        out_.push_back(
            {sentence<"places">("guides"_is = names_of(s_, guides)),
             known_lean ? sentence<"read-own-setup">(where) : sentence<"read-own-setup-and-lean">(where),
             rows, asks});
    }

    void places(std::size_t s, const std::vector<std::size_t>& guides, bool heights) {
        std::vector<Row> rows;
        for (const auto g : guides)
            for (int axis = 0; axis < (heights ? 3 : 2); ++axis)
                rows.push_back(row(Says::coordinate, s, Of::guide, g, axis));
        const auto setup = "setup"_is = l_.setups[s];
        out_.push_back({sentence<"places">("guides"_is = names_of(s_, guides)),
                        heights ? sentence<"read-guide-and-head">(setup) : sentence<"read-guide">(setup),
                        rows,
                        heights ? of_each(guides, s, {{Ask::Of::guide}, {Ask::Of::valve_head}})
                                : of_each(guides, s, {{Ask::Of::guide}})});
    }

    void leans(std::size_t s, const std::vector<std::size_t>& guides) {
        std::vector<Row> rows;
        std::vector<Ask> lean_asks;
        for (const auto g : guides)
            for (const int axis : {0, 1})
                for (const double sign : {1.0, -1.0}) {
                    if (s_.levelled(g, axis)) continue;
                    if (sign > 0)
                        lean_asks.push_back({Ask::Of::guide_level, l_.setups[s], l_.guides[g],
                                             axis == 1 ? job::Across::incline : job::Across::cant});
                    rows.push_back(row(Says::lean, s, Of::guide, g, axis));
                    rows.back().sign = sign;
                }
        out_.push_back({sentence<"leans">("guides"_is = names_of(s_, guides)),
                        sentence<"read-lean">("setup"_is = l_.setups[s]), rows, lean_asks});
    }

    const State& s_;
    const Layout& l_;
    struct Apart {
        bool known_lean;
        std::vector<std::size_t> guides;
    };
    std::vector<Apart> apart_;  // guides that stand plumb in no setup yet
    std::vector<Candidate> out_;
};

}  // namespace

// Of the incline by its letters; of the cant, which turns over from cylinder to cylinder where the order
// alternates, by the first guide of the row.
std::vector<Ask> ways_of(const State& state) {
    std::vector<Ask> out;
    std::set<std::pair<std::string, int>> told;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g) {
        const std::string letters = guide_name(state.layout.guides[g])->letters;
        for (const int axis : {1, 0}) {
            if ((state.signs_asked[g] & sign_bit(axis)) == 0 || !told.insert({letters, axis}).second)
                continue;
            Ask way{Ask::Of::way, {}, axis == 1 ? letters : state.layout.guides[g]};
            way.across = axis == 1 ? job::Across::incline : job::Across::cant;
            out.push_back(std::move(way));
        }
    }
    return out;
}

std::vector<Candidate> candidates_of(const State& state) {
    return Gathering(state).take();
}

}  // namespace seatwright::survey
