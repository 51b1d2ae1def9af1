#include "seatwright/shape/zero_task.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/shape/zero_words.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {
namespace {

// Along the row two places nearer than this are one (mm): a choice must not hang on rounding.
constexpr double same_place = 1e-6;
// A deck turned by less than this (rad) stands alike high everywhere to a tenth of a micrometre.
constexpr double level_everywhere = 1e-7;

using Taken = tl::expected<Zero, HeldBack>;

tl::unexpected<HeldBack> held(const ZeroTask& task, HeldCode code, Sentence reason, Sentence frees) {
    return tl::unexpected(
        HeldBack{task.head, task.setup, std::nullopt, code, std::move(reason), std::move(frees)});
}

double middle_of(const std::vector<ZeroSeat>& seats) {
    const auto [low, high] =
        std::minmax_element(seats.begin(), seats.end(),
                            [](const ZeroSeat& a, const ZeroSeat& b) { return a.map.x() < b.map.x(); });
    return 0.5 * (low->map.x() + high->map.x());
}

// Nearest the middle of the row of those that pass.
template <class Passes>
std::optional<std::size_t> nearest_middle(const std::vector<ZeroSeat>& seats, Passes passes) {
    std::optional<std::size_t> best;
    if (seats.empty()) return best;
    const double middle = middle_of(seats);
    for (std::size_t i = 0; i < seats.size(); ++i) {
        if (!passes(seats[i])) continue;
        const double away = std::abs(seats[i].map.x() - middle);
        if (!best || away < std::abs(seats[*best].map.x() - middle) - same_place) best = i;
    }
    return best;
}

std::optional<std::size_t> place_of(const std::vector<ZeroSeat>& seats, std::optional<std::size_t> valve) {
    if (!valve) return std::nullopt;
    for (std::size_t i = 0; i < seats.size(); ++i)
        if (seats[i].valve == *valve) return i;
    return std::nullopt;  // of another form or setup: this cutter takes its own
}

void measure(const ZeroTask& task, Zero& zero, auto&& u_of) {
    double planned = 0, all = 0;
    for (const ZeroSeat& seat : task.seats) {
        const double u = expansion_factor * u_of(seat);
        zero.u.push_back(u);
        all = std::max(all, u);
        if (seat.planned) planned = std::max(planned, u);
    }
    zero.u_worst = planned > 0 ? planned : all;
}

Taken on_seat(const ZeroTask& task, Zero zero, const ZeroSeat& touched) {
    measure(task, zero, [&](const ZeroSeat& seat) {
        return u_of_seat_zero({.on = zero.on,
                               .to = task.to,
                               .the_touched = seat.valve == touched.valve,
                               .height_u = touched.height_u.value_or(task.sds.height),
                               .height_v = seat.height_u.value_or(task.sds.height)},
                              task.sds);
    });
    zero.words = zero_words(task, zero);
    return zero;
}

Taken on_old_seat(const ZeroTask& task) {
    const auto named = place_of(task.seats, task.named);
    const auto chosen = named ? named : touched_by_default(task.seats, task.to);
    if (!chosen)
        return held(task, HeldCode::zero_void,
                    sentence<"no-uncut-seat">("cutter"_is = task.number, "setup"_is = task.setup),
                    sentence<"no-uncut-seat-frees">());
    const ZeroSeat& seat = task.seats[*chosen];
    if (seat.already_cut)
        return held(task, HeldCode::zero_void,
                    sentence<"already-cut">("cutter"_is = task.number, "seat"_is = seat.id),
                    sentence<"already-cut-frees">("seat"_is = seat.id));
    if (task.to == job::DepthTo::height && !seat.recession)
        return held(task, HeldCode::not_measured,
                    sentence<"height-not-known">("cutter"_is = task.number, "seat"_is = seat.id),
                    sentence<"height-not-known-frees">("seat"_is = seat.id));
    Zero zero;
    zero.on = ZeroOn::old_seat;
    zero.valve = seat.valve;
    zero.at = seat.readout;
    zero.rest = seat.rest;
    zero.feeler = task.feeler;
    zero.zeta = zeta_of(OldSeatTouch{.m = seat.map.z(),
                                     .recession = seat.recession.value_or(0),
                                     .rest = seat.rest.value_or(0),
                                     .feeler = task.feeler,
                                     .angle = seat.angle});
    return on_seat(task, std::move(zero), seat);
}

Taken on_finished_seat(const ZeroTask& task) {
    std::optional<std::size_t> chosen = place_of(task.seats, task.named);
    if (chosen && !task.seats[*chosen].finished) chosen.reset();
    for (std::size_t i = 0; i < task.seats.size(); ++i) {
        const ZeroSeat& seat = task.seats[i];
        if (!seat.finished || (chosen && task.named == task.seats[*chosen].valve)) continue;
        if (!chosen || seat.finished_rank > task.seats[*chosen].finished_rank) chosen = i;
    }
    if (!chosen)
        return held(task, HeldCode::zero_void,
                    sentence<"none-finished">("cutter"_is = task.number, "head"_is = task.head),
                    sentence<"none-finished-frees">());
    const ZeroSeat& seat = task.seats[*chosen];
    Zero zero;
    zero.on = ZeroOn::finished_seat;
    zero.valve = seat.valve;
    zero.at = seat.readout;
    zero.rest = 0;
    zero.feeler = task.feeler;
    zero.zeta = zeta_of(FinishedSeatTouch{
        .m = seat.map.z(), .height = *seat.finished, .feeler = task.feeler, .angle = seat.angle});
    return on_seat(task, std::move(zero), seat);
}

// The opening that a point of the deck is in or within `margin` of, if any.
const DeckHole* hole_near(const ZeroDeck& deck, const Vec2& at, double margin) {
    for (const DeckHole& hole : deck.holes)
        if ((at - hole.centre).norm() < 0.5 * hole.diameter + margin) return &hole;
    return nullptr;
}

tl::unexpected<HeldBack> missing(const ZeroTask& task, const Sentence& what, std::string key) {
    return held(task, HeldCode::missing, sentence<"deck-needs">("cutter"_is = task.number, "what"_is = what),
                the_key(std::move(key)));
}

Zero deck_zero(const ZeroTask& task, ZeroOn on, const Vec3& under, double zeta) {
    Zero zero;
    zero.on = on;
    zero.at = Vec2(task.deck.x_sign * under.x(), task.deck.y_sign * under.y());
    zero.zeta = zeta;
    const Vec3 normal = task.deck.rotation * Vec3::UnitZ();
    measure(task, zero, [&](const ZeroSeat& seat) {
        return u_of_deck_zero({.to = task.to,
                               .normal = normal,
                               .lever = std::abs(under.y() - seat.map.y()),
                               .height_v = seat.height_u.value_or(task.sds.height)},
                              task.sds);
    });
    zero.words = zero_words(task, zero);
    return zero;
}

Taken on_block(const ZeroTask& task, const Vec3& normal) {
    const ZeroDeck& deck = task.deck;
    const double slope = std::atan2(std::hypot(normal.x(), normal.y()), normal.z());
    if (slope > block_square_within)
        return held(task, HeldCode::zero_void,
                    sentence<"deck-not-square">("slope"_is = as_degrees(slope, 2), "setup"_is = task.setup),
                    sentence<"deck-not-square-frees">());
    if (!deck.block) return missing(task, sentence<"block-height">(), "depth.block");
    if (!deck.at && slope > level_everywhere)
        return missing(task, sentence<"block-place">(), "depth.deck_at");
    if (!deck.lowest)
        return missing(task, sentence<"lowest-edge">("cutter"_is = task.cutter), "cutter.lowest");
    const Vec3 under =
        deck_place(deck.rotation, deck.datum, deck.at.value_or(Vec2(deck.datum.head<2>())), deck.deck_cut);
    return deck_zero(task, ZeroOn::block, under,
                     zeta_of(BlockTouch{.deck = under.z(), .block = *deck.block, .lowest = *deck.lowest}));
}

Taken on_deck(const ZeroTask& task) {
    const ZeroDeck& deck = task.deck;
    const Vec3 normal = deck.rotation * Vec3::UnitZ();
    const bool by_ball = task.kept == job::ZeroKept::offsets;
    if (deck.at) {
        if (const DeckHole* hole = hole_near(deck, *deck.at, by_ball ? deck.ball.value_or(0) : 0))
            return held(task, HeldCode::zero_void, sentence<"near-hole">("hole"_is = hole->name),
                        sentence<"near-hole-frees">());
    }
    if (!by_ball) return on_block(task, normal);
    if (!deck.at) return missing(task, sentence<"ball-place">(), "depth.deck_at");
    if (!deck.ball) return missing(task, sentence<"ball-radius">(), "machine.ball");
    if (!deck.lowest)
        return missing(task, sentence<"lowest-edge">("cutter"_is = task.cutter), "cutter.lowest");
    const Vec3 under = deck_place(deck.rotation, deck.datum, *deck.at, deck.deck_cut);
    return deck_zero(
        task, ZeroOn::deck_point, under,
        zeta_of(BallTouch{.under = under, .normal = normal, .radius = *deck.ball, .lowest = *deck.lowest}));
}

}  // namespace

