// Statements that a group of writes carries out again and again. On a database server they are prepared once
// for the group: planning is most of what an entry costs there. Elsewhere each is carried out by itself.
//
// A statement is a struct with fields for what goes in and what comes out, and
//   template <class To> auto in(To& to) { return (to << "select …", soci::use(field), …, soci::into(…)); }
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <typeindex>

#include "seatwright/store/sql.hpp"

namespace seatwright::store {

class KeptStatements {
  public:
    // For what this thread does with `sql` until this ends. `worth`: several writes, on a database server.
    KeptStatements(Sql& sql, bool worth) : sql_(sql) {
        if (worth) current() = this;
    }
    ~KeptStatements() { current() = nullptr; }
    KeptStatements(const KeptStatements&) = delete;
    KeptStatements& operator=(const KeptStatements&) = delete;

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
};

}  // namespace seatwright::store
