// A job that is read already, with one reading more, another in place of one, or all readings of another job:
// they are not read anew for it.
#pragma once

#include <optional>

#include "seatwright/job/reader.hpp"

namespace seatwright::job {

bool has_readings(const Readings& readings);

// `one`: that reading as given_readings and the like make it. `in_place_of`: which of its kind it takes the
// place of (a seat, a first seat or a proof); none: it stands behind all others of its kind. What read_job
// gives of all of them, to the last bit; nothing where one reading does not tell that: something is wrong
// with it, or one of its figures is asked about. That the job can have one head more, if it is of a new one,
// is the caller's to know.
std::optional<Job> with_reading(const Job& job, const GivenReadings& one,
                                std::optional<std::size_t> in_place_of);

// `edited` with the readings of `now`. `document`: what `now` was made of, without its readings; both it and
// `edited` were read from texts that have none. What read_job gives of edited's text and those readings, to
// the last bit; nothing where that does not follow: other valves, another unit, a rule that readings go
// against.
std::optional<Job> with_readings_of(const Job& now, const Job& document, Job edited);

}  // namespace seatwright::job
