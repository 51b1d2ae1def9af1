// Tells the pages open at this server what other servers on the same database server have written.
#pragma once

#include <vector>

#include "seatwright/store/news.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

class OtherServers {
  public:
    explicit OtherServers(Workbench& bench);

  private:
    void tell(const store::LedgerLine& line);
    void tell_of_shop(const std::vector<store::LedgerLine>& lines);
    void written(const std::vector<store::LedgerLine>& lines);
    Workbench& bench_;
    store::News news_;
};

}  // namespace seatwright::server
