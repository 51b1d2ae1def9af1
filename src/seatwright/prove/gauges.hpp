// Which gauge of the shelf read a quantity of a seat, and whether its calibration still held.
#pragma once

#include "seatwright/prove/account.hpp"

namespace seatwright::prove {

enum class Quantity { runout, width, stem_height };

// The shelf's entry of the gauge named for that quantity that reads it; null where none is named, or the name
// is not on the shelf (a remark).
const job::Gauge* shelf_gauge(const job::Job& job, const Account& account, Quantity quantity);

// What is stated of the gauge that read a quantity: of the shelf where it is named and there, else the
// reading's own gauge_u and resolution. Lengths mm.
struct StatedGauge {
    std::optional<double> u, step;
};
StatedGauge stated_gauge(const job::Job& job, const Account& account, Quantity quantity);

// How many figures of the gauge make one value: a runout is the difference of two.
int figures_of(Quantity quantity);
// Standard uncertainty of one value: the gauge's u, and its step, within which each figure may lie anywhere
// (JCGM 100 F.2.2.1); none where neither is stated.
std::optional<double> standard_u(const StatedGauge& gauge, Quantity quantity);

// The word [[gauge]] reads has for it: "runout", "width", "stem_height".
const char* word(Quantity quantity);
// Whether it reads that quantity; one that does not say reads any.
bool reads(const job::Gauge& gauge, Quantity quantity);
// Whether a reading carries a value of that quantity.
bool carries(const job::SeatAfter& reading, Quantity quantity);
// Whether a date ("2027-03-31", which a time may follow) lies after that last day; false where it is no date.
bool after(const std::string& date, const std::string& last_day);

// A note for every gauge used after the last day of its calibration, by the dates of the readings.
Notices overdue_gauges(const job::Job& job);

}  // namespace seatwright::prove
