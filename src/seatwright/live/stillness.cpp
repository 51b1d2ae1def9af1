#include "seatwright/live/stillness.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::live {

void Window::forget() {
    last_.reset();
    since_.reset();
    low_.clear();
    high_.clear();
}

void Window::leave_behind(Ms now) {
    const Ms from = now - dwell_;
    while (!low_.empty() && low_.front().until < from) low_.pop_front();
    while (!high_.empty() && high_.front().until < from) high_.pop_front();
}

void Window::see(double value, Ms now) {
    if (!since_) since_ = now;
    now = std::max(now, last_at_);
    if (last_) {
        // A value stands until the next one comes. What lies within a later one's reach is not needed for it.
        while (!low_.empty() && low_.back().value >= *last_) low_.pop_back();
        low_.push_back({*last_, now});
        while (!high_.empty() && high_.back().value <= *last_) high_.pop_back();
        high_.push_back({*last_, now});
    }
    last_ = value;
    last_at_ = now;
    leave_behind(now);
}

std::optional<double> Window::spread(Ms now) {
    if (!last_ || now - *since_ < dwell_) return std::nullopt;
    leave_behind(now);
    double low = *last_, high = *last_;
    if (!low_.empty()) low = std::min(low, low_.front().value);
    if (!high_.empty()) high = std::max(high, high_.front().value);
    return high - low;
}

void Stillness::forget() {
    for (auto& one : windows_) one.forget();
    moved_ = true;
}

void Stillness::forget(std::size_t which) {
    windows_.at(which).forget();
    moved_ = true;
}

std::optional<std::vector<double>> Stillness::values() const {
    std::vector<double> all;
    for (const auto& one : windows_) {
        if (!one.last()) return std::nullopt;
        all.push_back(*one.last());
    }
    return all;
}

std::optional<std::vector<double>> Stillness::came_to_rest(Ms now) {
    bool still = true;
    for (std::size_t i = 0; i < windows_.size(); ++i) {
        const auto spread = windows_[i].spread(now);
        still = still && spread && *spread <= still_[i];
    }
    const auto here = values();
    if (!still || !here) {
        moved_ = true;
        return std::nullopt;
    }
    bool elsewhere = !said_;
    for (std::size_t i = 0; said_ && i < here->size(); ++i)
        elsewhere = elsewhere || std::abs((*here)[i] - (*said_)[i]) > still_[i];
    if (!moved_ && !elsewhere) return std::nullopt;
    moved_ = false;
    said_ = here;
    return here;
}

}  // namespace seatwright::live
