// A casting's text out of the store, and what jobs are called in it. Titles are not one job's own on a Bench
// (two batches of one casting are called alike), so a casting's records name a job by its title and number.
#pragma once

#include <string>

#include "seatwright/store/castings.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

inline CastingText castings_of(store::Database& database) {
    return [&database](const std::string& name) -> std::optional<std::string> {
        auto row = store::Castings(database).named(name);
        return row ? std::optional(std::move(row->text)) : std::nullopt;
    };
}

// "spring order (no. 12)": what job 12 is called in a casting's records.
std::string known_as(const std::string& title, long long job);

// What a job of that title that is not the one reading is called while it is read.
std::string another_called(const std::string& title);

// The casting's text as that job reads it: its own records under its title, so that its heads are known from
// here, those of others of the same title under another.
std::string as_read_by(std::string casting_text, const std::string& title, long long job);

// The text of `stored.version`, read with its shop text and its casting.
std::shared_ptr<const ReadVersion> read_version(const StoredJob& stored, const CastingText& castings);

}  // namespace seatwright::server
