#include "seatwright/shape/heights.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/shape/zero.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// Along the row two places nearer than this are one, mm: a choice must not hang on rounding.
constexpr double same_place = 1e-6;

// What one reading says of a seat.
struct Said {
    HeightFrom from = HeightFrom::unread;
    double recession = 0, u = 0;
    bool absolute = false;  // else good for differences to the same kind of reading alone
};

// Valves of one form in one setup; without a setup they have no map.
struct Row {
    struct Place {
        std::size_t valve = 0;
        Vec3 map = Vec3::Zero();
    };
    std::vector<Place> places;
    std::optional<std::size_t> datum;  // valve of the setup's datum
    bool mapped = false;
};

std::vector<Row> rows_of(const job::Job& job, const hold::Hold& hold, job::Kind kind) {
    std::vector<Row> rows;
    std::vector<bool> held(job.head.valves.size(), false);
    for (const auto& setup : hold.setups) {
        Row row{{}, setup.datum, true};
        for (const auto& at : setup.valves) {
            held[at.valve] = true;
            if (job.head.valves[at.valve].kind == kind) row.places.push_back({at.valve, at.map});
        }
        if (!row.places.empty()) rows.push_back(std::move(row));
    }
    Row rest;
    for (std::size_t v = 0; v < held.size(); ++v)
        if (!held[v] && job.head.valves[v].kind == kind) rest.places.push_back({v, job.head.valves[v].seat});
    if (!rest.places.empty()) rows.push_back(std::move(rest));
    return rows;
}

class Reader {
  public:
    Reader(const job::Job& job, const std::vector<Before>& readings,
           const std::vector<std::optional<double>>& rests)
        : job_(job), readings_(readings), rests_(rests) {
        out_.seats.resize(readings.size());
        out_.lacking.resize(readings.size());
    }

    Heights run(const hold::Hold& hold) {
        for (std::size_t v = 0; v < readings_.size(); ++v) said_.push_back(said_of(v));
        for (const auto kind : job::both_kinds) {
            if (!job_.seat[kind] || !job_.valve[kind]) continue;
            for (const Row& row : rows_of(job_, hold, kind)) {
                if (job_.depth.from == job::DepthFrom::deck)
                    from_deck(row);
                else
                    from_touch(row);
            }
        }
        tell();
        return std::move(out_);
    }

  private:
    const std::string& id(std::size_t v) const { return job_.head.valves[v].id; }
    const job::SeatForm& form(std::size_t v) const { return *job_.seat[job_.head.valves[v].kind]; }

    std::vector<Said> said_of(std::size_t v) {
        std::vector<Said> out;
        const job::Valve& valve = job_.head.valves[v];
        if (!job_.seat[valve.kind]) return out;
        const Before& b = readings_[v];
        if (b.recession) out.push_back({HeightFrom::recession, *b.recession, gauge_sd, true});
        if (b.below_deck) {
            const double up = valve.axis().z();
            const auto& drawing = form(v).below_deck;
            const double cut = b.below_after_deck_cut ? job_.depth.deck_cut : 0;
            if (up * up >= least_axis_squared)
                out.push_back({HeightFrom::below_deck,
                               recession_of_below_deck(*b.below_deck, cut, drawing.value_or(0), up),
                               gauge_sd / up, drawing.has_value()});
            else if (!b.recession)
                steep_.push_back(valve.id);
        }
        if (b.stem_height && b.stem_by_setting_valve) {
            const auto& drawing = form(v).stem_height;
            out.push_back({HeightFrom::stem_height, *b.stem_height - drawing.value_or(0), gauge_sd,
                           drawing.has_value()});
        }
        if (out.empty() && form(v).old_as_drawn) out.push_back({HeightFrom::as_drawn, 0, 0, true});
        return out;
    }

    const Said* absolute_of(std::size_t v) const {
        for (const Said& s : said_[v])
            if (s.absolute) return &s;
        return nullptr;
    }

    void take(std::size_t v, const Said& s, double recession, bool relative) {
        OldHeight& height = out_.seats[v];
        height.recession = recession;
        height.u = s.u;
        height.from = s.from;
        height.relative = relative;
        if (s.from == HeightFrom::below_deck && !readings_[v].below_by_setting_valve)
            own_valve_.push_back(id(v));
    }

    bool one_height(std::size_t v) const {
        for (const job::SeatOrder& order : job_.depth.seats)
            if (order.valve == id(v)) return order.finish.has_value();
        return job_.depth.to == job::DepthTo::height;
    }

    // A stem height tells how the seat stands to the spring face, not to the deck.
    void from_deck(const Row& row) {
        for (const auto& place : row.places) {
            const std::size_t v = place.valve;
            const Said* found = nullptr;
            for (const Said& s : said_[v])
                if (!found && s.absolute) found = &s;
            if (found) take(v, *found, found->recession, false);
            const bool to_deck = found && found->from != HeightFrom::stem_height;
            if (!to_deck && !one_height(v)) out_.lacking[v] = sentence<"recession-of">("valve"_is = id(v));
        }
    }

