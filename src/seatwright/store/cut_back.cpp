#include "seatwright/store/cut_back.hpp"

#include <fmt/format.h>

#include <utility>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/jobs.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

// The last line of the ledger that is kept, and the latest time up to it.
struct Cut {
    long long line = 0, at_ms = 0;
};

std::optional<Cut> cut_at(Sql& sql, long long until_ms) {
    Cut cut;
    sql << "select coalesce(max(id), 0) from ledger where made_ms <= :until", soci::use(until_ms),
        soci::into(cut.line);
    if (cut.line == 0) return std::nullopt;
    sql << "select max(made_ms) from ledger where id <= :line", soci::use(cut.line), soci::into(cut.at_ms);
    return cut;
}

// Append-only tables let nothing go: their triggers are taken away and come back.
class WithoutTriggers {
  public:
    explicit WithoutTriggers(Sql& sql) : sql_(sql) {
        std::string name, text;
        {
            soci::statement rows =
                (sql.prepare << "select name, sql from sqlite_master where type = 'trigger' order by name",
                 soci::into(name), soci::into(text));
            rows.execute();
            while (rows.fetch()) triggers_.emplace_back(name, text);
        }
        for (const auto& [trigger, words] : triggers_) sql << "drop trigger " + trigger;
    }
    void put_back() {
        for (const auto& [trigger, words] : triggers_) sql_ << words;
    }

  private:
    Sql& sql_;
    std::vector<std::pair<std::string, std::string>> triggers_;
};

// Each names :cut once.
void run(Sql& sql, long long cut, const std::vector<std::string>& statements) {
    for (const auto& statement : statements) sql << statement, soci::use(cut, "cut");
}
void run(Sql& sql, const std::vector<std::string>& statements) {
    for (const auto& statement : statements) sql << statement;
}

// By the ledger's lines: jobs, their versions and entries, the shelf.
void cut_jobs(Sql& sql, long long line) {
    run(sql, line,
        {"delete from entry where id in (select entry_id from ledger where id > :cut and entry_id is not "
         "null)",
         "delete from entry where job_id not in (select job_id from ledger where id <= :cut and job_id is "
         "not null)",
         "delete from job_version where (job_id, version) in (select job_id, version from ledger where "
         "job_id "
         "is not null and version is not null group by job_id, version having min(id) > :cut)",
         "delete from job where id not in (select job_id from ledger where id <= :cut and job_id is not "
         "null)",
         fmt::format(
             "delete from shelf_version where version > (select count(*) from ledger where id <= :cut "
             "and job_id is null and what like '{}%')",
             shelf_line)});
    run(sql,
        {"delete from job_version where job_id not in (select id from job)",
         "delete from entry where job_id not in (select id from job)",
         "delete from job_original where job_id not in (select id from job)",
         "delete from entry_digest where entry_id not in (select id from entry)",
         "delete from text_digest where job_id <> 0 and version > 0 and (job_id, version) not in (select "
         "job_id, version from job_version)",
         "delete from text_digest where job_id <> 0 and job_id not in (select id from job)",
         "delete from text_digest where job_id = 0 and version not in (select version from "
         "shelf_version)",
         "delete from shop_digest where last_entry > (select coalesce(max(id), 0) from entry)"});
}

// What a job says of itself, by what is left of it.
void tell_jobs(Sql& sql, long long line) {
    const std::string newest =
        "from (select made_ms, made_by from job_version where job_id = job.id union all select made_ms, "
        "made_by from entry where job_id = job.id order by made_ms desc limit 1)";
    run(sql,
        {"update job set version = (select max(version) from job_version where job_id = job.id), sequence "
         "= (select coalesce(max(sequence), 0) from entry where job_id = job.id), changed_ms = (select "
         "made_ms " +
         newest + "), changed_by = (select made_by " + newest + ")"});
    run(sql, line,
        {fmt::format("update job set is_archived = coalesce((select what = '{0}' from ledger where job_id = "
                     "job.id and id <= :cut and what in ('{0}', '{1}') order by id desc limit 1), 0)",
                     put_away_line, taken_out_line)});
}

// What has no line of its own in the ledger, by its time.
void cut_the_rest(Sql& sql, const Cut& cut) {
    run(sql, cut.line,
        {fmt::format(
            "update casting_offer set decision = '' where job_id in (select job_id from ledger where "
            "id > :cut and what like '%{}')",
            of_its_casting)});
    run(sql, cut.line, {"delete from casting_version where line >= :cut"});
    for (const std::string table : {"program_taken", "limits_accepted", "issue", "sending_line", "sending",
                                    "casting_offer", "survey_entry", "survey", "login_line"})
        run(sql, cut.at_ms, {"delete from " + table + " where made_ms > :cut"});
    run(sql, cut.at_ms, {"delete from casting_version where line is null and made_ms > :cut"});
    for (const std::string table : {"program_taken", "limits_open", "limits_accepted", "issue", "sending",
                                    "casting_offer", "casting_taught", "job_order", "head_serial"})
        run(sql, {"delete from " + table + " where job_id not in (select id from job)"});
    run(sql, {"delete from issue_body where sha256 not in (select sha256 from issue)",
              "delete from sending_line where sending_id not in (select id from sending)",
              "update survey set sequence = (select coalesce(max(sequence), 0) from survey_entry where "
              "survey_id = survey.id), changed_ms = coalesce((select max(made_ms) from survey_entry where "
              "survey_id = survey.id), made_ms)",
              "update survey set job_id = null where job_id not in (select id from job)",
              // A casting is taught anew by what it has taken in of states that are gone.
              "delete from casting_taught where exists (select 1 from job where job.id = job_id and "
              "(casting_taught.version > job.version or casting_taught.sequence > job.sequence))",
              "delete from casting_offer where casting_id not in (select casting_id from casting_version)",
              "delete from casting_taught where casting_id not in (select casting_id from casting_version)",
              "delete from casting where id not in (select casting_id from casting_version)",
              "update casting set version = (select max(version) from casting_version where casting_id = "
              "casting.id)"});
    run(sql, cut.line, {"delete from ledger where id > :cut"});
}

}  // namespace

Answer<bool> cut_back(Sql& sql, long long until_ms) {
    sql << "pragma foreign_keys = off";  // rows go one table at a time; the whole is checked afterwards
    sql << "begin immediate";
    const auto cut = cut_at(sql, until_ms);
    if (!cut) {
        long long first = 0;
        sql << "select coalesce(min(made_ms), 0) from ledger", soci::into(first);
        sql << "rollback";
        return refuse(Why::bad, fmt::format("nothing had been recorded by {}; the first record is of {}",
                                            iso_time(until_ms), iso_time(first)));
    }
    WithoutTriggers triggers(sql);
    cut_jobs(sql, cut->line);
    tell_jobs(sql, cut->line);
    cut_the_rest(sql, *cut);
    triggers.put_back();
    note(sql, {}, fmt::format("put back to what was recorded by {}", iso_time(until_ms)));
    sql << "commit";
    sql << "pragma foreign_keys = on";
    sql << "vacuum";
    return true;
}

}  // namespace seatwright::store
