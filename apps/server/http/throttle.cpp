#include "server/http/throttle.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::server {

double Throttle::wait(const std::string& name, const std::string& address, double now) {
    const std::lock_guard<std::mutex> lock(mutex_);
    double longest = 0;
    for (const auto& key : {"n" + name, "a" + address}) {
        const auto at = misses_.find(key);
        if (at != misses_.end()) longest = std::max(longest, at->second.until - now);
    }
    return longest;
}

void Throttle::count(const std::string& key, int free, double now) {
    Misses& m = misses_[key];
    m.count = now - m.last > forget_after ? 1 : m.count + 1;
    m.last = now;
    // 1, 2, 4, … seconds after the free ones.
    if (m.count >= free) m.until = now + std::min(longest_wait, std::exp2(std::min(m.count - free, 20)));
}

void Throttle::missed(const std::string& name, const std::string& address, double now) {
    const std::lock_guard<std::mutex> lock(mutex_);
    count("n" + name, free_misses_of_name, now);
    count("a" + address, free_misses_of_address, now);
    if (misses_.size() <= most_kept) return;
    std::erase_if(misses_, [&](const auto& item) { return item.second.until < now; });
    // Still too many: they all come from one flood, whose addresses wait anyway.
    while (misses_.size() > most_kept) misses_.erase(misses_.begin());
}

void Throttle::passed(const std::string& name) {
    const std::lock_guard<std::mutex> lock(mutex_);
    misses_.erase("n" + name);
}

}  // namespace seatwright::server
