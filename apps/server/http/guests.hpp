// How many connections there may be: in all, of those not logged in, and of those from one address. A
// stranger who finds the room full takes the place of the one that has been there longest of the address that
// has most, so that slow connections from a few places close the workbench to nobody else.
#pragma once

#include <functional>
#include <list>
#include <map>
#include <mutex>
#include <string>

namespace seatwright::server {

struct GuestLimits {
    std::size_t all = 512;
    std::size_t strangers = 64;             // not logged in, or not known yet
    std::size_t strangers_of_address = 32;  // of those from one address
};

class Guests {
  public:
    explicit Guests(const GuestLimits& limits = {}) : limits_(limits) {}

    // One connection; it counts until it goes. Must not outlive the Guests.
    class Guest {
      public:
        Guest(Guest&& other) noexcept : house_(other.house_), place_(other.place_) { other.house_ = nullptr; }
        Guest& operator=(Guest&&) = delete;
        ~Guest();
        // Whether there was room.
        explicit operator bool() const { return house_ != nullptr; }
        // It asks something: from that address, by somebody logged in or not. False when there is no room for
        // it as what it is now.
        bool asks(const std::string& address, bool logged_in);

      private:
        friend class Guests;
        struct Place {
            std::string address;
            bool stranger = true;
            bool counted = false;
            std::function<void()> leave;
        };
        Guest() = default;
        Guests* house_ = nullptr;
        std::list<Place>::iterator place_;
    };

    // A connection from that address; empty: through a proxy, whose own address counts for nothing. `leave`
    // ends it from another thread.
    Guest enter(const std::string& address, std::function<void()> leave);

  private:
    using Place = Guest::Place;
    bool admit(Place& place, const std::string& address);
    void give_up(Place& place);
    bool make_room(const std::string& address);
    GuestLimits limits_;
    std::mutex mutex_;
    std::list<Place> places_;  // in order of their coming
    std::size_t strangers_ = 0;
    std::map<std::string, std::size_t> of_address_;  // strangers
};

}  // namespace seatwright::server