std::optional<std::size_t> touched_by_default(const std::vector<ZeroSeat>& seats, job::DepthTo to) {
    const auto uncut = [](const ZeroSeat& s) { return s.has_old_seat && !s.already_cut; };
    const auto read = [&](const ZeroSeat& s) { return uncut(s) && s.recession; };
    const auto planned = [&](const ZeroSeat& s) { return uncut(s) && s.planned; };
    if (const auto best = nearest_middle(seats, [&](const ZeroSeat& s) { return planned(s) && s.recession; }))
        return best;
    // Of a plan of differences the touched seat itself needs no height: better it than one that stays as it
    // is.
    const auto first =
        to == job::DepthTo::height ? nearest_middle(seats, read) : nearest_middle(seats, planned);
    if (first) return first;
    const auto second =
        to == job::DepthTo::height ? nearest_middle(seats, planned) : nearest_middle(seats, read);
    if (second) return second;
    return nearest_middle(seats, uncut);
}

Taken take_zero(const ZeroTask& task) {
    switch (task.from) {
        case job::DepthFrom::finished:
            return on_finished_seat(task);
        case job::DepthFrom::deck:
            return on_deck(task);
        case job::DepthFrom::touch:
        case job::DepthFrom::datum:
            break;
    }
    return on_old_seat(task);
}

}  // namespace seatwright::shape
