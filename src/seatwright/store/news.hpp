// What other servers on the same database server have written, heard as soon as it is committed: each group
// of writes tells the others the numbers of its lines of the Ledger (PostgreSQL 15, NOTIFY; numbers alone,
// since whoever may connect may listen).
#pragma once

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

class News {
  public:
    struct Heard {
        std::function<void(const std::vector<LedgerLine>&)> written;  // by another server, oldest first
        // The connection was lost and is there again: what was written meanwhile is not known.
        std::function<void()> away;
    };
    // Listens on a connection and in a thread of its own, in which `heard` is called; what that throws ends
    // the connection, which is made again. Nothing to hear on a file.
    News(Database& database, Heard heard);
    ~News();
    News(const News&) = delete;
    News& operator=(const News&) = delete;

  private:
    struct Connection;
    void run();
    void listen(Connection& connection);
    void take(const std::string& numbers);
    bool wait_to_stop(int socket, int longest_ms) const;
    Database& database_;
    Heard heard_;
    int stop_[2] = {-1, -1};  // a pipe: a byte says that it is over
    std::thread thread_;
};

}  // namespace seatwright::store
