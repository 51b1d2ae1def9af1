// A connection to the database that knows whose rows it is about and which lines of the Ledger it has
// written.
#pragma once

#include <soci/soci.h>

#include <algorithm>
#include <string>

#include "seatwright/store/the_shop.hpp"

namespace seatwright::store {

class Sql : public soci::session {
  public:
    // One of the pool's, given back at the end.
    explicit Sql(soci::connection_pool& pool, long long shop = the_shop) : session(pool), shop_(shop) {}
    // One of its own.
    Sql(const soci::backend_factory& backend, const std::string& connect, long long shop = the_shop)
        : session(backend, connect), shop_(shop) {}

    long long shop() const { return shop_; }

    // A line of the Ledger was written; what is undone again may be among them.
    void wrote_line(long long id) {
        first_line_ = first_line_ == 0 ? id : std::min(first_line_, id);
        last_line_ = std::max(last_line_, id);
    }
    // Before the next transaction of a connection that is kept.
    void begin_lines() { first_line_ = last_line_ = 0; }
    long long first_line() const { return first_line_; }  // 0: none
    long long last_line() const { return last_line_; }

  private:
    long long shop_;
    long long first_line_ = 0, last_line_ = 0;
};

}  // namespace seatwright::store
