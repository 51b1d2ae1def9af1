#include "seatwright/store/migrations.hpp"

#include <fmt/format.h>

#include <functional>
#include <string>
#include <vector>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/database.hpp"
#include "seatwright/store/shop_guard.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {

namespace {

struct Step {
    std::string name;
    std::function<std::vector<std::string>(const Dialect&)> statements;
    void (*afterwards)(Sql&) = nullptr;
};

void add(std::vector<std::string>& all, const std::vector<std::string>& more) {
    all.insert(all.end(), more.begin(), more.end());
}

std::vector<std::string> people(const Dialect& d) {
    return {
        fmt::format("create table person (id {}, name text not null unique, person_role text not null, "
                    "is_owner bigint not null, is_active bigint not null, password_hash text not null, "
                    "made_ms bigint not null)",
                    d.id_column),
        "create table login (token_hash text primary key, person_id bigint not null references person(id), "
        "csrf text not null, made_ms bigint not null, used_ms bigint not null, ends_ms bigint not null)",
        "create index login_person on login (person_id)",
    };
}

std::vector<std::string> jobs(const Dialect& d) {
    std::vector<std::string> all{
        fmt::format("create table job (id {}, made_ms bigint not null, made_by bigint not null references "
                    "person(id), is_archived bigint not null, version bigint not null, sequence bigint not "
                    "null, changed_ms bigint not null, changed_by bigint not null references person(id))",
                    d.id_column),
        "create table job_original (job_id bigint primary key references job(id), file_name text not null, "
        "body text not null)",
        "create table job_version (job_id bigint not null references job(id), version bigint not null, "
        "body text not null, shop_body text, made_ms bigint not null, made_by bigint not null references "
        "person(id), what text not null, same_as bigint, undo_to bigint, redo_to bigint, "
        "primary key (job_id, version))",
        fmt::format("create table entry (id {}, job_id bigint not null references job(id), "
                    "sequence bigint not null, client_key text not null, kind text not null, head text not "
                    "null, valve text not null, content text not null, units text not null, made_by bigint "
                    "not null references person(id), made_ms bigint not null, said_ms bigint, corrects "
                    "bigint references entry(id), is_withdrawn bigint not null, is_repeat bigint not null, "
                    "reason text not null, unique (job_id, client_key), unique (job_id, sequence))",
                    d.id_column),
    };
    for (const auto* table : {"job_original", "job_version", "entry"}) add(all, d.append_only(table));
    return all;
}

std::vector<std::string> shop_step(const Dialect& d) {
    std::vector<std::string> all{
        "create table shelf_version (version bigint primary key, body text not null, made_ms bigint not "
        "null, made_by bigint references person(id), what text not null)",
        fmt::format("create table ledger (id {}, made_ms bigint not null, made_by bigint references "
                    "person(id), what text not null, job_id bigint references job(id), version bigint, "
                    "entry_id bigint references entry(id))",
                    d.id_column),
        "create index ledger_job on ledger (job_id, id)",
    };
    for (const auto* table : {"shelf_version", "ledger"}) add(all, d.append_only(table));
    return all;
}

std::vector<std::string> programs(const Dialect& d) {
    std::vector<std::string> all{
        fmt::format(
            "create table program_taken (id {}, job_id bigint not null references job(id), file_name text "
            "not null, sha256 text not null, made_ms bigint not null, made_by bigint not null references "
            "person(id), unique (job_id, file_name, sha256, made_by))",
            d.id_column),
    };
    add(all, d.append_only("program_taken"));
    return all;
}

// Digests of entries, and now and then one over every job's last (store/chain.hpp, store/shop_chain.hpp).
std::vector<std::string> chain(const Dialect& d) {
    std::vector<std::string> all{
        "create table entry_digest (entry_id bigint primary key references entry(id), job_id bigint not null "
        "references job(id), sequence bigint not null, digest text not null, unique (job_id, sequence))",
        fmt::format(
            "create table shop_digest (id {}, made_ms bigint not null, last_entry bigint not null, jobs "
            "bigint not null, entries bigint not null, jobs_digest text not null, digest text not null)",
            d.id_column),
    };
    for (const auto* table : {"entry_digest", "shop_digest"}) add(all, d.append_only(table));
    return all;
}

std::vector<std::string> logins(const Dialect& d) {
    std::vector<std::string> all{
        "alter table login add column address text not null default ''",
        "create table login_from (person_id bigint not null references person(id), address text not null, "
        "used_ms bigint not null, primary key (person_id, address))",
        fmt::format(
            "create table login_line (id {}, made_ms bigint not null, what text not null, person_id bigint "
            "references person(id), address text not null)",
            d.id_column),
        "create table second_factor (person_id bigint primary key references person(id), secret text not "
        "null, "
        "is_on bigint not null, last_step bigint not null, made_ms bigint not null)",
        "create table written_code (person_id bigint not null references person(id), code_hash text not "
        "null, "
        "primary key (person_id, code_hash))",
    };
    add(all, d.append_only("login_line"));
    return all;
}

std::vector<std::string> limits(const Dialect& d) {
    std::vector<std::string> all{
        "create table limits_open (job_id bigint primary key references job(id), words text not null)",
        "create table limits_accepted (job_id bigint primary key references job(id), made_ms bigint not "
        "null, "
        "made_by bigint not null references person(id))",
    };
    for (const auto* table : {"limits_open", "limits_accepted"}) add(all, d.append_only(table));
    return all;
}

// Digests of versions (store/text_chain.hpp). Job 0 is the shelf: no reference.
std::vector<std::string> texts(const Dialect& d) {
    std::vector<std::string> all{
        "create table text_digest (job_id bigint not null, version bigint not null, digest text not null, "
        "primary key (job_id, version))",
    };
    add(all, d.append_only("text_digest"));
    return all;
}

// Heads being described at the machine (store/surveys.hpp). Every key has the shop in it.
std::vector<std::string> surveys(const Dialect& d) {
    std::vector<std::string> all{
        fmt::format(
            "create table survey (id {}, shop bigint not null, title text not null, units text not "
            "null, sequence bigint not null, made_ms bigint not null, made_by bigint not null "
            "references person(id), changed_ms bigint not null, changed_by bigint not null references "
            "person(id), job_id bigint references job(id), unique (shop, id))",
            d.id_column),
        fmt::format(
            "create table survey_entry (id {}, shop bigint not null, survey_id bigint not null "
            "references survey(id), sequence bigint not null, client_key text not null, kind text not "
            "null, content text not null, made_by bigint not null references person(id), made_ms "
            "bigint not null, said_ms bigint, corrects bigint references survey_entry(id), "
            "is_withdrawn bigint not null, unique (shop, survey_id, client_key), unique (shop, "
            "survey_id, sequence))",
            d.id_column),
    };
    add(all, d.append_only("survey_entry"));
    return all;
}

// What is known of castings (store/castings.hpp).
std::vector<std::string> castings(const Dialect& d) {
    std::vector<std::string> all{
        fmt::format(
            "create table casting (id {}, shop bigint not null, name text not null, version bigint not "
            "null, unique (shop, name), unique (shop, id))",
            d.id_column),
        "create table casting_version (shop bigint not null, casting_id bigint not null references "
        "casting(id), "
        "version bigint not null, body text not null, made_ms bigint not null, made_by bigint references "
        "person(id), what text not null, primary key (shop, casting_id, version))",
        "create table casting_taught (shop bigint not null, casting_id bigint not null references "
        "casting(id), "
        "job_id bigint not null references job(id), version bigint not null, sequence bigint not null, words "
        "text not null, primary key (shop, casting_id, job_id))",
        fmt::format(
            "create table casting_offer (id {}, shop bigint not null, casting_id bigint not null "
            "references casting(id), job_id bigint not null references job(id), made_ms bigint not null, "
            "body text not null, decision text not null, unique (shop, id))",
            d.id_column),
    };
    add(all, d.append_only("casting_version"));
    return all;
}

// Where programs are sent, and every sending (store/places.hpp).
std::vector<std::string> places(const Dialect& d) {
    std::vector<std::string> all{
        fmt::format(
            "create table place (id {}, shop bigint not null, machine text not null, name text not null, "
            "kind "
            "text not null, settings text not null, version bigint not null, is_put_away bigint not null, "
            "made_ms bigint not null, made_by bigint not null references person(id), unique (shop, id))",
            d.id_column),
        fmt::format(
            "create table sending (id {}, shop bigint not null, place_id bigint not null references "
            "place(id), "
            "job_id bigint not null references job(id), head text not null, file_name text not null, "
            "name_there "
            "text not null, temporary text not null, body text not null, sha256 text not null, part text not "
            "null, first_seats text not null, is_to_run bigint not null, made_ms bigint not null, made_by "
            "bigint "
            "not null references person(id), unique (shop, id))",
            d.id_column),
        fmt::format(
            "create table sending_line (id {}, shop bigint not null, sending_id bigint not null references "
            "sending(id), became text not null, words text not null, made_ms bigint not null, made_by bigint "
            "references person(id))",
            d.id_column),
        "create index sending_place on sending (place_id)",
        "create index sending_job on sending (job_id)",
        "create index sending_line_of on sending_line (sending_id)",
    };
    for (const auto* table : {"sending", "sending_line"}) add(all, d.append_only(table));
    return all;
}

// Whose each row is, on every table from before the tables said so.
std::vector<std::string> shops(const Dialect& d) {
    std::vector<std::string> all;
    for (const auto* table :
         {"person", "login", "job", "job_original", "job_version", "entry", "shelf_version", "ledger",
          "program_taken", "entry_digest", "shop_digest", "login_from", "login_line", "second_factor",
          "written_code", "limits_open", "limits_accepted", "text_digest"})
        all.push_back(fmt::format("alter table {} add column shop {}", table, d.shop_column));
    return all;
}

// Where there is no folder for them (store/photographs.hpp).
std::vector<std::string> photographs(const Dialect& d) {
    return d.photographs;
}

// Sources of readings (store/feeds.hpp).
std::vector<std::string> feeds(const Dialect& d) {
    return {fmt::format(
        "create table feed (id {}, shop bigint not null, name text not null, settings text not null, version "
        "bigint not null, is_put_away bigint not null, made_ms bigint not null, made_by bigint not null "
        "references "
        "person(id), unique (shop, id))",
        d.id_column)};
}

// Papers as they left (store/issues.hpp).
std::vector<std::string> issues(const Dialect& d) {
    std::vector<std::string> all{
        fmt::format("create table issue_body (shop {}, sha256 text not null, body text not null, size bigint "
                    "not null, primary key (shop, sha256))",
                    d.shop_column),
        fmt::format(
            "create table issue (id {}, shop {}, job_id bigint not null references job(id), head text "
            "not null, part text not null, form text not null, file_name text not null, number bigint "
            "not null, made_of text not null, sha256 text not null, made_ms bigint not null, made_by "
            "bigint not null references person(id), replaces bigint references issue(id), digest text "
            "not null, unique (shop, id), unique (shop, job_id, head, part, form, file_name, number))",
            d.id_column, d.shop_column),
        "create index issue_job on issue (job_id, id)",
    };
    for (const auto* table : {"issue_body", "issue"}) add(all, d.append_only(table));
    return all;
}

// Whose a job is (store/orders.hpp).
std::vector<std::string> orders(const Dialect& d) {
    return {
        fmt::format(
            "create table customer (id {}, shop {}, name text not null, made_ms bigint not null, unique "
            "(shop, name), unique (shop, id))",
            d.id_column, d.shop_column),
        fmt::format("create table job_order (shop {}, job_id bigint not null references job(id), number text "
                    "not null, customer_id bigint references customer(id), primary key (shop, job_id))",
                    d.shop_column),
        fmt::format("create table head_serial (shop {}, job_id bigint not null references job(id), head text "
                    "not null, serial text not null, primary key (shop, job_id, head))",
                    d.shop_column),
        "create index job_order_customer on job_order (customer_id)",
    };
}

// Where a PIN is taken, and whose (store/screens.hpp).
std::vector<std::string> screens(const Dialect& d) {
    return {
        fmt::format(
            "create table screen (id {}, shop {}, token_hash text not null, name text not null, made_ms "
            "bigint not null, made_by bigint not null references person(id), unique (shop, token_hash), "
            "unique (shop, id))",
            d.id_column, d.shop_column),
        fmt::format(
            "create table pin (shop {}, person_id bigint not null references person(id), hash text not "
            "null, wrong bigint not null, made_ms bigint not null, primary key (shop, person_id))",
            d.shop_column),
        "alter table login add column by_pin bigint not null default 0",
    };
}

// Who read what another typed (store/entry.hpp). No reference: persons are keyed by shop and number where
// shops share a server, by number alone before that.
std::vector<std::string> readers(const Dialect&) {
    return {"alter table entry add column read_by bigint"};
}

// Behind which line of the Ledger a casting's text came in: a clock may be put back, lines go on.
std::vector<std::string> casting_lines(const Dialect&) {
    return {"alter table casting_version add column line bigint"};
}

const std::vector<Step>& steps() {
    static const std::vector<Step> all{{"people", people},
                                       {"jobs", jobs},
                                       {"shop", shop_step},
                                       {"programs", programs},
                                       {"chain", chain, chain_what_is_there},
                                       {"logins", logins},
                                       {"limits", limits},
                                       {"texts", texts, chain_texts_that_are_there},
                                       {"surveys", surveys},
                                       {"castings", castings},
                                       {"places", places},
                                       {"shops", shops},
                                       {"photographs", photographs},
                                       {"feeds", feeds},
                                       {"issues", issues},
                                       {"orders", orders},
                                       {"screens", screens},
                                       {"readers", readers},
                                       {"casting lines", casting_lines}};
    return all;
}

long long step_reached(Sql& sql) {
    long long reached = 0;
    sql << "select coalesce(max(step), 0) from migration", soci::into(reached);
    return reached;
}

void take_steps(Sql& sql, const Dialect& dialect, long long reached) {
    for (const auto& statement : dialect.before_steps) sql << statement;
    for (long long number = reached + 1; number <= newest_migration(); ++number) {
        const Step& step = steps()[static_cast<std::size_t>(number - 1)];
        for (const auto& statement : step.statements(dialect)) sql << statement;
        const long long now = now_ms();
        sql << "insert into migration (step, name, made_ms) values (:step, :name, :now)", soci::use(number),
            soci::use(step.name), soci::use(now);
    }
    // They read rows as this program does, so with the columns of every step.
    for (long long number = reached + 1; number <= newest_migration(); ++number)
        if (const auto fill = steps()[static_cast<std::size_t>(number - 1)].afterwards) fill(sql);
}

std::string newer(long long reached) {
    return fmt::format(
        "this data was written by a newer program (its tables are at step {}, this "
        "program knows {}); use that program",
        reached, newest_migration());
}

}  // namespace

