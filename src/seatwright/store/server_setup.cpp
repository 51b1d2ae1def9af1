#include "seatwright/store/server_setup.hpp"

#include <fmt/format.h>

#include "seatwright/store/dialect.hpp"
#include "seatwright/store/migrations.hpp"
#include "seatwright/store/server_address.hpp"
#include "seatwright/store/shop_guard.hpp"

namespace seatwright::store {

namespace {

std::string text_asked(Sql& sql, const std::string& query) {
    std::string found;
    sql << query, soci::into(found);
    return found;
}

long long count(Sql& sql, const std::string& from) {
    long long found = 0;
    sql << "select count(*) from " + from, soci::into(found);
    return found;
}

// Tables and what counts up in them, of the schema this program works in.
constexpr const char* our_classes =
    "pg_class c where c.relnamespace = to_regnamespace(current_schema()) and c.relkind in ('r', 'p', 'S')";
constexpr const char* with_shop =
    " and exists (select 1 from pg_attribute a where a.attrelid = c.oid and a.attname = 'shop')";

void require_modest_role(Sql& sql) {
    const std::string role = text_asked(sql, "select current_user");
    if (count(sql, "pg_roles r where r.rolsuper and pg_has_role(current_user, r.oid, 'member')") > 0)
        throw Unfit(fmt::format(
            "the role {} is a superuser, or may become one, and would see every shop's rows; give "
            "the server a role of its own that is none",
            role));
    if (count(sql, "pg_roles r where r.rolbypassrls and pg_has_role(current_user, r.oid, 'member')") > 0)
        throw Unfit(fmt::format(
            "the role {} has BYPASSRLS, or may take it, and would see every shop's rows; give the "
            "server a role without",
            role));
    if (count(sql, std::string(our_classes) + " and pg_has_role(current_user, c.relowner, 'member')") > 0)
        throw Unfit(
            fmt::format("the role {} owns tables, or belongs to who does, and could take their fences away; "
                        "give the server a role that owns nothing",
                        role));
}

void require_rights(Sql& sql) {
    const std::string bare = std::string(our_classes) + with_shop;
    if (count(sql, bare + " and c.relkind <> 'S' and not (c.relrowsecurity and c.relforcerowsecurity)") > 0)
        throw Unfit(
            "a table stands without row level security; whoever owns the tables puts it back by: "
            "seatwright migrate");
    if (count(sql, bare + " and not (has_table_privilege(c.oid, 'select') and has_table_privilege(c.oid, "
                          "'insert'))") > 0)
        throw Unfit(
            fmt::format("the role {0} may not read and write every table; whoever owns them allows it by: "
                        "seatwright migrate --server {0}",
                        text_asked(sql, "select current_user")));
}

std::string first_line_of(const std::string& words) {
    return words.substr(0, words.find('\n'));
}

}  // namespace

void require_fit(Sql& sql) {
    for (const std::string setting : {"fsync", "full_page_writes"})
        if (text_asked(sql, "show " + setting) != "on")
            throw Unfit(
                fmt::format("the database server runs with {} = off: it loses what it has acknowledged when "
                            "the power goes; turn it on (postgresql.conf)",
                            setting));
    require_modest_role(sql);
    require_newest(sql);
    require_rights(sql);
}

bool waits_for_standby(Sql& sql) {
    return !text_asked(sql, "show synchronous_standby_names").empty();
}

Answer<long long> set_up_server(const std::string& url, const std::string& server_role) {
    if (const std::string fault = fault_of_address(url); !fault.empty()) return refuse(Why::bad, fault);
    try {
        const Dialect& dialect = postgresql_dialect();
        Sql sql(dialect.backend(), dialect.connect(url));
        for (const auto& statement : dialect.on_connect) sql << statement;
        const std::string self = text_asked(sql, "select current_user");
        if (self == server_role)
            return refuse(Why::bad,
                          fmt::format("{} is the role given in the address, who will own the tables; "
                                      "the server needs another",
                                      self));
        long long roles = 0;
        sql << "select count(*) from pg_roles where rolname = :role", soci::use(server_role),
            soci::into(roles);
        if (roles == 0)
            return refuse(Why::bad, fmt::format("there is no role {0}; make it first (create role {0} login)",
                                                server_role));
        migrate(sql, dialect);
        sql << dialect.begin_migration;
        allow_server(sql, server_role);
        sql << "commit";
        return newest_migration();
    } catch (const soci::soci_error& fault) {
        return refuse(Why::bad, why_not_opened(url, fault.get_error_message()));
    } catch (const NewerData& newer) {
        return refuse(Why::bad, newer.what());
    }
}

std::string why_not_opened(const std::string& url, const std::string& said) {
    const std::string where = shown_address(url);
    const auto fatal = said.find("FATAL:");
    if (fatal != std::string::npos)
        return fmt::format("{}: the database server refuses: {}", where,
                           first_line_of(said.substr(said.find_first_not_of(' ', fatal + 6))));
    if (said.find("onnection") != std::string::npos || said.find("could not translate") != std::string::npos)
        return fmt::format("{}: no database server answers there ({}); does it run, and is that its address?",
                           where, first_line_of(said));
    return fmt::format("{}: {}", where, first_line_of(said));
}

}  // namespace seatwright::store
