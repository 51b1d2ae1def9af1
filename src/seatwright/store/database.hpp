// The database: a pool of connections, one batch of writes at a time, migrations on opening.
//
// What write() has returned is committed and on disk (SQLite WAL with synchronous FULL, PostgreSQL with fsync
// and synchronous_commit: each commit is fsynced). Thread-safe. Throws soci::soci_error when the database
// itself fails (disk full, file damaged, server gone).
#pragma once

#include <atomic>
#include <condition_variable>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "seatwright/store/dialect.hpp"
#include "seatwright/store/sql.hpp"

namespace seatwright::store {

class KeptStatements;
class LastDigests;

struct DatabaseOptions {
    std::size_t connections = 8;  // how many may read at once
    long long shop = the_shop;    // whose rows; another than the_shop on a database server alone
};

class Database {
  public:
    // `place`: path of a SQLite file, made if absent and brought to the newest migration; or the URL of a
    // PostgreSQL database, whose tables are there (store/server_setup.hpp). Throws NewerData when it was
    // written by a newer program, OlderData when the server's tables are not the newest, Unfit when that
    // server cannot be trusted with it.
    explicit Database(const std::string& place, DatabaseOptions options = {});
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    // Runs `work(Sql&)` in a transaction that sees one state of the database.
    template <class Work>
    auto read(Work&& work) {
        try {
            Sql sql(*pool_, options_.shop);
            return run(sql, dialect_.begin_read(options_.shop), std::forward<Work>(work));
        } catch (const soci::soci_error&) {
            fit_for_many_threads();
            throw;
        }
    }

    // Runs `work(Sql&)` in a write transaction: committed when it returns, rolled back when it throws or
    // returns a refusal (anything with has_value() that is false). Writes that wait for the disk at once are
    // carried out one after the other, each whole or not at all, and flushed together; so `work` may run in
    // another thread than the caller's.
    template <class Work>
    auto write(Work&& work) {
        return write_once_or_again(std::forward<Work>(work), false);
    }
    // The same for `work` that may be carried out from its beginning once more when it, or another that was
    // carried out with it, was undone: writes that come often, whose way to a database server this shortens.
    template <class Work>
    auto write_repeatable(Work&& work) {
        return write_once_or_again(std::forward<Work>(work), true);
    }

    // Grows with each batch of writes, before any of it is acknowledged: what was read when it stood as it
    // does now still holds, if nobody else writes here (a file is its server's alone).
    long long writes() const { return writes_; }

    const std::string& place() const { return place_; }
    long long shop() const { return options_.shop; }
    // Of this opening of the database, so that what it has written itself is no news to it (store/news.hpp).
    long long sender() const { return sender_; }
    LastDigests& last() { return *last_; }
    const Dialect& dialect() const { return dialect_; }

  private:
    // Rolls back unless told that all is well.
    class Transaction {
      public:
        // A connection that was lost while nobody used it is made again, without what was `kept` of it.
        Transaction(Sql& sql, const Dialect& dialect, const std::string& begin,
                    KeptStatements* kept = nullptr);
        ~Transaction();
        // `last`: what is done with it.
        void commit(const std::string& last = "") {
            sql_ << last + "commit";
            open_ = false;
        }
        Transaction(const Transaction&) = delete;
        Transaction& operator=(const Transaction&) = delete;

      private:
        Sql& sql_;
        bool open_ = true;
    };

    template <class Result>
    static bool refused(const Result& result) {
        if constexpr (requires {
                          result.has_value();
                          result.error();
                      })
            return !result.has_value();
        return false;
    }

    template <class Work>
    auto write_once_or_again(Work&& work, bool repeatable) {
        using Result = decltype(work(std::declval<Sql&>()));
        if constexpr (std::is_void_v<Result>) {
            const auto one = [&](Sql& sql) {
                work(sql);
                return true;
            };
            write_with_others(one, repeatable);
        } else {
            std::optional<Result> result;
            write_with_others([&](Sql& sql) { return !refused(result.emplace(work(sql))); }, repeatable);
            return std::move(*result);
        }
    }

    struct Waiting {
        const std::function<bool(Sql&)>& work;
        bool repeatable;
        std::exception_ptr fault;
        bool done = false;
        // Whether what it did is to stay.
        bool carry_out(Sql& sql);
    };
    using Batch = std::vector<Waiting*>;
    // The connection that writes to a database server, one batch at a time, and what is prepared on it.
    struct Writer;
    // Returns when what `work` did is on disk, or undone because it gave false; throws what it threw, or what
    // the database did when it failed for all.
    void write_with_others(const std::function<bool(Sql&)>& work, bool repeatable);
    void carry_out(const Batch& batch);
    bool all_or_nothing(const Batch& batch, Sql& sql, KeptStatements* kept);
    void each_by_itself(const Batch& batch, Sql& sql, KeptStatements* kept);
    std::string notice_of(const Sql& sql) const;

    template <class Work>
    auto run(Sql& sql, const std::string& begin, Work&& work) {
        Transaction transaction(sql, dialect_, begin);
        if constexpr (std::is_void_v<decltype(work(sql))>) {
            work(sql);
            transaction.commit();
        } else {
            auto result = work(sql);
            transaction.commit();
            return result;
        }
    }

    // What is being thrown, before several who wait get it: soci puts an error's words together when they are
    // first asked for, which two threads must not do at once.
    static std::exception_ptr fit_for_many_threads();

    const Dialect& dialect_;
    std::string place_;
    DatabaseOptions options_;
    long long sender_;
    std::unique_ptr<soci::connection_pool> pool_;
    std::unique_ptr<Writer> writer_;  // null: a file, written by the pool's
    std::unique_ptr<LastDigests> last_;
    std::mutex queue_mutex_;
    std::condition_variable turn_;
    Batch queue_;           // the next one
    bool writing_ = false;  // one is under way
    std::atomic<long long> writes_{0};
};

// The clock of the store: milliseconds since 1970-01-01 UTC.
long long now_ms();
// "2026-01-31T12:34:56.789Z".
std::string iso_time(long long ms);
// "2026-01-31".
std::string iso_day(long long ms);

}  // namespace seatwright::store
