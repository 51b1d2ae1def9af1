// Holds what is stored against its digests while the workbench runs: at the start what came since the newest
// shop digest, then everything, job by job, in the background; and makes the shop's digest each hour.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <set>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "seatwright/store/database.hpp"

namespace seatwright::server {

class RecordWatch {
  public:
    // Looks at once at what is new. `each`: from one digest of the shop to the next.
    explicit RecordWatch(store::Database& database, std::chrono::milliseconds each = std::chrono::hours(1));
    ~RecordWatch();
    RecordWatch(const RecordWatch&) = delete;
    RecordWatch& operator=(const RecordWatch&) = delete;

    // The rest, in a thread of its own.
    void start();
    // A sentence for each thing found so far. Thread-safe.
    std::vector<std::string> damage() const;
    // Whether everything has been looked at once.
    bool through() const;

  private:
    void run();
    void found(long long job, const std::string& words);
    void chain_shop();
    bool wait_for_next();
    bool stopping() const;
    store::Database& database_;
    std::chrono::milliseconds each_;
    mutable std::mutex mutex_;
    std::condition_variable over_;
    bool stop_ = false, through_ = false;
    std::set<std::pair<long long, std::string>> damage_;  // by job; 0: the shelf, the shop's own digests
    std::thread thread_;
};

}  // namespace seatwright::server
