#include "seatwright/report/head_time.hpp"

#include <algorithm>

namespace seatwright::report {

HeadTime head_time(const cut::Cut& cut) {
    HeadTime out;
    for (const cut::SeatCut& seat : cut.seats) {
        const bool in_file = std::find(cut.order.begin(), cut.order.end(), seat.valve) != cut.order.end();
        if (!in_file && seat.seconds <= 0) continue;  // counted nowhere
        (in_file ? out.in_files : out.in_no_file) += 1;
        (in_file ? out.in_files_seconds : out.in_no_file_seconds) += seat.seconds;
    }
    return out;
}

}  // namespace seatwright::report
