#include "server/upkeep.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <chrono>

#include "seatwright/store/fault_words.hpp"

namespace seatwright::server {

Upkeep::Upkeep(std::vector<Task> tasks) : tasks_(std::move(tasks)), thread_([this] { run(); }) {}

Upkeep::~Upkeep() {
    {
        const std::lock_guard lock(mutex_);
        stop_ = true;
    }
    over_.notify_all();
    thread_.join();
}

void Upkeep::run() {
    std::unique_lock lock(mutex_);
    do {
        for (const Task& task : tasks_) {
            if (stop_) return;
            lock.unlock();
            try {
                task.work();
            } catch (const std::exception& fault) {
                spdlog::error(fmt::format("{}: {}", task.name, store::words_of(fault)));
            }
            lock.lock();
        }
    } while (!over_.wait_for(lock, std::chrono::hours(1), [this] { return stop_; }));
}

}  // namespace seatwright::server
