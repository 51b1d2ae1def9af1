#include "server/http/guests.hpp"

#include <algorithm>

namespace seatwright::server {

Guests::Guest Guests::enter(const std::string& address, std::function<void()> leave) {
    const std::lock_guard lock(mutex_);
    Guest guest;
    if (places_.size() >= limits_.all) return guest;
    Place place;
    place.leave = std::move(leave);
    if (!admit(place, address)) return guest;
    guest.place_ = places_.insert(places_.end(), std::move(place));
    guest.house_ = this;
    return guest;
}

Guests::Guest::~Guest() {
    if (house_ == nullptr) return;
    const std::lock_guard lock(house_->mutex_);
    house_->give_up(*place_);
    house_->places_.erase(place_);
}

bool Guests::Guest::asks(const std::string& address, bool logged_in) {
    const std::lock_guard lock(house_->mutex_);
    if (place_->stranger == !logged_in && (logged_in || (place_->counted && place_->address == address)))
        return true;
    house_->give_up(*place_);
    place_->stranger = !logged_in;
    return logged_in || house_->admit(*place_, address);
}

void Guests::give_up(Place& place) {
    if (!place.counted) return;
    place.counted = false;
    --strangers_;
    const auto at = of_address_.find(place.address);
    if (--at->second == 0) of_address_.erase(at);
}

bool Guests::admit(Place& place, const std::string& address) {
    const auto at = of_address_.find(address);
    const std::size_t there = at == of_address_.end() ? 0 : at->second;
    // Through a proxy nothing is known of the address before the head has come.
    if (!address.empty() && there >= limits_.strangers_of_address) return false;
    if (strangers_ >= limits_.strangers && !make_room(address)) return false;
    place.address = address;
    place.counted = true;
    ++strangers_;
    ++of_address_[address];
    return true;
}

bool Guests::make_room(const std::string& address) {
    const auto most = std::max_element(of_address_.begin(), of_address_.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    const auto own = of_address_.find(address);
    const std::size_t mine = own == of_address_.end() ? 0 : own->second;
    if (most == of_address_.end() || most->second <= mine + 1) return false;
    const auto oldest = std::find_if(places_.begin(), places_.end(), [&](const Place& place) {
        return place.counted && place.address == most->first;
    });
    give_up(*oldest);
    oldest->leave();
    return true;
}

}  // namespace seatwright::server
