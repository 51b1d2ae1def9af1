#include "seatwright/cut/estimate.hpp"

#include <algorithm>
#include <set>

#include "seatwright/cut/seat_plan.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

std::optional<Estimate> estimate_of(const job::Job& job, const find::Find& find, const shape::Shape& shape) {
    if (!job.rates) return std::nullopt;
    const auto seats = [&](shape::Decision decision) {
        return static_cast<double>(
            std::count_if(shape.seats.begin(), shape.seats.end(),
                          [&](const shape::Seat& seat) { return seat.decision == decision; }));
    };
    const double inserts = seats(shape::Decision::insert);
    const double valves = seats(shape::Decision::cut) + inserts;
    const auto pilots = find::pilots_of(job, find, shape.head);
    const auto guides = static_cast<double>(std::count_if(
        pilots.begin(), pilots.end(), [](const find::PilotChoice& choice) { return choice.repair; }));
    Estimate estimate;
    estimate.currency = job.rates->currency;
    const auto line = [&](const char* what, double count, double rate) {
        estimate.lines.push_back({what, count, rate, count * rate});
        estimate.head += count * rate;
    };
    line("head, set up and checked", 1, job.rates->head);
    line("valves, seat cut", valves, job.rates->valve);
    line("guides repaired", guides, job.rates->guide);
    line("inserts fitted", inserts, job.rates->insert);

    std::set<std::string> read;
    for (const job::GuideBore& guide : job::of_head(job.readings.guides, shape.head))
        read.insert(guide.valve);
    const auto unread = std::count_if(job.head.valves.begin(), job.head.valves.end(),
                                      [&](const job::Valve& valve) { return !read.contains(valve.id); });
    if (unread > 0)
        estimate.not_included.push_back(
            sentence<"guides-not-measured">("count"_is = static_cast<std::size_t>(unread)));
    estimate.not_included.insert(estimate.not_included.end(),
                                 {sentence<"cracks">(), sentence<"deck-flat">(), sentence<"valves-springs">(),
                                  sentence<"parts-materials">()});
    return estimate;
}

}  // namespace seatwright::cut
