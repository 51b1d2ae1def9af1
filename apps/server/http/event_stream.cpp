#include "server/http/event_stream.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>

#include "seatwright/store/people.hpp"

namespace seatwright::server {

namespace {

constexpr const char* resync = "event: resync\ndata: {}\n\n";

}  // namespace

std::optional<std::string> Subscriber::wait(double seconds) {
    std::unique_lock<std::mutex> lock(mutex_);
    some_.wait_for(lock, std::chrono::duration<double>(seconds), [&] { return over_ || !waiting_.empty(); });
    if (over_) return std::nullopt;
    std::string all;
    for (const auto& one : waiting_) all += one;
    waiting_.clear();
    return all;
}

void Subscriber::push(const std::string& text) {
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

void Subscriber::close() {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        over_ = true;
    }
    some_.notify_one();
}

EventStream::EventStream(std::size_t most) : most_(most), run_(store::random_hex(4)) {}

std::string EventStream::id_of(long long number) const {
    return fmt::format("{}-{}", run_, number);
}

std::shared_ptr<Subscriber> EventStream::subscribe(long long job, const std::string& last_id,
                                                   long long person) {
    auto subscriber = std::make_shared<Subscriber>(job, person);
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto own = std::count_if(subscribers_.begin(), subscribers_.end(),
                                   [&](const auto& one) { return one->person() == person; });
    if (closed_ || subscribers_.size() >= most_ || static_cast<std::size_t>(own) >= most_of_person)
        return nullptr;
    subscribers_.insert(subscriber);
    if (last_id.empty()) return subscriber;
    long long last = 0;
    const bool ours = last_id.starts_with(run_ + "-");
    if (ours) std::from_chars(last_id.data() + run_.size() + 1, last_id.data() + last_id.size(), last);
    const long long oldest = kept_.empty() ? number_ + 1 : kept_.front().number;
    if (!ours || last + 1 < oldest || last > number_) {
        subscriber->push(resync);
        return subscriber;
    }
    for (const auto& event : kept_)
        if (event.number > last && event.job == job) subscriber->push(event.text);
    return subscriber;
}

void EventStream::unsubscribe(const std::shared_ptr<Subscriber>& subscriber) {
    const std::lock_guard<std::mutex> lock(mutex_);
    subscribers_.erase(subscriber);
}

void EventStream::publish(long long job, const std::string& event, const std::string& data) {
    const std::lock_guard<std::mutex> lock(mutex_);
    ++number_;
    kept_.push_back(
        {number_, job, fmt::format("id: {}\nevent: {}\ndata: {}\n\n", id_of(number_), event, data)});
    if (kept_.size() > most_kept) kept_.pop_front();
    for (const auto& subscriber : subscribers_)
        if (subscriber->job() == job) subscriber->push(kept_.back().text);
}

void EventStream::close() {
    const std::lock_guard<std::mutex> lock(mutex_);
    closed_ = true;
    for (const auto& subscriber : subscribers_) subscriber->close();
}

}  // namespace seatwright::server
