// The server's log as lines of JSON, each an object with "at" (UTC), "level" and "message", or for an answer
// "method", "route" (as in the table of routes, so without names of heads or jobs), "status", "ms" and
// "person" (a number). Neither names nor readings stand in it.
#pragma once

#include "server/http/counters.hpp"

namespace seatwright::server {

// From here on, on standard error.
void log_as_lines();
// A line at level info.
void log_answered(const AnswerNote& answered);

}  // namespace seatwright::server
