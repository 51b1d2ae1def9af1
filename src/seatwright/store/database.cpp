#include "seatwright/store/database.hpp"

#include <fmt/compile.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <random>
#include <utility>

#include "seatwright/store/kept_statements.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/migrations.hpp"
#include "seatwright/store/notice.hpp"
#include "seatwright/store/own_files.hpp"
#include "seatwright/store/server_setup.hpp"

namespace seatwright::store {

namespace {

std::random_device& device() {
    static std::random_device one;
    return one;
}

}  // namespace

Database::Transaction::~Transaction() {
    if (!open_) return;
    try {
        sql_ << "rollback";
    } catch (const soci::soci_error&) {
        // The database has already rolled back by itself (disk full, commit refused).
    }
}

Database::Transaction::Transaction(Sql& sql, const Dialect& dialect, const std::string& begin,
                                   KeptStatements* kept)
    : sql_(sql) {
    try {
        sql_ << begin;
    } catch (const soci::soci_error&) {
        if (!dialect.is_server || sql_.is_connected()) throw;
        if (kept != nullptr) kept->forget();
        sql_.reconnect();
        for (const auto& statement : dialect.on_connect) sql_ << statement;
        sql_ << begin;
    }
}

struct Database::Writer {
    Sql sql;
    KeptStatements kept{sql};
    Writer(const Dialect& dialect, const std::string& place, long long shop)
        : sql(dialect.backend(), dialect.connect(place), shop) {
        for (const auto& statement : dialect.on_connect) sql << statement;
    }
};

Database::Database(const std::string& place, DatabaseOptions options)
    : dialect_(dialect_of(place)),
      place_(place),
      options_(options),
      sender_(std::uniform_int_distribution<long long>(1)(device())),
      pool_(std::make_unique<soci::connection_pool>(options.connections)) {
    if (!dialect_.is_server) keep_to_owner(place);
    for (std::size_t i = 0; i < options.connections; ++i) {
        soci::session& connection = pool_->at(i);
        connection.open(dialect_.backend(), dialect_.connect(place));
        for (const auto& statement : dialect_.on_connect) connection << statement;
        if (i > 0) continue;
        Sql sql(*pool_, options.shop);
        if (dialect_.is_server)
            require_fit(sql);
        else
            migrate(sql, dialect_);
    }
    if (dialect_.is_server) writer_ = std::make_unique<Writer>(dialect_, place, options.shop);
    read([&](Sql& sql) { last_ = std::make_unique<LastDigests>(place, options.shop, sql); });
}

Database::~Database() = default;

// What tells other servers of what was written; nothing to tell where there is no other.
std::string Database::notice_of(const Sql& sql) const {
    if (!dialect_.is_server || sql.first_line() == 0) return {};
    return fmt::format("select pg_notify('{}', '{}'); ", notice_channel,
                       to_text(Notice{options_.shop, sender_, sql.first_line(), sql.last_line()}));
}

void Database::write_with_others(const std::function<bool(Sql&)>& work, bool repeatable) {
    Waiting own{work, repeatable, nullptr};
    {
        std::unique_lock<std::mutex> lock(queue_mutex_);
        queue_.push_back(&own);
        turn_.wait(lock, [&] { return own.done || !writing_; });
        if (!own.done) {
            // Nobody writes: this one does, for all who wait.
            writing_ = true;
            Batch batch;
            batch.swap(queue_);
            lock.unlock();
            carry_out(batch);
            ++writes_;
            lock.lock();
            for (Waiting* one : batch) one->done = true;
            writing_ = false;
            turn_.notify_all();
        }
    }
    if (own.fault) std::rethrow_exception(own.fault);
}

std::exception_ptr Database::fit_for_many_threads() {
    try {
        throw;
    } catch (const soci::soci_error& fault) {
        static_cast<void>(fault.what());
    } catch (...) {
        // Others have their words from the start.
    }
    return std::current_exception();
}

bool Database::Waiting::carry_out(Sql& sql) {
    fault = nullptr;
    try {
        return work(sql);
    } catch (...) {
        fault = fit_for_many_threads();
        return false;
    }
}

void Database::carry_out(const Batch& batch) {
    try {
        if (!writer_) {
            Sql sql(*pool_, options_.shop);
            if (!all_or_nothing(batch, sql, nullptr)) each_by_itself(batch, sql, nullptr);
            return;
        }
        auto& [sql, kept] = *writer_;
        sql.begin_lines();
        const bool all = all_or_nothing(batch, sql, &kept);
        if (std::any_of(batch.begin(), batch.end(), [](const Waiting* one) { return one->fault != nullptr; }))
            kept.forget();
        if (!all) each_by_itself(batch, sql, &kept);
    } catch (...) {
        // The database itself failed: nothing of the batch is kept.
        const std::exception_ptr fault = fit_for_many_threads();
        for (Waiting* one : batch)
            if (!one->fault) one->fault = fault;
        if (writer_) writer_->kept.forget();
    }
}

// Without a savepoint each, where one that is undone undoes no others, or they can be carried out once more.
// Whether that was all.
bool Database::all_or_nothing(const Batch& batch, Sql& sql, KeptStatements* kept) {
    const bool alone = batch.size() == 1;
    if (!alone &&
        !std::all_of(batch.begin(), batch.end(), [](const Waiting* one) { return one->repeatable; }))
        return false;
    const KeptStatements::Use use(kept);
    Transaction transaction(sql, dialect_, dialect_.begin_write(options_.shop), kept);
    for (Waiting* one : batch)
        if (!one->carry_out(sql)) return alone;
    transaction.commit(notice_of(sql));
    return true;
}

void Database::each_by_itself(const Batch& batch, Sql& sql, KeptStatements* kept) {
    // A database server is told the end of one write with what comes next: a way there and back less.
    std::string end;
    const auto ended = [&](const std::string& next) {
        if (dialect_.is_server) return std::exchange(end, "") + next;
        if (!end.empty()) sql << std::exchange(end, "");
        return next;
    };
    const KeptStatements::Use use(kept);
    Transaction transaction(sql, dialect_, dialect_.begin_write(options_.shop), kept);
    for (Waiting* one : batch) {
        sql << ended(dialect_.begin_one(options_.shop));
        if (!one->carry_out(sql)) sql << "rollback to savepoint one_write";
        end = "release savepoint one_write; ";
    }
    transaction.commit(ended(notice_of(sql)));
}

long long now_ms() {
    using namespace std::chrono;
    return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

std::string iso_time(long long ms) {
    using namespace std::chrono;
    const sys_time<milliseconds> when{milliseconds(ms)};
    const auto day = floor<days>(when);
    const year_month_day date(day);
    const hh_mm_ss time(when - day);
    return fmt::format(FMT_COMPILE("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z"),
                       static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()), time.hours().count(), time.minutes().count(),
                       time.seconds().count(), time.subseconds().count());
}

std::string iso_day(long long ms) {
    const std::string time = iso_time(ms);
    return time.substr(0, time.find('T'));
}

}  // namespace seatwright::store
