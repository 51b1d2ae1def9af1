#include "server/http/worker_pool.hpp"

namespace seatwright::server {

void WorkerPool::add(std::function<void()> work) {
    {
        const std::lock_guard lock(mutex_);
        waiting_.push_back(std::move(work));
        if (waiting_.size() > idle_ && threads_.size() < most_) threads_.emplace_back([this] { run(); });
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

void WorkerPool::run() {
    std::unique_lock lock(mutex_);
    while (true) {
        ++idle_;
        some_.wait(lock, [this] { return over_ || !waiting_.empty(); });
        --idle_;
        if (waiting_.empty()) return;
        const auto work = std::move(waiting_.front());
        waiting_.pop_front();
        lock.unlock();
        work();
        lock.lock();
    }
}

}  // namespace seatwright::server
