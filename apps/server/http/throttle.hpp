// Slows down guessing of passwords: after a few misses of one name or one address each further try must wait
// longer, up to a quarter of an hour. Kept in memory; a restart forgets.
#pragma once

#include <map>
#include <mutex>
#include <string>

namespace seatwright::server {

class Throttle {
  public:
    // Seconds to wait before these may try again; 0 = now. `now` in seconds on any steady clock.
    double wait(const std::string& name, const std::string& address, double now);
    void missed(const std::string& name, const std::string& address, double now);
    // Forgets the misses of the name; those of the address stand, or one good account would free it to guess
    // on.
    void passed(const std::string& name);

  private:
    struct Misses {
        int count = 0;
        double until = 0, last = 0;
    };
    // A shop's address stands for several people: it may miss more often than one name.
    static constexpr int free_misses_of_name = 5, free_misses_of_address = 20;
    static constexpr double longest_wait = 900;
    static constexpr double forget_after = 3600;
    static constexpr std::size_t most_kept = 10'000;
    void count(const std::string& key, int free, double now);
    std::mutex mutex_;
    std::map<std::string, Misses> misses_;
};

}  // namespace seatwright::server
