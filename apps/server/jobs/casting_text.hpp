// What fetches a casting's text out of the store.
#pragma once

#include "seatwright/store/castings.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

inline CastingText castings_of(store::Database& database) {
    return [&database](const std::string& name) -> std::optional<std::string> {
        auto row = store::Castings(database).named(name);
        return row ? std::optional(std::move(row->text)) : std::nullopt;
    };
}

}  // namespace seatwright::server
