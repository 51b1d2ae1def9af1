// Backups by themselves: each night one into a folder that should stand on another disk, opened, its digests
// checked and one of its jobs worked out again from it before it counts; older ones thinned out
// (store/backup_folder.hpp).
#pragma once

#include <chrono>
#include <mutex>
#include <optional>
#include <string>

#include "seatwright/words/part.hpp"
#include "server/jobs/job_cache.hpp"

namespace seatwright::server {

class NightlyBackup {
  public:
    // `data`: the data folder; `to`: where backups go, empty: none are made.
    NightlyBackup(JobCache& cache, std::string data, std::string to)
        : cache_(cache), data_(std::move(data)), to_(std::move(to)) {}

    // Makes one when the last is of an earlier day and it is past two in the morning (`now` in local time),
    // or when there is none. Called each hour.
    void tend(std::chrono::local_seconds now);

    struct Standing {
        std::string folder;  // empty: none are made
        std::optional<std::chrono::sys_days> newest;
        std::size_t count = 0;
        bool same_disk = false;  // as the data
        Sentence failed;         // why the last try failed; says nothing: it did not
    };
    // `until`: backups of later days are left out, which a clock that was wrong has dated.
    Standing standing(std::chrono::sys_days until = std::chrono::sys_days::max()) const;
    // For everybody when the newest is more than two days old or the last try failed; else it says nothing.
    Sentence warning(std::chrono::sys_days today) const;

  private:
    Sentence make(std::chrono::sys_days day);
    Sentence replay(const std::string& backup, std::chrono::sys_days day) const;
    JobCache& cache_;
    std::string data_, to_;
    mutable std::mutex mutex_;
    Sentence failed_;
};

// The clock on the wall.
std::chrono::local_seconds local_now();

}  // namespace seatwright::server
