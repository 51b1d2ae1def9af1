// Which part of a head programs are asked for, in a request: `from=3I` (a blade broke there) or `only=3I,4I`.
#pragma once

#include <string>

#include "seatwright/job/selection.hpp"
#include "server/http/call.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

// As the request says; neither means the whole head. Throws HttpError 400: both at once, or a valve the head
// has not.
job::Selection selection_of(Call& call, const StoredJob& stored);

// The same key asks for the same part of a head; empty for the whole.
std::string part_key(const job::Selection& selection);
job::Selection selection_of_key(const std::string& key);

}  // namespace seatwright::server
