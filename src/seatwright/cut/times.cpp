#include "seatwright/cut/times.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/cut/moves.hpp"

namespace seatwright::cut {

namespace {

const Stop* stop_of(const PlannedFiles& files, std::size_t valve) {
    for (const Route& route : files.routes)
        for (const Stop& stop : route.stops)
            if (stop.valve == valve) return &stop;
    return nullptr;
}

// A seat that is in no file: its speeds as planned, its heights as they usually are.
Stop usual_stop(const job::Job& job, const SeatCut& seat, double depth) {
    Stop stop;
    stop.rpm = seat.rpm;
    stop.feed = seat.rpm * seat.feed / 60;
    stop.finish_feed = seat.rpm * seat.finish_feed / 60;
    stop.dwell_seconds = seat.rpm > 0 ? seat.dwell_turns * 60 / seat.rpm : 0;
    set_heights(job, stop, {usual_way, usual_way}, approach_height(job, depth, 0, 0), depth);
    return stop;
}

// From the last place to clear of this seat again.
double stop_seconds(const job::Job& job, const Stop& stop, double across, const Drive& drive) {
    const double slow = job.cut.enter_feed, top = stop.over_mouth;
    const double loose = std::min(stop.z + slow_lift + break_loose, top);
    double seconds = move_seconds(across, drive);
    seconds += move_seconds(clear_margin, drive, approach_feed) + move_seconds(clear_margin, drive);
    seconds += move_seconds(top - stop.approach, drive, slow);
    seconds += job.machine.spin_up + job.machine.spin_down + stop.dwell_seconds;
    if (stop.feed > 0) seconds += move_seconds(stop.approach - stop.finish_from, drive, stop.feed);
    if (stop.finish_feed > 0)
        seconds += move_seconds(stop.finish_from - stop.z, drive, stop.finish_feed) +
                   move_seconds(slow_lift, drive, stop.finish_feed);
    seconds += move_seconds(loose - stop.z - slow_lift, drive, std::min(slow, break_loose_feed));
    return seconds + move_seconds(top - loose, drive, slow);
}

int file_halts(const job::Job& job, const Cut& cut) {
    // Z0, the look at the tip, and the tool brought up by hand where no word does it.
    const int of_file = 2 + (job.dialect.top.empty() ? 1 : 0);
    int halts = 0;
    for (const Program& program : cut.programs)
        halts += of_file + (program.route.part == FilePart::first ? of_file : 0) +
                 (program.route.measure_after && program.route.part == FilePart::whole ? 1 : 0);
    return halts;
}

}  // namespace

int float_halts(const job::Machine& machine) {
    if (!machine.tool_float || machine.tool_float->kind != job::Float::Kind::commanded) return 0;
    const job::Float& moved = *machine.tool_float;
    const bool free = moved.free == "hand", lock = moved.lock == "hand", centre = moved.centre == "hand";
    int halts = free ? 1 : 0;
    if (machine.lock_to_cut) halts += (lock ? 1 : 0) + (free ? 1 : 0);
    if (centre || (lock && moved.centre != "self")) ++halts;
    return halts;
}

void add_times(Cut& cut, const Known& known, const Sequence& sequence, const PlannedFiles& files) {
    if (sequence.stops.empty()) return;
    const job::Job& job = known.job;
    const Drive drive = drive_of(job.machine);
    std::vector<std::size_t> setups;
    Vec2 from = Vec2::Zero();
    for (const Sequenced& at : sequence.stops) {
        SeatCut& seat = cut.seats[at.seat];
        if (setups.empty() || setups.back() != at.setup) {
            setups.push_back(at.setup);
            from = Vec2::Zero();  // over the datum guide, where the readout was zeroed
        }
        const Vec2 place = held_at(known.hold, seat.valve).held->readout;
        const auto shaped = std::find_if(known.shape.seats.begin(), known.shape.seats.end(),
                                         [&](const shape::Seat& s) { return s.valve == seat.valve; });
        const Stop* planned = stop_of(files, seat.valve);
        const Stop stop = planned != nullptr ? *planned : usual_stop(job, seat, shaped->depth.value_or(0));
        seat.seconds = stop_seconds(job, stop, (place - from).norm(), drive);
        cut.times.seats += seat.seconds;
        from = place;
    }
    cut.times.load = load_seconds;
    cut.times.setups = setup_seconds * static_cast<double>(setups.size());
    // The first cutter has to go in too.
    cut.times.changes = change_seconds * (cut.cutter_changes + 1);
    cut.seconds_head = cut.times.load + cut.times.setups + cut.times.changes + cut.times.seats;
    const bool floats = job.cut.pilot != job::PilotUse::none;
    cut.halts_head = file_halts(job, cut) +
                     (floats ? float_halts(job.machine) : 0) * static_cast<int>(sequence.stops.size());
}

}  // namespace seatwright::cut
