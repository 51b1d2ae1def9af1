#include "seatwright/base/progress_line.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>

namespace seatwright {

namespace {

constexpr auto beat = std::chrono::seconds(1);
constexpr const char* wipe = "\r\033[K";  // ECMA-48: erase to the end of the line

}  // namespace

ProgressLine::ProgressLine(std::string what) : what_(std::move(what)) {
    if (::isatty(STDERR_FILENO) == 1) thread_ = std::thread([this] { show(); });
}

void ProgressLine::at(const std::string& what, double part) {
    if (!thread_.joinable()) return;
    const std::lock_guard lock(mutex_);
    what_ = what;
    percent_ = static_cast<int>(100 * part);
}

void ProgressLine::over() {
    if (!thread_.joinable()) return;
    {
        const std::lock_guard lock(mutex_);
        over_ = true;
    }
    ended_.notify_one();
    thread_.join();
}

void ProgressLine::show() {
    std::unique_lock lock(mutex_);
    int seconds = 0;
    while (!ended_.wait_for(lock, beat, [this] { return over_; }))
        fmt::print(stderr, "{}{}{}, {} s so far (Ctrl-C stops it; nothing is left half written)", wipe, what_,
                   percent_ ? fmt::format(", {} % of it", *percent_) : std::string(), ++seconds);
    if (seconds > 0) fmt::print(stderr, "{}", wipe);
}

}  // namespace seatwright
