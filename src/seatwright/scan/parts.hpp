// Work on many points in parts, on as many threads as the machine has.
//
// How a whole falls into parts follows from its size alone, and what parts give is put together in their
// order: the same file gives the same bits on any machine.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include "seatwright/scan/watch.hpp"

namespace seatwright::scan {

struct Part {
    std::size_t number = 0, begin = 0, end = 0;
};

// At most 64 parts, none much smaller than `least`.
inline std::vector<Part> parts_of(std::size_t size, std::size_t least = 16384) {
    constexpr std::size_t most = 64;
    const std::size_t count = std::clamp<std::size_t>(size / std::max<std::size_t>(least, 1), 1, most);
    std::vector<Part> out;
    out.reserve(count);
    for (std::size_t i = 0; i < count; ++i)
        out.push_back({i, size / count * i + std::min(i, size % count),
                       size / count * (i + 1) + std::min(i + 1, size % count)});
    return out;
}

// work(i) for each i below `count`; what one of them throws is thrown here.
template <class Work>
void in_threads(std::size_t count, const Work& work) {
    constexpr unsigned most_threads = 16;
    const std::size_t threads =
        std::min<std::size_t>(count, std::clamp(std::thread::hardware_concurrency(), 1U, most_threads));
    std::atomic<std::size_t> next = 0;
    std::exception_ptr thrown;
    std::mutex mutex;
    const auto run = [&] {
        try {
            for (std::size_t i = next++; i < count; i = next++) work(i);
        } catch (...) {
            const std::lock_guard lock(mutex);
            thrown = std::current_exception();
        }
    };
    std::vector<std::thread> more;
    more.reserve(threads);
    for (std::size_t t = 1; t < threads; ++t) more.emplace_back(run);
    run();
    for (auto& t : more) t.join();
    if (thrown) std::rethrow_exception(thrown);
}

template <class Work>
void in_parts(const std::vector<Part>& parts, const Work& work) {
    in_threads(parts.size(), [&](std::size_t i) { work(parts[i]); });
}

// The same, told as the stretch `from` to `to` of a step.
struct Stretch {
    const Watch& watch;
    Step step = Step::reading;
    double from = 0, to = 1;
};
template <class Work>
void in_parts(const std::vector<Part>& parts, const Stretch& stretch, const Work& work) {
    std::atomic<std::size_t> done = 0;
    in_threads(parts.size(), [&](std::size_t i) {
        work(parts[i]);
        if (stretch.watch)
            stretch.watch(stretch.step, stretch.from + (stretch.to - stretch.from) *
                                                           static_cast<double>(++done) /
                                                           static_cast<double>(parts.size()));
    });
}

}  // namespace seatwright::scan
