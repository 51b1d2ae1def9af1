#include "seatwright/cut/times.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/cut/moves.hpp"
#include "seatwright/cut/program.hpp"

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

// Of its programs, and of those not yet made or made before: the second file after a first one, and the first
// before a second, which asks for Z0 and a look, and for the tool at the top where no word brings it there.
int halts_of_head(const Cut& cut, const Known& known) {
    const int first_file = 2 + (known.job.dialect.top.empty() ? 1 : 0);
    int halts = 0;
    for (const Program& program : cut.programs) {
        halts += program.halts + (program.route.part == FilePart::rest ? first_file : 0);
        if (program.route.part != FilePart::first) continue;
        const std::size_t valve = program.route.stops.front().valve;
        for (const Route& whole : cut.routes)
            if (std::any_of(whole.stops.begin(), whole.stops.end(),
                            [&](const Stop& stop) { return stop.valve == valve; }))
                halts += halts_of(write_program(known.job, known.hold.setups.at(whole.setup), whole));
    }
    return halts;
}

}  // namespace

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
    cut.halts_head = halts_of_head(cut, known);
}

}  // namespace seatwright::cut
