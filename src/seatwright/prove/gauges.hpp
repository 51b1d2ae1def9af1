// Which gauge of the shelf read a quantity of a seat, and whether its calibration still held.
#pragma once

#include "seatwright/prove/account.hpp"

namespace seatwright::prove {

enum class Quantity { runout, width, stem_height };

// The shelf's entry of the gauge named for that quantity that reads it; null where none is named, or the name
// is not on the shelf (a remark).
const job::Gauge* shelf_gauge(const job::Job& job, const Account& account, Quantity quantity);

// A note for every gauge used after the last day of its calibration, by the dates of the readings.
Notices overdue_gauges(const job::Job& job);

}  // namespace seatwright::prove