    std::size_t touched_in(const Row& row) const {
        const auto named = job_.depth.zero_on ? job_.head.index_of(*job_.depth.zero_on)
                           : job_.depth.from == job::DepthFrom::datum ? row.datum
                                                                      : std::nullopt;
        double left = no_limit, right = -no_limit;
        for (const auto& place : row.places) {
            if (named == place.valve) return place.valve;
            left = std::min(left, place.map.x());
            right = std::max(right, place.map.x());
        }
        const auto nearest = [&](const auto& passes) {
            std::optional<std::size_t> best;
            double least = no_limit;
            for (const auto& place : row.places) {
                const double away = std::abs(place.map.x() - (left + right) / 2);
                if (!passes(place.valve) || away >= least - same_place) continue;
                best = place.valve;
                least = away;
            }
            return best;
        };
        if (const auto read = nearest([&](std::size_t v) { return absolute_of(v) && !readings_[v].rest_z; }))
            return *read;
        if (const auto bare = nearest([&](std::size_t v) { return !readings_[v].rest_z; })) return *bare;
        return *nearest([](std::size_t) { return true; });
    }

    void from_touch(const Row& row) {
        const std::size_t u = touched_in(row);
        const Said* base = absolute_of(u);
        if (base)
            take(u, *base, base->recession, false);
        else
            take(u, {HeightFrom::touched, 0, 0, false}, 0, true);
        const auto at_u = std::find_if(row.places.begin(), row.places.end(),
                                       [&](const Row::Place& p) { return p.valve == u; });
        for (const auto& place : row.places) {
            out_.seats[place.valve].touched = u;
            if (place.valve == u) continue;
            const Before& before = readings_[place.valve];
            if (before.rest_z && row.mapped)
                rested(place, *at_u);
            else
                compared(place.valve, u);
        }
        for (const auto& place : row.places) lack(place.valve, u);
    }

    void rested(const Row::Place& at, const Row::Place& on) {
        const OldHeight& base = out_.seats[on.valve];
        const double zeta = zeta_of(OldSeatTouch{on.map.z(), *base.recession, rests_[on.valve].value_or(0),
                                                 job_.depth.feeler, form(on.valve).angle});
        const double z = job_.machine.z_sign * *readings_[at.valve].rest_z;
        const double recession = recession_of_rest(z, at.map.z(), zeta, rests_[at.valve].value_or(0));
        take(at.valve, {HeightFrom::rest_z, 0, std::hypot(touch_sd, base.u), false}, recession,
             base.relative);
    }

    // The first reading of v that u has too, or that needs no other.
    void compared(std::size_t v, std::size_t u) {
        const OldHeight base = out_.seats[u];
        for (const Said& s : said_[v]) {
            if (s.absolute && !base.relative) return take(v, s, s.recession, false);
            const auto same = std::find_if(said_[u].begin(), said_[u].end(), [&](const Said& other) {
                return other.from == s.from && other.absolute == s.absolute;
            });
            if (!s.absolute && same != said_[u].end())
                return take(v, s, *base.recession + s.recession - same->recession, base.relative);
        }
        // Its own height is known even where the touched seat's is not: good for limits.
        if (const Said* own = absolute_of(v)) take(v, *own, own->recession, false);
    }

    void lack(std::size_t v, std::size_t u) {
        const OldHeight &own = out_.seats[v], &base = out_.seats[u];
        if (one_height(v)) {
            if (base.relative && job_.depth.from != job::DepthFrom::finished)
                out_.lacking[v] = sentence<"recession-of-touched">("valve"_is = id(u));
            return;
        }
        if (v == u) return;
        if (own.recession && own.relative == base.relative) return;
        out_.lacking[v] = own.recession   ? sentence<"recession-of-touched">("valve"_is = id(u))
                          : base.relative ? sentence<"rest-z-of">("valve"_is = id(v), "touched"_is = id(u))
                                          : sentence<"recession-or">("valve"_is = id(v));
    }

    void tell() {
        const auto note = [&](const char* code, Sentence text) {
            out_.notices.warnings.push_back({"shape", code, std::nullopt, std::move(text), Severity::note});
        };
        if (!own_valve_.empty())
            note("own-valve", sentence<"own-valve">("seats"_is = list_of(own_valve_, Join::with_and)));
        if (!steep_.empty())
            note("below-deck-steep",
                 sentence<"below-deck-steep">("seats"_is = list_of(steep_, Join::with_and)));
    }

    const job::Job& job_;
    const std::vector<Before>& readings_;
    const std::vector<std::optional<double>>& rests_;
    std::vector<std::vector<Said>> said_;
    std::vector<std::string> own_valve_, steep_;
    Heights out_;
};

}  // namespace

double recession_of_below_deck(double below_deck, double cut_before_reading, double drawing, double axis_z) {
    return (below_deck + cut_before_reading - drawing) / axis_z;
}

double recession_of_rest(double rest_z, double map_z, double zeta, double rest) {
    return -(rest_z - map_z + zeta - rest);
}

Heights heights_of(const job::Job& job, const hold::Hold& hold, const std::vector<Before>& readings,
                   const std::vector<std::optional<double>>& rests) {
    return Reader(job, readings, rests).run(hold);
}

}  // namespace seatwright::shape
