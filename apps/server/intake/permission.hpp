// Who may make a change of a job's text: every key says so itself in the table of keys (job/keys.hpp).
#pragma once

#include <optional>
#include <string>

#include "seatwright/store/people.hpp"
#include "seatwright/store/taken.hpp"

namespace seatwright::server {

// A sentence naming the first keys this person may not change and why; nothing if all may. `before` and
// `after` are texts that can be read; what is the same quantity in another unit is no change. `taken` is the
// first program taken of the job, if any.
std::optional<std::string> refusal_of_change(const store::Person& person, const std::string& before,
                                             const std::string& after,
                                             const std::optional<store::TakenProgram>& taken);

// Which limits and other settings of a lead's in a job's text, and in the shop file it brings, are not what
// the shop's own file says; in words, empty if there are none.
std::string settings_unlike_the_shops(const std::string& text, const std::optional<std::string>& shop_text,
                                      const std::string& shelf);

}  // namespace seatwright::server