long long newest_migration() {
    return static_cast<long long>(steps().size());
}

void migrate(Sql& sql, const Dialect& dialect) {
    sql << dialect.begin_migration;
    try {
        // Whether the table of steps is there is asked by making it: the catalogue differs from database to
        // database.
        sql << "create table if not exists migration (step bigint primary key, name text not null, made_ms "
               "bigint not null)";
        const long long reached = step_reached(sql);
        if (reached > newest_migration()) throw NewerData(newer(reached));
        if (dialect.is_server && reached < newest_migration()) open_fences(sql);
        take_steps(sql, dialect, reached);
        if (dialect.is_server) guard_shops(sql);
        sql << "commit";
    } catch (...) {
        sql << "rollback";
        throw;
    }
}

long long step_of(Sql& sql) {
    try {
        return step_reached(sql);
    } catch (const soci::soci_error&) {
        return 0;
    }
}

void require_newest(Sql& sql) {
    const long long reached = step_of(sql);
    if (reached > newest_migration()) throw NewerData(newer(reached));
    if (reached == newest_migration()) return;
    if (reached == 0)
        throw OlderData(
            "the tables of this program are not there, or this role may not read them; whoever owns the "
            "database makes them by: seatwright migrate --data URL_OF_THE_OWNER --server ROLE");
    throw OlderData(
        fmt::format("the tables are of an older program (at step {}, this one needs {}); whoever owns them "
                    "brings them up "
                    "to date by: seatwright migrate --data URL_OF_THE_OWNER --server ROLE",
                    reached, newest_migration()));
}

}  // namespace seatwright::store
