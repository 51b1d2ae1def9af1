#include "server/jobs/in_turn.hpp"
#include "seatwright/store/fault_words.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <exception>
#include <utility>

namespace seatwright::server {

void InTurn::start(Work work) {
    work_ = std::move(work);
    thread_ = std::thread([this] { run(); });
}

InTurn::~InTurn() {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        over_ = true;
    }
    some_.notify_one();
    if (thread_.joinable()) thread_.join();
}

void InTurn::add(long long job) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        waiting_.insert(job);
    }
    some_.notify_one();
}

bool InTurn::waits(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    return waiting_.contains(job);
}

void InTurn::run() {
    for (;;) {
        long long job = 0;
        {
            std::unique_lock<std::mutex> lock(mutex_);
            some_.wait(lock, [&] { return over_ || !waiting_.empty(); });
            if (over_) return;
            job = *waiting_.begin();
            waiting_.erase(waiting_.begin());
        }
        try {
            work_(job);
        } catch (const std::exception& fault) {
            spdlog::error(fmt::format("job {}: {}", job, store::words_of(fault)));
        }
    }
}

}  // namespace seatwright::server
