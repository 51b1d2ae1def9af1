// Lengths and angles as the job's own reader expects them, for the sentences of warnings and reasons.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/job/shop.hpp"

namespace seatwright::hold {

std::string length_words(double mm, LengthUnit unit);  // "447.00 mm", "17.598 in"
std::string angle_words(double rad);                   // "19.50 deg", as many decimals as it needs, 2 to 4
std::string mass_words(double kg, LengthUnit unit);    // "21 kg", in inch jobs "21 kg (46 lb)"
std::string ids_words(const std::vector<std::string>& ids);  // "1I, 1E", past eight "1I, …, 3E and 12 more"
const char* side_words(job::LoadSide side);                  // "front", "back"
job::LoadSide opposite(job::LoadSide side);

}  // namespace seatwright::hold
