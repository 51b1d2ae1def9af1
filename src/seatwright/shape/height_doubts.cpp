#include "seatwright/shape/height_doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/shape/before.hpp"
#include "seatwright/shape/depth_doubts.hpp"
#include "seatwright/shape/heights.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

struct Apart {
    const Seat* seat = nullptr;
    Sentence by;       // the reading its height does not come from
    double lower = 0;  // by how much that one puts it lower
};

// Absolute readings besides the one the height was taken from.
void add_others(const job::Job& job, const Shape& shape, const Seat& seat, std::vector<Apart>& out) {
    const job::Valve& valve = job.head.valves[seat.valve];
    const auto& form = job.seat[valve.kind];
    const auto chosen = seat.height.absolute();
    if (!form || !chosen) return;
    const Before read = reading_of(job, shape.head, valve.id);
    const double up = valve.axis().z();
    if (read.recession && seat.height.from != HeightFrom::recession)
        out.push_back({&seat, sentence<"its-recession">(), *read.recession - *chosen});
    if (read.stem_height && read.stem_by_setting_valve && form->stem_height &&
        seat.height.from != HeightFrom::stem_height)
        out.push_back(
            {&seat, sentence<"its-stem-height">(), *read.stem_height - *form->stem_height - *chosen});
    if (read.below_deck && read.below_by_setting_valve && form->below_deck && up * up >= least_axis_squared &&
        seat.height.from != HeightFrom::below_deck)
        out.push_back(
            {&seat, sentence<"its-below-deck">(),
             recession_of_below_deck(*read.below_deck, read.below_after_deck_cut ? job.depth.deck_cut : 0,
                                     *form->below_deck, up) -
                 *chosen});
}

// What all of a kind and a reading share is the drawing's or the setting valve's.
double shared_by(const job::Job& job, const std::vector<Apart>& all, const Apart& one) {
    std::vector<double> lower;
    for (const Apart& other : all)
        if (other.by == one.by && other.seat->height.from == one.seat->height.from &&
            job.head.valves[other.seat->valve].kind == job.head.valves[one.seat->valve].kind)
            lower.push_back(other.lower);
    return lower.size() < 3 ? 0 : numerics::middle_one(std::move(lower));
}

bool touched_on(const Shape& shape, std::size_t valve) {
    return std::any_of(shape.seats.begin(), shape.seats.end(),
                       [&](const Seat& seat) { return seat.height.touched == valve; });
}

}  // namespace

std::vector<job::Doubt> contradicting_heights(const job::Job& job, const Shape& shape) {
    std::vector<Apart> all;
    for (const Seat& seat : shape.seats) add_others(job, shape, seat, all);
    std::vector<job::Doubt> out;
    for (const Apart& one : all) {
        const double apart = one.lower - shared_by(job, all, one);
        const std::string& id = job.head.valves[one.seat->valve].id;
        const std::string key = fmt::format("heights.{}", id);
        if (std::abs(apart) <= most_apart || said_sure(job, shape.head, id) ||
            job::is_sure(job, key, apart, job::Dimension::length))
            continue;
        out.push_back({job::Stage::shape, job::Cost::reading, key, figure(apart),
                       sentence<"heights-contradict">(
                           "seat"_is = id, "by"_is = one.by, "apart"_is = figure(std::abs(apart)),
                           "way"_is = apart > 0 ? sentence<"lower">() : sentence<"higher">()),
                       touched_on(shape, one.seat->valve) ? std::nullopt : std::optional<std::string>(id),
                       shape.head, false});
    }
    return out;
}

std::vector<job::Doubt> finish_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    if (job.depth.to != job::DepthTo::height) return out;
    for (const Seat& seat : shape.seats) {
        const job::Valve& valve = job.head.valves[seat.valve];
        const auto& form = job.seat[valve.kind];
        if (!form || !form->finish || form->finish->recession || !seat.finished_recession) continue;
        const auto& orders = job.depth.seats;
        if (std::any_of(orders.begin(), orders.end(), [&](const auto& o) { return o.valve == valve.id; }))
            continue;
        const double f = *seat.finished_recession;
        const std::string key = fmt::format("seat.{}.finish", job::kind_word(valve.kind));
        if ((f <= most_recession && f >= -most_proud) || job::is_sure(job, key, f, job::Dimension::length))
            continue;
        out.push_back(
            {job::Stage::shape,
             job::Cost::form,
             key,
             figure(f),
             sentence<"finish-far">("kind"_is = job::kind_said(valve.kind), "off"_is = figure(std::abs(f)),
                                    "way"_is = f < 0 ? sentence<"above">() : sentence<"below">(),
                                    "most"_is = figure(f < 0 ? most_proud : most_recession)),
             std::nullopt,
             {},
             false});
    }
    return out;
}

}  // namespace seatwright::shape
