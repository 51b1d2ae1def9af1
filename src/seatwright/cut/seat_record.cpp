#include "seatwright/cut/seat_record.hpp"

#include "seatwright/cut/first_seat.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/shape/before.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {
namespace {

constexpr double higher_than_old = 0.02;  // mm, within what a depth gauge tells

// Place of the last reading of that seat, from 1; 0 = none.
template <class Reading>
int last_of(const GrowingList<Reading>& all, const std::string& head, const std::string& valve) {
    int place = 0;
    for (const auto i : job::of_head(all, head).places())
        if (all[i].valve == valve) place = static_cast<int>(i) + 1;
    return place;
}

}  // namespace

SeatRecord record_of(const job::Job& job, const std::string& head, const SeatPlanned& seat) {
    const job::Valve& valve = job.head.valves.at(seat.valve);
    SeatRecord out;
    if (!job.seat[valve.kind]) return out;
    const AfterReading after = after_reading(job, head, valve.id, *job.seat[valve.kind]);
    const int first = last_of(job.readings.firsts, head, valve.id);
    const int proof = last_of(job.readings.proofs, head, valve.id);
    // Readings after cutting come later than those of first seats, whatever their order in the file.
    out.rank = proof > 0 ? static_cast<int>(job.readings.firsts.size()) + proof : first;
    out.cut = after.cut || first > 0;
    out.first_only = !after.cut && first > 0;
    if (after.cut && !after.good) return out;
    FinishedFrom from;
    from.old = seat.old;
    from.planned_depth = seat.depth;
    from.stem_before = shape::reading_of(job, head, valve.id).stem_height;
    from.stem_after = after.stem_height;
    if (const job::FirstSeat* reading = first_reading(job, head, valve.id)) from.first_depth = reading->depth;
    from.short_by = job.cut.first_stop ? short_by(job.cut, seat.depth) : 0;
    from.trim_max = job.cut.trim_max;
    if (job.depth.to == job::DepthTo::height) from.one_height = seat.stop;
    from.named = job.depth.zero_on == valve.id && job.depth.from == job::DepthFrom::finished;
    from.good = after.good;
    out.finished = finished_height(from);
    // A cutter leaves nothing higher than it was: such a reading is not one to take Z0 on.
    if (out.finished && seat.old && *out.finished > *seat.old + higher_than_old) {
        out.finished.reset();
        return out;
    }
    out.good = after.good || (!after.cut && out.finished.has_value());
    return out;
}

tl::expected<shape::ZeroTask, HeldBack> restarted(shape::ZeroTask task, const Restart& restart) {
    if (restart.zero_void())
        return tl::unexpected(HeldBack{task.head, task.setup, std::nullopt, HeldCode::zero_void,
                                       sentence<"new-blade">("cutter"_is = task.number),
                                       sentence<"new-blade-frees">()});
    task.from = restart.finished_on ? job::DepthFrom::finished : job::DepthFrom::touch;
    if (restart.finished_on)
        task.named = restart.finished_on;
    else if (!task.named || !restart.may_touch(*task.named))
        task.named = restart.touch_on;
    return task;
}

}  // namespace seatwright::cut
