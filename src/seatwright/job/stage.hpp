// The stages a job goes through.
#pragma once

#include <string_view>

namespace seatwright::job {

enum class Stage { hold, find, shape, cut, prove };

// "hold", "find", "shape", "cut", "prove", and back; stage_named throws std::logic_error on any other word.
std::string_view name_of(Stage stage);
Stage stage_named(std::string_view name);

}  // namespace seatwright::job
