#include "seatwright/store/database.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <chrono>

#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/migrations.hpp"
#include "seatwright/store/own_files.hpp"

namespace seatwright::store {

Database::Transaction::~Transaction() {
    if (!open_) return;
    try {
        sql_ << "rollback";
    } catch (const soci::soci_error&) {
        // The database has already rolled back by itself (disk full, commit refused).
    }
}

Database::Database(const std::string& file, DatabaseOptions options)
    : dialect_(sqlite_dialect()),
      file_(file),
      pool_(std::make_unique<soci::connection_pool>(options.connections)) {
    keep_to_owner(file);
    for (std::size_t i = 0; i < options.connections; ++i) {
        Sql& sql = pool_->at(i);
        sql.open(soci::sqlite3, dialect_.connect(file));
        for (const auto& statement : dialect_.on_connect) sql << statement;
        if (i == 0) migrate(sql, dialect_);
    }
    last_ = std::make_unique<LastDigests>(file, pool_->at(0));
}

Database::~Database() = default;

void Database::write_with_others(const std::function<bool(Sql&)>& work) {
    Waiting own{work, nullptr};
    {
        std::unique_lock<std::mutex> lock(queue_mutex_);
        queue_.push_back(&own);
        turn_.wait(lock, [&] { return own.done || !writing_; });
        if (!own.done) {
            // Nobody writes: this one does, for all who wait.
            writing_ = true;
            std::vector<Waiting*> batch;
            batch.swap(queue_);
            lock.unlock();
            carry_out(batch);
            lock.lock();
            for (Waiting* one : batch) one->done = true;
            writing_ = false;
            turn_.notify_all();
        }
    }
    if (own.fault) std::rethrow_exception(own.fault);
}

void Database::carry_out(const std::vector<Waiting*>& batch) {
    try {
        Sql sql(*pool_);
        Transaction transaction(sql, dialect_.begin_write);
        for (Waiting* one : batch) {
            sql << "savepoint one_write";
            bool keep = false;
            try {
                keep = one->work(sql);
            } catch (...) {
                one->fault = std::current_exception();
            }
            if (!keep) sql << "rollback to savepoint one_write";
            sql << "release savepoint one_write";
        }
        transaction.commit();
    } catch (...) {
        // The database itself failed: nothing of the batch is kept.
        for (Waiting* one : batch)
            if (!one->fault) one->fault = std::current_exception();
    }
}

long long now_ms() {
    using namespace std::chrono;
    return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

std::string iso_time(long long ms) {
    const auto seconds = static_cast<std::time_t>(ms / 1000);
    return fmt::format("{:%Y-%m-%dT%H:%M:%S}.{:03}Z", fmt::gmtime(seconds), ms % 1000);
}

}  // namespace seatwright::store
