// All feeds of the shop, each followed by a thread of its own for as long as it is set up. What a page sees
// of one is its newest state, however many readings come a second: a page cannot fall behind.
#pragma once

#include <atomic>
#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "seatwright/store/feeds.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/feeds/settings.hpp"
#include "server/feeds/source.hpp"

namespace seatwright::server {

// The receiver's clock: it shows the time of day when the program began and only goes forward from there.
live::Ms feed_now();

class Hub {
  public:
    explicit Hub(store::Database& database) : feeds_(database) {}
    ~Hub();
    Hub(const Hub&) = delete;
    Hub& operator=(const Hub&) = delete;

    // Follows what is set up and nothing else; called at the start and after each change.
    void follow_what_is_set_up();
    // What it shows now: values, what is refused, what was offered last. HttpError 404.
    Json now(long long feed, const Speech& speech);
    // What stands, as a reading a person asks for. HttpError 404, 422 with why there is none.
    Json take(long long feed, const Speech& speech);

  private:
    struct Running;
    std::shared_ptr<Running> running(long long feed);
    store::Feeds feeds_;
    std::mutex mutex_;
    std::map<long long, std::shared_ptr<Running>> running_;
};

// What a source sends within `wait`, for who sets a feed up: each key with its newest text, what an agent
// says it is, and what went wrong.
Json tried(const SourceSettings& source, std::chrono::milliseconds wait, const Speech& speech);

}  // namespace seatwright::server
