#include "server/jobs/questions.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "server/http/http_error.hpp"
#include "server/http/worker_pool.hpp"

namespace seatwright::server {

namespace {

using QuestionClock = Questions::Clock;

void check_time(QuestionClock::time_point until, const Questions::StillThere& there) {
    constexpr int nobody_waits = 499;  // never seen by anybody
    if (there && !there()) throw http_error(nobody_waits, "the question was taken back");
    if (QuestionClock::now() >= until)
        throw http_error(503, "the server is busy and this took too long; ask again, or for less at once");
}

}  // namespace

Questions::Turn::Turn(Questions& house, long long person, QuestionClock::time_point until, StillThere there)
    : house_(house), person_(person), until_(until), there_(std::move(there)) {}

Questions::Turn::~Turn() {
    {
        const std::lock_guard lock(house_.mutex_);
        --house_.running_;
        const auto at = house_.running_of_.find(person_);
        if (--at->second == 0) house_.running_of_.erase(at);
    }
    house_.changed_.notify_all();
}

void Questions::Turn::check() const {
    check_time(until_, there_);
}

bool Questions::is_next(const Waiting& one) const {
    if (running_ >= limits_.at_once) return false;
    const auto of = [&](const Waiting& w) {
        const auto at = running_of_.find(w.person);
        return at == running_of_.end() ? 0 : at->second;
    };
    // The first of those with fewest: min_element keeps the order of their coming.
    const auto next = std::min_element(waiting_.begin(), waiting_.end(),
                                       [&](const Waiting& a, const Waiting& b) { return of(a) < of(b); });
    return &*next == &one && of(one) < limits_.of_person;
}

Questions::Turn Questions::take(long long person, StillThere there) {
    constexpr std::chrono::milliseconds look_up{50};  // whether the asker is still there
    const auto until = QuestionClock::now() + limits_.most;
    std::unique_lock lock(mutex_);
    const auto own = std::count_if(waiting_.begin(), waiting_.end(),
                                   [&](const Waiting& one) { return one.person == person; });
    if (static_cast<std::size_t>(own) >= limits_.waiting_of_person)
        throw http_error(429,
                         fmt::format("{} questions of yours wait already; let them be answered first", own));
    const auto place = waiting_.insert(waiting_.end(), Waiting{person});
    try {
        if (!is_next(*place)) {
            const WorkerPool::Waits for_its_turn;
            while (!changed_.wait_for(lock, look_up, [&] { return is_next(*place); }))
                check_time(until, there);
        }
    } catch (...) {
        waiting_.erase(place);
        changed_.notify_all();
        throw;
    }
    waiting_.erase(place);
    ++running_;
    ++running_of_[person];
    changed_.notify_all();
    return {*this, person, until, std::move(there)};
}

}  // namespace seatwright::server
