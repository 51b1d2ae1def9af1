#include "seatwright/store/shop_guard.hpp"

#include <fmt/format.h>

#include <vector>

namespace seatwright::store {

namespace {

std::vector<std::string> texts(Sql& sql, const std::string& query) {
    std::string one;
    soci::statement rows = (sql.prepare << query, soci::into(one));
    std::vector<std::string> all;
    rows.execute();
    while (rows.fetch()) all.push_back(one);
    return all;
}

void run_all(Sql& sql, const std::vector<std::string>& statements) {
    for (const auto& statement : statements) sql << statement;
}

// Tables of this program that have a shop, as rows of t.
constexpr const char* guarded_tables =
    "(select c.oid, c.relname, c.relforcerowsecurity, a.attnum as shop from pg_class c join pg_attribute a "
    "on a.attrelid = c.oid and a.attname = 'shop' where c.relkind in ('r', 'p') and c.relnamespace = "
    "to_regnamespace(current_schema()))";

// Names of the columns of a key, in its order, the shop before them.
std::string columns(const std::string& table, const std::string& numbers) {
    return fmt::format(
        "(select string_agg(format('%I', a.attname), ', ' order by n.place) from unnest({1}) with ordinality "
        "as n(number, place) join pg_attribute a on a.attrelid = {0} and a.attnum = n.number)",
        table, numbers);
}

// Each is a statement, made by the catalogue.
std::vector<std::string> references_to_drop(Sql& sql) {
    return texts(sql, fmt::format("select format('alter table %I drop constraint %I', t.relname, k.conname) "
                                  "from pg_constraint k join {0} t on t.oid = k.conrelid join {0} r on r.oid "
                                  "= k.confrelid where k.contype = 'f' and not t.shop = any(k.conkey)",
                                  guarded_tables));
}

std::vector<std::string> references_to_add(Sql& sql) {
    return texts(
        sql,
        fmt::format("select format('alter table %I add constraint %I foreign key (shop, %s) "
                    "references %I (shop, %s)', t.relname, k.conname, {1}, r.relname, {2}) from "
                    "pg_constraint k join {0} t on t.oid = k.conrelid join {0} r on r.oid = "
                    "k.confrelid where k.contype = 'f' and not t.shop = any(k.conkey)",
                    guarded_tables, columns("k.conrelid", "k.conkey"), columns("k.confrelid", "k.confkey")));
}

std::vector<std::string> keys_to_change(Sql& sql) {
    return texts(
        sql,
        fmt::format("select format('alter table %I drop constraint %I, add constraint %I %s (shop, %s)', "
                    "t.relname, k.conname, k.conname, case k.contype when 'p' then 'primary key' else "
                    "'unique' end, {1}) from pg_constraint k join {0} t on t.oid = k.conrelid where "
                    "k.contype in ('p', 'u') and not t.shop = any(k.conkey)",
                    guarded_tables, columns("k.conrelid", "k.conkey")));
}

std::vector<std::string> of_each_table(Sql& sql, const std::string& statement, const std::string& where) {
    return texts(sql, fmt::format("select format('{}', t.relname) from {} t where {}", statement,
                                  guarded_tables, where));
}

}  // namespace

std::string sql_name(const std::string& name) {
    std::string out = "\"";
    for (const char c : name) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + '"';
}

void open_fences(Sql& sql) {
    run_all(sql, of_each_table(sql, "alter table %I no force row level security", "t.relforcerowsecurity"));
}

void guard_shops(Sql& sql) {
    const auto drop = references_to_drop(sql), add = references_to_add(sql);
    run_all(sql, drop);
    run_all(sql, keys_to_change(sql));
    run_all(sql, add);
    run_all(sql,
            of_each_table(sql, "alter table %I alter column shop set default seatwright_shop()", "true"));
    run_all(sql,
            of_each_table(sql,
                          "create policy own_shop on %I using (shop = seatwright_shop()) with check (shop = "
                          "seatwright_shop())",
                          "not exists (select 1 from pg_policy p where p.polrelid = t.oid)"));
    run_all(sql,
            of_each_table(sql, "alter table %I enable row level security, force row level security", "true"));
}

void allow_server(Sql& sql, const std::string& role) {
    sql << fmt::format("grant usage on schema {} to {}",
                       sql_name(texts(sql, "select current_schema()").at(0)), sql_name(role));
    sql << fmt::format("grant select on migration to {}", sql_name(role));
    for (const auto& table : texts(sql, fmt::format("select t.relname from {} t", guarded_tables)))
        sql << fmt::format("grant select, insert on {} to {}", sql_name(table), sql_name(role));
    // Not append-only: no trigger refuses it.
    for (const auto& table : texts(
             sql, fmt::format("select t.relname from {} t where not exists (select 1 from pg_trigger g where "
                              "g.tgrelid = t.oid and g.tgname = t.relname || '_no_update')",
                              guarded_tables)))
        sql << fmt::format("grant update, delete on {} to {}", sql_name(table), sql_name(role));
}

}  // namespace seatwright::store
