#include "server/jobs/record_watch.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <chrono>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/fault_words.hpp"
#include "seatwright/store/issues.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/shop_chain.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::server {

namespace {

using store::Sql;

}  // namespace

RecordWatch::RecordWatch(store::Database& database, std::chrono::milliseconds each)
    : database_(database), each_(each) {
    const auto fresh = database_.read([](Sql& sql) {
        const auto newest = store::newest_shop_digest(sql);
        // Without one, everything is looked at in the background.
        return newest ? store::damage_since(sql, newest->last_entry) : std::vector<store::Damage>{};
    });
    for (const auto& damage : fresh) found(damage.job, to_words(damage));
}

RecordWatch::~RecordWatch() {
    {
        const std::lock_guard lock(mutex_);
        stop_ = true;
    }
    over_.notify_all();
    if (thread_.joinable()) thread_.join();
}

void RecordWatch::start() {
    thread_ = std::thread([this] {
        try {
            run();
        } catch (const std::exception& fault) {
            spdlog::error(fmt::format("the stored entries could not be checked: {}", store::words_of(fault)));
        }
    });
}

bool RecordWatch::stopping() const {
    const std::lock_guard lock(mutex_);
    return stop_;
}

void RecordWatch::run() {
    // A transaction a job, so that no long one keeps the log from being taken in.
    auto jobs = database_.read(store::all_jobs);
    jobs.push_back(store::the_shelf);
    for (const long long job : jobs) {
        if (stopping()) return;
        const auto damage = database_.read([&](Sql& sql) { return store::damage_of(sql, job); });
        if (damage) found(job, to_words(*damage));
        const auto text = database_.read([&](Sql& sql) { return store::damage_of_texts(sql, job); });
        if (text) found(job, *text);
        const auto issue = database_.read([&](Sql& sql) { return store::damage_of_issues(sql, job); });
        if (issue) found(job, *issue);
    }
    for (const auto& words : database_.read(store::damage_of_shop_chain)) found(0, words);
    {
        const std::lock_guard lock(mutex_);
        through_ = true;
    }
    do chain_shop();
    while (wait_for_next());
}

void RecordWatch::chain_shop() {
    try {
        database_.write(store::chain_shop);
    } catch (const soci::soci_error& fault) {
        spdlog::warn(fmt::format("the shop's digest waits for the next hour: {}", store::words_of(fault)));
    }
}

bool RecordWatch::wait_for_next() {
    std::unique_lock lock(mutex_);
    return !over_.wait_for(lock, each_, [this] { return stop_; });
}

void RecordWatch::found(long long job, const std::string& words) {
    const std::lock_guard lock(mutex_);
    if (damage_.emplace(job, words).second) spdlog::error(fmt::format("damaged: {}", words));
}

std::vector<std::string> RecordWatch::damage() const {
    std::set<std::pair<long long, std::string>> all;
    for (const auto& last : {database_.last().behind(), database_.last().other()})
        all.insert(last.begin(), last.end());
    {
        const std::lock_guard lock(mutex_);
        all.insert(damage_.begin(), damage_.end());
    }
    std::vector<std::string> out;
    out.reserve(all.size());
    for (const auto& [job, words] : all) out.push_back(words);
    return out;
}

bool RecordWatch::through() const {
    const std::lock_guard lock(mutex_);
    return through_;
}

}  // namespace seatwright::server
