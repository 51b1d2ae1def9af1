// A scan as JSON (the contract's keys) and as text for a terminal.
#pragma once

#include "seatwright/report/report.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::report {

nlohmann::ordered_json json_of(const scan::Scan& scan);  // said in the unit of its job
nlohmann::ordered_json json_of(const scan::Scan& scan, const Speech& speech);
std::string text_of(const scan::Scan& scan, const TextStyle& style);

}  // namespace seatwright::report
