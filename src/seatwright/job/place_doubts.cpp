#include "seatwright/job/place_doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/job/crossing.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_job.hpp"

namespace seatwright::job {
namespace {

// Seats of one kind lie within some tenths of one plane (common practice); further off is asked about. Two
// seats alone do not say which of them is odd.
constexpr double most_apart_in_height = 5;
// Those of the other kind within some millimetres (common practice).
constexpr double kinds_apart_in_height = 10;
constexpr std::size_t least_alike = 3;

// Guides of one kind lean to one side of the head, and so do all guides of one row (common practice); less
// than this is upright.
constexpr double leans = rad(3);

class PlaceAsker {
  public:
    explicit PlaceAsker(const Job& job) : job_(job) {}

    std::vector<Doubt> take() {
        crossing_guides();
        above_deck();
        for (const Kind kind : both_kinds) apart_in_height(kind);
        kinds_apart();
        leaning_otherwise();
        return std::move(out_);
    }

  private:
    // Valves whose figure is one entry of the pattern share one question, and any of their keys confirms it.
    struct Origin {
        std::string key;
        std::vector<std::string> also;
        std::vector<std::size_t> valves;
    };
    Origin origin_of(std::size_t valve, const char* figure) const {
        const auto& valves = job_.head.valves;
        Origin out;
        for (std::size_t i = 0; i < valves.size(); ++i)
            if (i == valve || (valves[valve].pattern >= 0 && valves[i].pattern == valves[valve].pattern)) {
                out.valves.push_back(i);
                out.also.push_back(fmt::format("head.valve.{}.{}", valves[i].id, figure));
            }
        out.key = valves[valve].pattern >= 0
                      ? fmt::format("head.pattern.valve[{}].{}", valves[valve].pattern, figure)
                      : out.also.front();
        return out;
    }
    bool confirmed(const Origin& origin, double value, Dimension dimension) const {
        const auto sure = [&](const std::string& key) { return is_sure(job_, key, value, dimension); };
        return sure(origin.key) || std::any_of(origin.also.begin(), origin.also.end(), sure);
    }
    List ids(const std::vector<std::size_t>& valves) const {
        List out{Join::with_and, {}};
        out.items.reserve(valves.size());
        for (const std::size_t valve : valves) out.items.emplace_back(job_.head.valves[valve].id);
        return out;
    }

    void above_deck() {
        const auto& valves = job_.head.valves;
        std::set<std::string> asked;
        for (std::size_t i = 0; i < valves.size(); ++i) {
            const double z = valves[i].seat.z();
            if (!(z > 0)) continue;
            const Origin origin = origin_of(i, "z");
            if (!asked.insert(origin.key).second || confirmed(origin, z, Dimension::length)) continue;
            Doubt doubt = of_head(origin, Cost::wrong_side, as_typed(z, Dimension::length));
            doubt.text = sentence<"above-deck">("seats"_is = ids(origin.valves), "z"_is = doubt.value);
            out_.push_back(std::move(doubt));
        }
    }

    struct Heights {
        std::size_t seats = 0;
        double middle = 0;  // median z
    };
    Heights heights_of(Kind kind) const {
        std::vector<double> z;
        for (const Valve& valve : job_.head.valves)
            if (valve.kind == kind) z.push_back(valve.seat.z());
        if (z.empty()) return {};
        return {z.size(), numerics::middle_one(z)};
    }

    // A decimal point lost: the cutter would be sent as far into the head as this seat lies from the others.
    void apart_in_height(Kind kind) {
        const auto& valves = job_.head.valves;
        const Heights all = heights_of(kind);
        if (all.seats < least_alike) return;
        std::set<std::string> asked;
        for (std::size_t i = 0; i < valves.size(); ++i) {
            const double z = valves[i].seat.z();
            if (valves[i].kind != kind || std::abs(z - all.middle) <= most_apart_in_height) continue;
            const Origin origin = origin_of(i, "z");
            if (!asked.insert(origin.key).second || confirmed(origin, z, Dimension::length)) continue;
            Doubt doubt = of_head(origin, Cost::wrong_side, as_typed(z, Dimension::length));
            doubt.text = sentence<"far-from-kind">("seats"_is = ids(origin.valves), "z"_is = doubt.value,
                                                   "others"_is = as_typed(all.middle, Dimension::length));
            doubt.valve.reset();  // Z0 may be taken on it
            out_.push_back(std::move(doubt));
        }
    }

    // All of one kind typed far from all of the other, as where one entry of a pattern stands for them.
    void kinds_apart() {
        const auto& valves = job_.head.valves;
        const Heights in = heights_of(Kind::intake), ex = heights_of(Kind::exhaust);
        if (in.seats == 0 || ex.seats == 0 || std::abs(in.middle - ex.middle) <= kinds_apart_in_height)
            return;
        // The deeper kind is the one asked about: a figure too low sends the cutter into the head.
        const Kind deep = in.middle < ex.middle ? Kind::intake : Kind::exhaust;
        for (std::size_t i = 0; i < valves.size(); ++i) {
            if (valves[i].kind != deep) continue;
            const Origin origin = origin_of(i, "z");
            const double z = valves[i].seat.z();
            if (confirmed(origin, z, Dimension::length)) return;
            Doubt doubt = of_head(origin, Cost::wrong_side, as_typed(z, Dimension::length));
            doubt.text = sentence<"kinds-apart">(
                "kind"_is = kind_said(deep), "z"_is = doubt.value,
                "other"_is = kind_said(deep == Kind::intake ? Kind::exhaust : Kind::intake),
                "others"_is = as_typed(deep == Kind::intake ? ex.middle : in.middle, Dimension::length));
            doubt.valve.reset();
            out_.push_back(std::move(doubt));
            return;
        }
    }

