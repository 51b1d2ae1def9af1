// A job as it stood when one of its entries was acknowledged: its text, its entries, the shelf and its
// casting of that moment (store/moment.hpp). Computed with it gives the numbers of that moment.
#pragma once

#include <memory>

#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

// Throws HttpError 404: no such job, or it has no entry of that number (0: before the first).
std::shared_ptr<const StoredJob> replayed(store::Database& database, long long job, long long sequence);

}  // namespace seatwright::server
