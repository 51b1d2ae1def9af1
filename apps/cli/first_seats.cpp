#include "cli/first_seats.hpp"

#include <algorithm>
#include <utility>

#include "seatwright/shape/first_read.hpp"

namespace seatwright::cli {

namespace {

void keep(FirstSeats& kept, ListedFirst first) {
    std::erase_if(kept.firsts,
                  [&](const ListedFirst& one) { return one.head == first.head && one.valve == first.valve; });
    kept.firsts.push_back(std::move(first));
}

}  // namespace

FirstSeats first_seats_in(const std::filesystem::path& folder, const std::string& job) {
    FirstSeats kept{job, {}};
    PaperList list = list_in(folder);
    if (!job.empty() && list.job == job) kept.firsts = std::move(list.firsts);
    return kept;
}

void tell_earlier(job::Job& job, const FirstSeats& kept) {
    if (kept.firsts.empty()) return;
    for (job::FirstSeat& reading : job.readings.firsts) {
        if (reading.planned) continue;
        for (const ListedFirst& first : kept.firsts)
            for (const auto figure :
                 {job::FirstFigure::depth, job::FirstFigure::stem_height, job::FirstFigure::below_deck})
                if (first.head == reading.head && first.valve == reading.valve &&
                    first.figure == shape::word_of(figure))
                    reading.earlier = {figure, first.planned};
    }
}

FirstSeats kept_after(FirstSeats kept, const job::Job& job, const plan::Plan& plan) {
    // Of several readings of a seat the last counts.
    const auto& readings = std::as_const(job).readings.firsts;
    for (const job::FirstSeat& reading : readings)
        if (reading.planned && std::none_of(&reading + 1, readings.end(), [&](const job::FirstSeat& later) {
                return later.head == reading.head && later.valve == reading.valve;
            }))
            keep(kept, {reading.head, reading.valve, std::string(shape::word_of(shape::read_by(reading))),
                        *reading.planned});
    for (const cut::Program& program : plan.cut.programs)
        if (!program.route.draft)
            for (const cut::ToMeasure& one : cut::to_measure(program.route))
                keep(kept,
                     {program.route.head, one.valve, std::string(shape::word_of(one.figure)), one.planned});
    return kept;
}

}  // namespace seatwright::cli
