// Slows down guessing of passwords: after a few misses of one name at one address, of one name anywhere, or
// of one address, each further try there must wait longer. Who has come in from that address before waits for
// nobody's misses but those under the own name there: nobody locks out all who share an address. Kept in
// memory; a restart forgets.
#pragma once

#include <map>
#include <mutex>
#include <string>

namespace seatwright::server {

class Throttle {
  public:
    struct Try {
        std::string name, address;
        bool been_here = false;  // that name has come in from that address before
    };
    // Seconds to wait before this may be tried; 0 = now. `now` in seconds on any steady clock.
    double wait(const Try& of, double now);
    void missed(const Try& of, double now);
    // Forgets the misses of the name; those of the address stand, or one good account would free it to guess
    // on.
    void passed(const Try& of);

  private:
    struct Misses {
        int count = 0;
        double until = 0, last = 0;
    };
    // A shop's address stands for several people: it may miss more often than one name.
    static constexpr int free_misses_of_name = 5, free_misses_of_address = 20;
    static constexpr double longest_wait = 900;
    static constexpr double longest_wait_of_address = 30;  // somebody new may come in behind it, too
    static constexpr double forget_after = 3600;
    static constexpr std::size_t most_kept = 10'000;
    void count(const std::string& key, int free, double most, double now);
    std::mutex mutex_;
    std::map<std::string, Misses> misses_;
};

}  // namespace seatwright::server
