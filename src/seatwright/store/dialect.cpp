#include "seatwright/store/dialect.hpp"

#include <fmt/format.h>
#include <soci/postgresql/soci-postgresql.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include "seatwright/store/server_address.hpp"

namespace seatwright::store {

namespace {

std::vector<std::string> sqlite_append_only(const std::string& table) {
    std::vector<std::string> statements;
    for (const std::string verb : {"update", "delete"})
        statements.push_back(
            fmt::format("create trigger {0}_no_{1} before {1} on {0} begin "
                        "select raise(abort, '{0} is append-only'); end",
                        table, verb));
    return statements;
}

// Another process (a backup) may hold the file for a moment: wait 10 s before giving up.
std::string sqlite_connect(const std::string& place) {
    return fmt::format("db=\"{}\" timeout=10", place);
}

std::vector<std::string> postgresql_append_only(const std::string& table) {
    return {fmt::format("create trigger {0}_no_update before update on {0} for each statement execute "
                        "function seatwright_append_only()",
                        table),
            fmt::format("create trigger {0}_no_delete before delete or truncate on {0} for each statement "
                        "execute function seatwright_append_only()",
                        table)};
}

// For the transaction alone: another one that forgets to say its shop sees no rows.
std::string set_shop(long long shop) {
    return fmt::format("select set_config('seatwright.shop', '{}', true)", shop);
}

// Of the two numbers of an advisory lock the first is ours ("seat" in ASCII), the second the shop.
constexpr long long lock_of_writes = 0x73656174;

}  // namespace

// WAL keeps readers going while one writes; FULL makes each commit reach the disk before it returns
// (sqlite.org/pragma.html#pragma_synchronous); a plain BEGIN would take the write lock too late and fail with
// "busy" instead of waiting.
const Dialect& sqlite_dialect() {
    static const Dialect dialect{.is_server = false,
                                 .backend = []() -> const soci::backend_factory& { return soci::sqlite3; },
                                 .connect = sqlite_connect,
                                 .on_connect = {"pragma journal_mode = wal", "pragma synchronous = full",
                                                "pragma foreign_keys = on", "pragma trusted_schema = off"},
                                 .begin_write = [](long long) -> std::string { return "begin immediate"; },
                                 .begin_read = [](long long) -> std::string { return "begin"; },
                                 .begin_migration = "begin immediate",
                                 .begin_one = [](long long) -> std::string { return "savepoint one_write"; },
                                 .id_column = "integer primary key autoincrement",
                                 .shop_column = "bigint not null default 1",
                                 .before_steps = {},
                                 .photographs = {},
                                 .append_only = sqlite_append_only};
    return dialect;
}

// The statements rely on one write at a time to a shop, as a file has it: an advisory lock that ends with the
// transaction does that for all servers. A server that stops in the middle is not waited for longer than for
// a locked file. A commit is acknowledged when it is on disk (and on the standby where there is a synchronous
// one), whatever the database's own default says (PostgreSQL 15, 20.5.1).
const Dialect& postgresql_dialect() {
    static const Dialect dialect{
        .is_server = true,
        .backend = []() -> const soci::backend_factory& { return soci::postgresql; },
        .connect = connect_string_of,
        .on_connect = {"select set_config('synchronous_commit', case when "
                       "current_setting('synchronous_commit') = 'remote_apply' then 'remote_apply' else 'on' "
                       "end, false), set_config('lock_timeout', '10s', false), "
                       "set_config('idle_in_transaction_session_timeout', '10s', false), "
                       "set_config('client_min_messages', 'warning', false)"},
        .begin_write =
            [](long long shop) {
                // What a group prepares is planned once (store/kept_statements.hpp).
                return fmt::format(
                    "begin isolation level read committed; {}, set_config('plan_cache_mode', "
                    "'force_generic_plan', true), pg_advisory_xact_lock({}, {})",
                    set_shop(shop), lock_of_writes, shop);
            },
        .begin_read =
            [](long long shop) {
                return "begin isolation level repeatable read read only; " + set_shop(shop);
            },
        .begin_migration = fmt::format("begin; select pg_advisory_xact_lock({}, 0)", lock_of_writes),
        .begin_one = [](long long shop) { return "savepoint one_write; " + set_shop(shop); },
        .id_column = "bigint generated by default as identity primary key",
        .shop_column = "bigint not null default seatwright_shop()",
        .before_steps =
            {"create or replace function seatwright_shop() returns bigint language sql stable as 'select "
             "cast(nullif(current_setting(''seatwright.shop'', true), '''') as bigint)'",
             "create or replace function seatwright_append_only() returns trigger language plpgsql as "
             "'begin raise exception ''% is append-only'', tg_table_name; end'"},
        .photographs =
            {"create table photograph (shop bigint not null default seatwright_shop(), sha256 text "
             "not null, body bytea not null, primary key (shop, sha256))"},
        .append_only = postgresql_append_only};
    return dialect;
}

bool is_server_url(const std::string& place) {
    return place.starts_with("postgresql:") || place.starts_with("postgres:");
}

const Dialect& dialect_of(const std::string& place) {
    return is_server_url(place) ? postgresql_dialect() : sqlite_dialect();
}

}  // namespace seatwright::store
