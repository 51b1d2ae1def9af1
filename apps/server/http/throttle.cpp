#include "server/http/throttle.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace seatwright::server {

namespace {

std::string pair_of(const Throttle::Try& of) {
    return "p" + of.name + "\n" + of.address;
}

}  // namespace

double Throttle::wait(const Try& of, double now) {
    const std::lock_guard<std::mutex> lock(mutex_);
    double longest = 0;
    std::vector<std::string> keys{pair_of(of)};
    if (!of.been_here) keys.insert(keys.end(), {"n" + of.name, "a" + of.address});
    for (const auto& key : keys) {
        const auto at = misses_.find(key);
        if (at != misses_.end()) longest = std::max(longest, at->second.until - now);
    }
    return longest;
}

void Throttle::count(const std::string& key, int free, double most, double now) {
    Misses& m = misses_[key];
    m.count = now - m.last > forget_after ? 1 : m.count + 1;
    m.last = now;
    // 1, 2, 4, … seconds after the free ones.
    if (m.count >= free) m.until = now + std::min(most, std::exp2(std::min(m.count - free, 20)));
}

void Throttle::missed(const Try& of, double now) {
    const std::lock_guard<std::mutex> lock(mutex_);
    count(pair_of(of), free_misses_of_name, longest_wait, now);
    count("n" + of.name, free_misses_of_name, longest_wait, now);
    count("a" + of.address, free_misses_of_address, longest_wait_of_address, now);
    if (misses_.size() <= most_kept) return;
    std::erase_if(misses_, [&](const auto& item) { return item.second.until < now; });
    // Still too many: they all come from one flood, whose addresses wait anyway.
    while (misses_.size() > most_kept) misses_.erase(misses_.begin());
}

void Throttle::passed(const Try& of) {
    const std::lock_guard<std::mutex> lock(mutex_);
    misses_.erase(pair_of(of));
    misses_.erase("n" + of.name);
}

}  // namespace seatwright::server
