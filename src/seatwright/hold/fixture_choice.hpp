// Which fixture of the shelf should hold this head?
#pragma once

#include <vector>

#include "seatwright/hold/hold.hpp"
#include "seatwright/hold/setups.hpp"

namespace seatwright::hold {

// Judges every fixture of job.fixtures (the chosen one alone if the shelf is empty), in shelf order: post
// span and post diameter, tilt and swing reach within its own plumb limit, mass limit, layouts it suits. What
// is not known of the head or fixture is not held against it. Of those that fit the best needs the fewest
// setups, then has the least largest plumb error, then stands first on the shelf.
// `own`: the setups of the job's own fixture.
std::vector<FixtureVerdict> judge_fixtures(const job::Job& job, const SetupPlan& own);

// What the job's own choice of fixture calls for: blocking where the head does not go on it, a note where
// another would do better.
std::vector<Warning> fixture_warnings(const job::Job& job, const std::vector<FixtureVerdict>& verdicts);

}  // namespace seatwright::hold
