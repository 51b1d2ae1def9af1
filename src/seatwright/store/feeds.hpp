// Feeds: sources of readings that come by themselves (docs/live.md), as they are set up.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct NewFeed {
    std::string name;      // "mill readout", unique in the shop
    std::string settings;  // JSON; not read here
};

struct FeedRow : NewFeed {
    long long id = 0, version = 1;
};

class Feeds {
  public:
    explicit Feeds(Database& database) : database_(database) {}

    std::vector<FeedRow> rows();
    std::optional<FeedRow> row(long long id);
    Answer<FeedRow> make(const Person& by, const NewFeed& feed);
    // Stale when `made_on` is not its version.
    Answer<FeedRow> change(const Person& by, long long id, long long made_on, const NewFeed& feed);
    Answer<FeedRow> put_away(const Person& by, long long id);

  private:
    Database& database_;
};

}  // namespace seatwright::store
