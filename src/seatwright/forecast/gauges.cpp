#include "seatwright/forecast/gauges.hpp"

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

namespace seatwright::forecast {
namespace {

struct Stated {
    double u = 0;
    const job::Gauge* gauge = nullptr;  // null: the reading's own figures
};

// Of the last reading that carries the quantity and says what it was read with.
std::optional<Stated> last_stated(const job::Job& job, prove::Quantity quantity) {
    using Seat = std::pair<std::string, std::string>;  // head, valve
    std::map<Seat, std::vector<const job::SeatAfter*>> seats;
    const auto& proofs = job.readings.proofs;
    for (const job::SeatAfter& reading : proofs) seats[{reading.head, reading.valve}].push_back(&reading);
    std::map<Seat, std::vector<prove::Account>> accounts;
    for (auto at = proofs.rbegin(); at != proofs.rend(); ++at) {
        if (!prove::carries(*at, quantity)) continue;
        const Seat seat{at->head, at->valve};
        const auto& readings = seats[seat];
        auto& of_seat = accounts[seat];
        if (of_seat.empty()) of_seat = prove::accounts_of(readings);
        const auto place = std::find(readings.begin(), readings.end(), &*at) - readings.begin();
        const prove::Account& account = of_seat[static_cast<std::size_t>(place)];
        if (const auto u = standard_u(prove::stated_gauge(job, account, quantity), quantity))
            return Stated{*u, prove::shelf_gauge(job, account, quantity)};
    }
    return std::nullopt;
}

std::string last_day_of(const job::Job& job) {
    std::string last;
    for (const job::SeatAfter& reading : job.readings.proofs)
        if (prove::after(reading.date, last)) last = reading.date.substr(0, 10);
    return last;
}

void name_gauge(JudgedWith& out, const job::Job& job, const job::Gauge& gauge) {
    out.name = gauge.name;
    if (!gauge.calibrated_until.empty() && prove::after(last_day_of(job), gauge.calibrated_until))
        out.overdue = gauge.calibrated_until;
}

}  // namespace

std::optional<double> Known::*figure_of(prove::Quantity quantity) {
    return quantity == prove::Quantity::runout  ? &Known::runout_u
           : quantity == prove::Quantity::width ? &Known::width_u
                                                : &Known::height_u;
}

const char* key_of(prove::Quantity quantity) {
    return quantity == prove::Quantity::runout  ? "forecast.gauge_u"
           : quantity == prove::Quantity::width ? "forecast.width_gauge_u"
                                                : "forecast.height_gauge_u";
}

std::optional<double> shelf_u(const job::Gauge& gauge, prove::Quantity quantity) {
    if (!prove::reads(gauge, quantity)) return std::nullopt;
    return prove::standard_u({gauge.u, gauge.step}, quantity);
}

JudgedWith judged_with(const job::Job& job, prove::Quantity quantity, std::optional<double> key) {
    JudgedWith out;
    if (key) {
        out.u = key;
        return out;
    }
    if (const auto stated = last_stated(job, quantity)) {
        out.u = stated->u;
        out.from = From::record;
        if (stated->gauge != nullptr) name_gauge(out, job, *stated->gauge);
        return out;
    }
    const job::Gauge* coarsest = nullptr;
    for (const job::Gauge& gauge : job.gauges) {
        const auto u = shelf_u(gauge, quantity);
        if (!u) continue;
        ++out.of_several;
        if (!out.u || *u > *out.u) {
            out.u = u;
            coarsest = &gauge;
        }
    }
    if (coarsest != nullptr) name_gauge(out, job, *coarsest);
    return out;
}

}  // namespace seatwright::forecast
