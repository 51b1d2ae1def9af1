#include "server/jobs/recompute.hpp"

#include <spdlog/spdlog.h>

#include "server/http/http_error.hpp"

namespace seatwright::server {

void Recompute::start(Work work, Work done) {
    work_ = std::move(work);
    done_ = std::move(done);
    thread_ = std::thread([this] { run(); });
}

Recompute::~Recompute() {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        over_ = true;
    }
    some_.notify_one();
    if (thread_.joinable()) thread_.join();
}

void Recompute::looked_at(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    looked_at_.insert(job);
}

void Recompute::changed(long long job) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        // Nobody has looked since it was last computed: nobody waits for it.
        if (looked_at_.erase(job) == 0) return;
        waiting_.insert(job);
    }
    some_.notify_one();
}

void Recompute::again(long long job) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (!thread_.joinable()) return;
        again_.insert(job);
        waiting_.insert(job);
    }
    some_.notify_one();
}

bool Recompute::is_again(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    return again_.contains(job);
}

void Recompute::run() {
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
        } catch (const HttpError&) {
            // Not to be computed as it stands; the page will be told.
        } catch (const std::exception& fault) {
            spdlog::warn("job {} could not be computed ahead: {}", job, fault.what());
        }
        bool done = false;
        {
            const std::lock_guard<std::mutex> lock(mutex_);
            done = !waiting_.contains(job) && again_.erase(job) > 0;
        }
        if (done) done_(job);
    }
}

}  // namespace seatwright::server
