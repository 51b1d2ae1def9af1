#include "server/http/bell.hpp"

#include <fmt/format.h>

#include <charconv>
#include <chrono>

#include "seatwright/store/people.hpp"

namespace seatwright::server {

namespace {

constexpr const char* resync = "event: resync\ndata: {}\n\n";

}  // namespace

std::optional<std::string> Ear::wait(double seconds) {
    std::unique_lock<std::mutex> lock(mutex_);
    some_.wait_for(lock, std::chrono::duration<double>(seconds), [&] { return over_ || !waiting_.empty(); });
    if (over_) return std::nullopt;
    std::string all;
    for (const auto& one : waiting_) all += one;
    waiting_.clear();
    return all;
}

void Ear::tell(const std::string& text) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (waiting_.size() >= most_waiting) {
            waiting_.clear();
            waiting_.push_back(resync);
        } else {
            waiting_.push_back(text);
        }
    }
    some_.notify_one();
}

void Ear::close() {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        over_ = true;
    }
    some_.notify_one();
}

Bell::Bell(std::size_t most) : most_(most), run_(store::random_hex(4)) {}

std::string Bell::id_of(long long number) const {
    return fmt::format("{}-{}", run_, number);
}

std::shared_ptr<Ear> Bell::listen(long long job, const std::string& last_id) {
    auto ear = std::make_shared<Ear>(job);
    const std::lock_guard<std::mutex> lock(mutex_);
    if (closed_ || ears_.size() >= most_) return nullptr;
    ears_.insert(ear);
    if (last_id.empty()) return ear;
    long long last = 0;
    const bool ours = last_id.starts_with(run_ + "-");
    if (ours) std::from_chars(last_id.data() + run_.size() + 1, last_id.data() + last_id.size(), last);
    const long long oldest = kept_.empty() ? number_ + 1 : kept_.front().number;
    if (!ours || last + 1 < oldest || last > number_) {
        ear->tell(resync);
        return ear;
    }
    for (const auto& rung : kept_)
        if (rung.number > last && rung.job == job) ear->tell(rung.text);
    return ear;
}

void Bell::leave(const std::shared_ptr<Ear>& ear) {
    const std::lock_guard<std::mutex> lock(mutex_);
    ears_.erase(ear);
}

void Bell::ring(long long job, const std::string& event, const std::string& data) {
    const std::lock_guard<std::mutex> lock(mutex_);
    ++number_;
    kept_.push_back(
        {number_, job, fmt::format("id: {}\nevent: {}\ndata: {}\n\n", id_of(number_), event, data)});
    if (kept_.size() > most_kept) kept_.pop_front();
    for (const auto& ear : ears_)
        if (ear->job() == job) ear->tell(kept_.back().text);
}

void Bell::close() {
    const std::lock_guard<std::mutex> lock(mutex_);
    closed_ = true;
    for (const auto& ear : ears_) ear->close();
}

}  // namespace seatwright::server
