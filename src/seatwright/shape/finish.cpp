#include "seatwright/shape/finish.hpp"

#include "seatwright/job/kind_word.hpp"

namespace seatwright::shape {

double finish_of_below_deck(double wanted, double drawing, double deck_cut, double axis_z) {
    return (wanted - drawing + deck_cut) / axis_z;
}

FinishAt finish_at(const job::Job& job, const job::Valve& valve, const job::Finish& finish,
                   const Before& before, const OldHeight& height) {
    const job::SeatForm& form = *job.seat[valve.kind];
    const std::string table = std::string("seat.") + job::kind_word(valve.kind) + ".";
    if (finish.recession) return {finish.recession, {}};
    if (finish.below_deck) {
        if (!form.below_deck) return {std::nullopt, table + "below_deck"};
        return {
            finish_of_below_deck(*finish.below_deck, *form.below_deck, job.depth.deck_cut, valve.axis().z()),
            {}};
    }
    if (!finish.stem_height) return {std::nullopt, table + "finish"};
    const auto recession = height.absolute();
    if (before.stem_height && !before.stem_by_setting_valve && recession)
        return {*recession + *finish.stem_height - *before.stem_height, {}};
    if (!form.stem_height) return {std::nullopt, table + "stem_height"};
    return {*finish.stem_height - *form.stem_height, {}};
}

const job::SeatOrder* order_of(const job::Job& job, const std::string& valve) {
    const job::SeatOrder* found = nullptr;
    for (const job::SeatOrder& order : job.depth.seats)
        if (order.valve == valve) found = &order;
    return found;
}

std::optional<job::Finish> finish_wanted(const job::Job& job, const job::Valve& valve) {
    if (const job::SeatOrder* order = order_of(job, valve.id)) return order->finish;
    if (job.depth.to == job::DepthTo::cleanup) return std::nullopt;
    return job.seat[valve.kind]->finish.value_or(job::Finish{});
}

}  // namespace seatwright::shape
