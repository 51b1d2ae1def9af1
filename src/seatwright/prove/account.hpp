// Who took a reading, when and with what: each reading of a seat keeps its own.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

struct Account {
    std::string by, date, gauge, calibrated;
    std::optional<double> gauge_u, resolution;  // mm
    job::GaugesUsed gauges;                     // of each quantity by itself, where `gauge` is not said
};

// One for each of a seat's readings, in their order. A person states what stays the same once, so what a
// reading leaves out it takes from the last that states it before, else from the next. Not everything: the
// day goes with the person, gauge and calibration with the gauge_u, the least step too, so that none of them
// is put down to someone or something else.
std::vector<Account> accounts_of(const std::vector<const job::SeatAfter*>& readings);

// What the readings say of a seat, gathered by account. `of_reading`: the session each reading belongs to;
// none for one that carries no value.
struct Sessions {
    std::vector<Session> all;
    std::vector<std::optional<std::size_t>> of_reading;
};
Sessions sessions_of(const std::vector<const job::SeatAfter*>& readings,
                     const std::vector<Account>& accounts);

}  // namespace seatwright::prove
