#include "server/jobs/warmer.hpp"

#include <spdlog/spdlog.h>

#include "server/http/halt.hpp"

namespace seatwright::server {

void Warmer::start(std::function<void(long long)> warm) {
    warm_ = std::move(warm);
    thread_ = std::thread([this] { run(); });
}

Warmer::~Warmer() {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        over_ = true;
    }
    some_.notify_one();
    if (thread_.joinable()) thread_.join();
}

void Warmer::looked_at(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    looked_at_.insert(job);
}

void Warmer::changed(long long job) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        // Nobody has looked since it was last computed: nobody waits for it.
        if (looked_at_.erase(job) == 0) return;
        waiting_.insert(job);
    }
    some_.notify_one();
}

void Warmer::run() {
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
            warm_(job);
        } catch (const Halt&) {
            // Not to be computed as it stands; the page will be told.
        } catch (const std::exception& fault) {
            spdlog::warn("job {} could not be computed ahead: {}", job, fault.what());
        }
    }
}

}  // namespace seatwright::server