    // A sign typed the wrong way round: the guide that leans otherwise than most of its kind; than the other
    // of its kind in its cylinder's row; or, where a whole kind does, than those of the other kind in its
    // row.
    void leaning_otherwise() {
        const std::size_t before = out_.size();
        otherwise_than_kind();
        if (out_.size() == before) otherwise_than_fellow();
        if (out_.size() == before) otherwise_than_row();
    }

    static int side(const Valve& valve) {
        return valve.incline > leans ? 1 : valve.incline < -leans ? -1 : 0;
    }
    // Where most of a kind lean to; 0: they are too few, or do not agree.
    int side_of(Kind kind) const {
        int sum = 0, all = 0;
        for (const Valve& valve : job_.head.valves)
            if (valve.kind == kind) sum += side(valve), ++all;
        return all >= static_cast<int>(least_alike) && 2 * std::abs(sum) >= all ? (sum > 0) - (sum < 0) : 0;
    }
    static bool opposed_in_row(const Valve& a, const Valve& b) {
        return std::abs(a.seat.y() - b.seat.y()) < one_row && side(a) * side(b) < 0;
    }

    void otherwise_than_kind() {
        const auto& valves = job_.head.valves;
        for (std::size_t i = 0; i < valves.size(); ++i)
            if (side(valves[i]) * side_of(valves[i].kind) < 0)
                ask_of_lean(i, sentence<"leans-otherwise-kind">());
    }

    // Odd of the two is the one that leans as the other kind of the cylinder does.
    void otherwise_than_fellow() {
        const auto& valves = job_.head.valves;
        const auto as_other_kind = [&](const Valve& of) {
            int sum = 0;
            for (const Valve& valve : valves)
                if (valve.cylinder == of.cylinder && valve.kind != of.kind) sum += side(valve);
            return side(of) * sum > 0;
        };
        for (std::size_t i = 0; i < valves.size(); ++i)
            for (std::size_t k = i + 1; k < valves.size(); ++k)
                if (valves[i].cylinder == valves[k].cylinder && valves[i].kind == valves[k].kind &&
                    opposed_in_row(valves[i], valves[k]) && !lean_settled(i) && !lean_settled(k))
                    as_other_kind(valves[k]) ? ask_of_pair(k, i) : ask_of_pair(i, k);
    }

    void otherwise_than_row() {
        const auto& valves = job_.head.valves;
        if (side_of(Kind::intake) * side_of(Kind::exhaust) >= 0) return;
        for (std::size_t i = 0; i < valves.size(); ++i)
            for (std::size_t k = 0; k < valves.size(); ++k)
                if (valves[i].kind == Kind::intake && valves[k].kind == Kind::exhaust &&
                    opposed_in_row(valves[i], valves[k]))
                    return ask_of_pair(i, k);
    }

    // Asked about already, or confirmed.
    bool lean_settled(std::size_t valve) const {
        const Origin origin = origin_of(valve, "incline");
        const auto asked = [&](const Doubt& doubt) { return doubt.key == origin.key; };
        return std::any_of(out_.begin(), out_.end(), asked) ||
               confirmed(origin, job_.head.valves[valve].incline, Dimension::angle);
    }

    void ask_of_pair(std::size_t odd, std::size_t other) {
        ask_of_lean(odd, sentence<"leans-otherwise-in-row">("other"_is = job_.head.valves[other].id));
    }

    // Once an entry of the pattern.
    void ask_of_lean(std::size_t valve, const Sentence& than) {
        if (lean_settled(valve)) return;
        const Origin origin = origin_of(valve, "incline");
        const double incline = job_.head.valves[valve].incline;
        Doubt doubt = of_head(origin, Cost::wrong_side, as_typed(incline, Dimension::angle));
        doubt.text = sentence<"leans-otherwise">("seats"_is = ids(origin.valves), "lean"_is = doubt.value,
                                                 "than"_is = than);
        doubt.valve.reset();  // setups are made of all guides
        out_.push_back(std::move(doubt));
    }

    Doubt of_head(const Origin& origin, Cost cost, Part value) const {
        Doubt doubt;
        doubt.stage = Stage::hold;
        doubt.cost = cost;
        doubt.key = origin.key;
        doubt.value = std::move(value);
        if (origin.valves.size() == 1) doubt.valve = job_.head.valves[origin.valves.front()].id;
        return doubt;
    }

    void crossing_guides() {
        const auto& valves = job_.head.valves;
        std::set<std::string> asked;
        for (const Crossing& pair : crossings(job_)) {
            const Valve &a = valves[pair.a], &b = valves[pair.b];
            const Origin first = origin_of(pair.a, "incline"), second = origin_of(pair.b, "incline");
            if (!asked.insert(first.key + second.key).second) continue;
            if (confirmed(first, a.incline, Dimension::angle) ||
                confirmed(second, b.incline, Dimension::angle))
                continue;
            Doubt doubt = of_head(first, Cost::wrong_side, as_typed(a.incline, Dimension::angle));
            doubt.valve.reset();  // which of the two is wrong nobody knows
            doubt.text = sentence<"guides-cross">(
                "a"_is = a.id, "b"_is = b.id, "a_incline"_is = as_digits(deg(a.incline), 6),
                "b_incline"_is = as_digits(deg(b.incline), 6), "a_cant"_is = as_digits(deg(a.cant), 6),
                "b_cant"_is = as_digits(deg(b.cant), 6));
            out_.push_back(std::move(doubt));
        }
    }

    const Job& job_;
    std::vector<Doubt> out_;
};

}  // namespace

std::vector<Doubt> doubts_of_places(const Job& job) {
    return PlaceAsker(job).take();
}

}  // namespace seatwright::job
