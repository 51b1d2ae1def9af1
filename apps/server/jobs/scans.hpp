// Measured surfaces on their way to a job: what has arrived of each file, and, once it is read, what its
// points show. Nothing of it is in the store; a file lies without a name in the folder of the data (or of
// temporary files, where the data are on a database server) and is gone with the program.
#pragma once

#include <chrono>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "seatwright/scan/surface.hpp"
#include "seatwright/store/refusal.hpp"
#include "server/jobs/tasks.hpp"

namespace seatwright::server {

struct ScanFile;  // the file and its bounds

// What has come of one.
struct ScanStanding {
    std::string id, file;
    unsigned long long bytes = 0, taken = 0;
    std::shared_ptr<const scan::Surface> surface;  // none: not read yet
};

class Scans {
  public:
    explicit Scans(std::string folder) : folder_(std::move(folder)) {}
    ~Scans();
    Scans(const Scans&) = delete;
    Scans& operator=(const Scans&) = delete;

    static constexpr unsigned long long most_bytes = 1ULL << 30;
    static constexpr std::size_t most_piece = 8u << 20;
    static constexpr std::size_t most_of_one = 2, most_kept = 6;
    static constexpr auto kept_for = std::chrono::hours(4);  // since it was last asked for

    // Room for a file of that name and size; of this person's the oldest beyond most_of_one goes.
    store::Answer<ScanStanding> begin(long long person, std::string file, unsigned long long bytes);
    // The next piece of it. Refused (stale) where it does not begin where the last one ended.
    store::Answer<ScanStanding> add(long long person, const std::string& id, unsigned long long at,
                                    std::string_view piece);
    // What its points show, as a task does it: refused when all of it has not come, when no head is in it, or
    // when the person stops it.
    store::Answer<ScanStanding> read(long long person, const std::string& id, std::optional<LengthUnit> units,
                                     TaskReport& report);
    // Of this person; none if there is none of that id (any more).
    std::optional<ScanStanding> standing(long long person, const std::string& id);
    bool let_go(long long person, const std::string& id);

  private:
    std::shared_ptr<ScanFile> file_of(long long person, const std::string& id);
    void forget(long long person);
    std::string folder_;
    std::mutex mutex_;
    std::list<std::shared_ptr<ScanFile>> files_;  // the oldest first
};

}  // namespace seatwright::server
