#include "server/jobs/recompute.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include "seatwright/store/fault_words.hpp"
#include "server/http/http_error.hpp"

namespace seatwright::server {

void Recompute::start(Work work, Work done) {
    turn_.start(
        [this, work = std::move(work), done = std::move(done)](long long job) { compute(job, work, done); });
}

void Recompute::looked_at(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    looked_at_.insert(job);
}

void Recompute::changed(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    // Nobody has looked since it was last computed: nobody waits for it.
    if (looked_at_.erase(job) > 0) turn_.add(job);
}

void Recompute::again(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (!turn_.started()) return;
    again_.insert(job);
    turn_.add(job);
}

bool Recompute::is_again(long long job) {
    const std::lock_guard<std::mutex> lock(mutex_);
    return again_.contains(job);
}

void Recompute::compute(long long job, const Work& work, const Work& done) {
    try {
        work(job);
    } catch (const HttpError&) {
        // Not to be computed as it stands; the page will be told.
    } catch (const std::exception& fault) {
        spdlog::warn(fmt::format("job {} could not be computed ahead: {}", job, store::words_of(fault)));
    }
    bool is_done = false;
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        is_done = !turn_.waits(job) && again_.erase(job) > 0;
    }
    if (is_done) done(job);
}

}  // namespace seatwright::server
