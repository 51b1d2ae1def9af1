// A folder of nightly backups: what lies there by its names, and what of it is kept as the days go by: every
// one of the last seven days, the newest of each of the last four weeks, the newest of each of the last
// twelve months that have any.
#pragma once

#include <chrono>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

// "2026-11-28" (ISO 8601).
std::string iso_day(std::chrono::sys_days day);

// "seatwright-2026-11-28.db".
std::string nightly_name(std::chrono::sys_days day);
// None: not of that form, or no day.
std::optional<std::chrono::sys_days> day_of_name(const std::string& name);

// Days of the backups in `folder`, oldest first; none when it cannot be read.
std::vector<std::chrono::sys_days> backups_in(const std::string& folder);

// Weeks begin on Mondays (ISO 8601). The newest of all is always kept.
std::set<std::chrono::sys_days> kept_of(const std::vector<std::chrono::sys_days>& days);

// Removes what kept_of leaves out; files of other names are never touched, nor do days after today count: a
// clock that was wrong made them. How many.
int prune(const std::string& folder, std::chrono::sys_days today);

// The step the data of that file are at; none: there is no such file, or no data of ours in it.
std::optional<long long> migration_of(const std::string& file);

// When the data of `folder` are older than this program: a backup of them in `to`, before anything is
// changed. Its name; empty when nothing is to be done; a refusal when it cannot be made.
Answer<std::string> back_up_before_migration(const std::string& folder, const std::string& to);

}  // namespace seatwright::store
