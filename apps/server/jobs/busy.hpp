// What is being worked on by one at a time, by its number: a place something is being sent to.
#pragma once

#include <memory>
#include <mutex>
#include <set>

namespace seatwright::server {

class Busy {
  public:
    // Held by who works on it; the next one may when it goes. Null: somebody does.
    std::shared_ptr<void> take(long long number) {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (!taken_.insert(number).second) return nullptr;
        return {static_cast<void*>(this), [this, number](void*) {
                    const std::lock_guard<std::mutex> release(mutex_);
                    taken_.erase(number);
                }};
    }

  private:
    std::mutex mutex_;
    std::set<long long> taken_;
};

}  // namespace seatwright::server
