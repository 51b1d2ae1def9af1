#include <algorithm>

#include "seatwright/cut/files.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/job/of_head.hpp"

namespace seatwright::cut {

std::string file_name(const job::Job& job, const Route& route, const std::string& setup, int turn) {
    job::FileOf file;
    file.head = route.head;
    file.setup = setup;
    if (job.machine.zero == job::ZeroKept::program && !route.stops.empty())
        file.number = route.stops.front().tool.number;
    file.turn = turn;
    file.only = route.only;
    file.from = route.from;
    file.first = route.part == FilePart::first;
    file.draft = route.draft;
    return job.dialect.names == job::Dialect::Names::eight_three ? job::short_name(file)
                                                                 : job::long_name(file);
}

std::string newest_date(const job::Job& job, const std::string& head) {
    std::string newest;
    const auto look_at = [&](const auto& readings) {
        for (const auto& reading : job::of_head(readings, head)) newest = std::max(newest, reading.date);
    };
    look_at(job.readings.touches);
    look_at(job.readings.levels);
    look_at(job.readings.guides);
    look_at(job.readings.seats);
    look_at(job.readings.firsts);
    look_at(job.readings.proofs);
    return newest;
}

}  // namespace seatwright::cut
