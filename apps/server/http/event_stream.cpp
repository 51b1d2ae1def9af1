#include "server/http/event_stream.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <vector>

#include "seatwright/store/people.hpp"

namespace seatwright::server {

namespace {

constexpr const char* read_anew = "event: resync\ndata: {}\n\n";

}  // namespace

void Subscriber::listen(std::function<void()> wake) {
    const std::lock_guard<std::mutex> lock(mutex_);
    wake_ = std::move(wake);
}

std::optional<std::string> Subscriber::take() {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (over_) return std::nullopt;
    std::string all;
    for (const auto& one : waiting_) all += one;
    waiting_.clear();
    return all;
}

void Subscriber::push(const std::string& text) {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (waiting_.size() >= most_waiting) {
        waiting_.clear();
        waiting_.push_back(read_anew);
    } else {
        waiting_.push_back(text);
    }
    // Of several that wait the first has woken the connection.
    if (waiting_.size() == 1 && wake_) wake_();
}

void Subscriber::close() {
    const std::lock_guard<std::mutex> lock(mutex_);
    over_ = true;
    if (wake_) wake_();
}

EventStream::EventStream(std::size_t most) : most_(most), run_(store::random_hex(4)) {}

std::string EventStream::id_of(long long number) const {
    return fmt::format("{}-{}", run_, number);
}

std::shared_ptr<Subscriber> EventStream::subscribe(long long job, const std::string& last_id,
                                                   long long person, const std::string& token) {
    auto subscriber = std::make_shared<Subscriber>(job, person, token);
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
        subscriber->push(read_anew);
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

void EventStream::resync() {
    const std::lock_guard<std::mutex> lock(mutex_);
    // Who comes back with a number from before is told so, too.
    kept_.clear();
    number_ += 2;
    for (const auto& subscriber : subscribers_) subscriber->push(read_anew);
}

void EventStream::close() {
    const std::lock_guard<std::mutex> lock(mutex_);
    closed_ = true;
    for (const auto& subscriber : subscribers_) subscriber->close();
}

std::vector<long long> EventStream::listeners() {
    const std::lock_guard lock(mutex_);
    std::vector<long long> out;
    for (const auto& one : subscribers_) out.push_back(one->person());
    return out;
}

void EventStream::end_logged_out(const std::function<bool(const std::string& token)>& still_in) {
    std::vector<std::shared_ptr<Subscriber>> all;
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        all.assign(subscribers_.begin(), subscribers_.end());
    }
    for (const auto& subscriber : all)
        if (!still_in(subscriber->token())) subscriber->close();
}

}  // namespace seatwright::server
