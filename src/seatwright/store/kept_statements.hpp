// Statements that writes carry out again and again. On a database server they are prepared once and kept with
// the connection that writes: planning is most of what an entry costs there. Elsewhere each is carried out by
// itself.
//
// A statement is a struct with fields for what goes in and what comes out, and
//   template <class To> auto in(To& to) { return (to << "select …", soci::use(field), …, soci::into(…)); }
#pragma once

#include <chrono>
#include <map>
#include <memory>
#include <typeindex>

#include "seatwright/store/sql.hpp"

namespace seatwright::store {

class KeptStatements {
  public:
    // Of one connection, which outlives them. What was planned is planned anew after a minute: tables grow.
    explicit KeptStatements(Sql& sql) : sql_(sql) {}
    KeptStatements(const KeptStatements&) = delete;
    KeptStatements& operator=(const KeptStatements&) = delete;

    // Before the connection is made again, and after a statement has failed; outside a transaction.
    void forget() {
        all_.clear();
        since_ = Clock::now();
    }

    // While one lives, what its thread runs on that connection is kept. Null: nothing is.
    class Use {
      public:
        explicit Use(KeptStatements* kept) {
            if (kept != nullptr && Clock::now() - kept->since_ > longest) kept->forget();
            current() = kept;
        }
        ~Use() { current() = nullptr; }
        Use(const Use&) = delete;
        Use& operator=(const Use&) = delete;
    };

    // `fill(S&)` sets what goes in; what came out is in the S given back, if `got` (a row) says so.
    template <class S>
    struct Done {
        S fields;
        bool got = false;
    };
    template <class S, class Fill>
    static Done<S> run(Sql& sql, const Fill& fill) {
        KeptStatements* kept = current();
        if (kept == nullptr || &kept->sql_ != &sql) {
            Done<S> done;
            fill(done.fields);
            done.fields.in(sql);
            done.got = sql.got_data();
            return done;
        }
        auto& place = kept->all_[typeid(S)];
        if (!place) place = std::make_shared<Prepared<S>>(sql);
        auto& one = *std::static_pointer_cast<Prepared<S>>(place);
        fill(one.fields);
        one.statement.execute(true);
        return {one.fields, one.statement.got_data()};
    }

  private:
    using Clock = std::chrono::steady_clock;
    static constexpr std::chrono::minutes longest{1};

    template <class S>
    struct Prepared {
        S fields;
        soci::statement statement;
        explicit Prepared(Sql& sql) : statement(fields.in(sql.prepare)) {}
    };
    static KeptStatements*& current() {
        thread_local KeptStatements* one = nullptr;
        return one;
    }
    Sql& sql_;
    std::map<std::type_index, std::shared_ptr<void>> all_;
    Clock::time_point since_ = Clock::now();
};

}  // namespace seatwright::store
