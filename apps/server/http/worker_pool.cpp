#include "server/http/worker_pool.hpp"

#include <iterator>

namespace seatwright::server {

WorkerPool::Own& WorkerPool::own() {
    thread_local Own one;
    return one;
}

// A thread that belongs to no pool only waits.
WorkerPool::Waits::Waits() {
    WorkerPool* const pool = own().pool;
    if (pool == nullptr) return;
    {
        const std::lock_guard lock(pool->mutex_);
        pool->aside_.splice(pool->aside_.end(), pool->begun_, own().begun);
    }
    pool->some_.notify_one();
}

WorkerPool::Waits::~Waits() {
    WorkerPool* const pool = own().pool;
    if (pool == nullptr) return;
    const std::lock_guard lock(pool->mutex_);
    *own().begun = Clock::now();
    pool->begun_.splice(pool->begun_.end(), pool->aside_, own().begun);
}

void WorkerPool::add(std::function<void()> work) {
    {
        const std::lock_guard lock(mutex_);
        waiting_.push_back(std::move(work));
        have_one_idle();
    }
    some_.notify_one();
}

void WorkerPool::finish() {
    {
        const std::lock_guard lock(mutex_);
        over_ = true;
    }
    some_.notify_all();
    for (auto& thread : threads_)
        if (thread.joinable()) thread.join();
}

// For what waits: it may be worked on when something ends, or when something has taken long.
void WorkerPool::have_one_idle() {
    if (!over_ && !waiting_.empty() && idle_ == 0 && threads_.size() < most_)
        threads_.emplace_back([this] { run(); });
}

// Until something waits and there is room for it, or the end.
void WorkerPool::await_some(std::unique_lock<std::mutex>& lock) {
    ++idle_;
    while (!over_ || !waiting_.empty()) {
        if (waiting_.empty()) {
            some_.wait(lock);
            continue;
        }
        if (begun_.size() < few_) break;
        // The last few are young unless the first of them is not.
        const auto room = *std::prev(begun_.end(), static_cast<std::ptrdiff_t>(few_)) + soon_;
        if (Clock::now() >= room) break;
        some_.wait_until(lock, room);
    }
    --idle_;
}

void WorkerPool::run() {
    std::unique_lock lock(mutex_);
    while (true) {
        await_some(lock);
        if (waiting_.empty()) {
            some_.notify_all();  // whoever waited for room: there is nothing left
            return;
        }
        const auto work = std::move(waiting_.front());
        waiting_.pop_front();
        own() = {this, begun_.insert(begun_.end(), Clock::now())};
        have_one_idle();
        lock.unlock();
        work();
        lock.lock();
        begun_.erase(own().begun);
        some_.notify_one();
    }
}

}  // namespace seatwright::server
