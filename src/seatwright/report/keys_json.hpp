// The table of keys and the table of units as JSON, for the pages and whoever writes jobs by program.
#pragma once

#include <nlohmann/json.hpp>

namespace seatwright::report {

// {"keys": [{key, label, stage, who, limit, dimension?, otherwise?, what?, low?, high?}], "units":
// {dimension: {bare, factors, spellings}}}. `what`, `low` and `high` are what a figure can be, in the unit
// results have (mm, deg, kPa, cm3, …), which is `bare`; `factors` go from each offered unit to it,
// `spellings` likewise from those understood besides (as compared: no spaces, u for the micro sign; case
// counts before it does not). `dimension` stands at numbers only; `otherwise` is what holds where the key is
// absent.
nlohmann::ordered_json keys_json();

}  // namespace seatwright::report
