#include "seatwright/store/jobs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/columns.hpp"
#include "seatwright/store/entries.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/open_limits.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {

namespace {

constexpr std::size_t report_every = 256;  // rows between two calls of Progress

struct RowOfJob {
    JobRow row;
    long long archived = 0;
    JobRow get() const {
        JobRow r = row;
        r.archived = archived != 0;
        return r;
    }
};

std::vector<JobRow> select_jobs(Sql& sql, const std::string& condition, long long bind) {
    RowOfJob row;
    soci::statement rows =
        (sql.prepare
             << "select j.id, j.version, j.sequence, j.is_archived, j.made_ms, j.changed_ms, p.name from job "
                "j join person p on p.id = j.changed_by where " +
                    condition + " order by j.changed_ms desc, j.id desc",
         soci::use(bind), soci::into(row.row.id), soci::into(row.row.version), soci::into(row.row.sequence),
         soci::into(row.archived), soci::into(row.row.made_ms), soci::into(row.row.changed_ms),
         soci::into(row.row.changed_by));
    std::vector<JobRow> all;
    rows.execute();
    while (rows.fetch()) all.push_back(row.get());
    return all;
}

std::optional<JobRow> job_by_id(Sql& sql, long long id) {
    const auto found = select_jobs(sql, "j.id = :id", id);
    return found.empty() ? std::nullopt : std::optional<JobRow>(found.front());
}

TextFacts facts_of(long long job, const Version& v, long long by) {
    return {job, v.number, v.text, v.shop_text, v.at_ms, by, v.what, v.same_as, v.undo_to, v.redo_to};
}

TextFacts facts_of_original(long long job, const std::string& text, const std::string& name) {
    return {job, the_original, text, name, 0, {}, {}, {}, {}, {}};
}

std::optional<Version> select_version(Sql& sql, long long id, long long number) {
    Version v;
    long long by = 0;
    NullableText shop;
    NullableNumber same, undo, redo;
    sql << "select v.version, v.body, v.shop_body, v.made_ms, p.name, v.what, v.same_as, v.undo_to, "
           "v.redo_to, v.made_by from "
           "job_version v join person p on p.id = v.made_by where v.job_id = :id and v.version = :version",
        soci::use(id), soci::use(number), soci::into(v.number), soci::into(v.text),
        soci::into(shop.value, shop.state), soci::into(v.at_ms), soci::into(v.by), soci::into(v.what),
        soci::into(same.value, same.state), soci::into(undo.value, undo.state),
        soci::into(redo.value, redo.state), soci::into(by);
    if (!sql.got_data()) return std::nullopt;
    v.shop_text = shop.get();
    v.same_as = same.get();
    v.undo_to = undo.get();
    v.redo_to = redo.get();
    require_text(sql, facts_of(id, v, by));
    return v;
}

// Its digest.
std::string insert_version(Sql& sql, const Person& by, long long id, const Version& v) {
    NullableText shop(v.shop_text);
    NullableNumber same(v.same_as), undo(v.undo_to), redo(v.redo_to);
    sql << "insert into job_version (job_id, version, body, shop_body, made_ms, made_by, what, same_as, "
           "undo_to, "
           "redo_to) values (:id, :version, :body, :shop, :now, :by, :what, :same, :undo, :redo)",
        soci::use(id), soci::use(v.number), soci::use(v.text), soci::use(shop.value, shop.state),
        soci::use(v.at_ms), soci::use(by.id), soci::use(v.what), soci::use(same.value, same.state),
        soci::use(undo.value, undo.state), soci::use(redo.value, redo.state);
    return keep_text_digest(sql, facts_of(id, v, by.id));
}

// The newest version, refused when the change was made on another.
Answer<Version> current(Sql& sql, long long id, long long made_on) {
    const auto job = job_by_id(sql, id);
    if (!job) return refuse(Why::not_found, "there is no such job");
    if (job->version != made_on) {
        auto refusal =
            refuse(Why::stale, fmt::format("somebody changed this job in the meantime: the change was "
                                           "made on version {}, the store holds version {}",
                                           made_on, job->version));
        refusal.value().version = job->version;
        return refusal;
    }
    return *select_version(sql, id, job->version);
}

// Writes `next` as the job's newest version.
Version advance(Sql& sql, const Person& by, long long id, Version next) {
    next.at_ms = now_ms();
    next.by = by.name;
    next.digest = insert_version(sql, by, id, next);
    sql << "update job set version = :version, changed_ms = :now, changed_by = :by where id = :id",
        soci::use(next.number), soci::use(next.at_ms), soci::use(by.id), soci::use(id);
    note(sql, {by.id, id, next.number, {}}, next.what);
    return next;
}

// Databases keep texts up to a zero only: what could not come back as it was is not taken.
bool has_zero(const NewJob& job) {
    const auto in = [](const std::string& text) { return text.find('\0') != std::string::npos; };
    return in(job.text) || in(job.shop_text.value_or("")) || in(job.original_name) ||
           in(job.original.value_or("")) || in(job.what) ||
           std::any_of(job.entries.begin(), job.entries.end(), [&](const NewEntry& e) {
               return in(e.head) || in(e.valve) || in(e.reason) || in(e.client_key);
           });
}

// Undo and redo walk a chain of versions: `to` gives its text and the links that were its own, except that
// the link back the way we came is the version just left.
Version repeat_of(const Version& to, const Version& left) {
    Version next = to;
    next.number = left.number + 1;
    next.same_as = to.same_as.value_or(to.number);
    return next;
}

// What was said when that text was new.
std::string first_said(Sql& sql, long long id, const Version& v) {
    return v.same_as ? select_version(sql, id, *v.same_as)->what : v.what;
}

}  // namespace

Answer<JobRow> Jobs::make(const Person& by, const NewJob& job, const Progress& progress) {
    if (has_zero(job)) return refuse(Why::bad, "the file has the character U+0000 in a text; take it out");
    std::string last = no_entry_before, text;
    auto made = database_.write([&](Sql& sql) -> Answer<JobRow> {
        const long long now = now_ms(), archived = 0, version = 1;
        const auto sequence = static_cast<long long>(job.entries.size());
        long long id = 0;
        sql << "insert into job (made_ms, made_by, is_archived, version, sequence, changed_ms, changed_by) "
               "values "
               "(:now, :by, :archived, :version, :sequence, :changed, :changer) returning id",
            soci::use(now), soci::use(by.id), soci::use(archived), soci::use(version), soci::use(sequence),
            soci::use(now), soci::use(by.id), soci::into(id);
        Version first;
        first.number = version;
        first.text = job.text;
        first.shop_text = job.shop_text;
        first.at_ms = now;
        first.what = job.what;
        if (job.original) {
            sql << "insert into job_original (job_id, file_name, body) values (:id, :name, :body)",
                soci::use(id), soci::use(job.original_name), soci::use(*job.original);
            keep_text_digest(sql, facts_of_original(id, *job.original, job.original_name));
        }
        text = insert_version(sql, by, id, first);
        for (std::size_t i = 0; i < job.entries.size(); ++i) {
            const auto number = static_cast<long long>(i + 1);
            last = insert_entry(sql, by, job.entries[i], {id, number, now, last}).digest;
            if (progress && i % report_every == 0 && !progress(i, job.entries.size()))
                return refuse(Why::bad, "cancelled; nothing was kept");
        }
        if (!job.limits.empty()) leave_open(sql, id, job.limits);
        note(sql, {by.id, id, version, {}}, job.what);
        return *job_by_id(sql, id);
    });
    if (made) database_.last().note_text(made->id, made->version, text);
    if (made && made->sequence > 0) database_.last().note(made->id, made->sequence, last);
    return made;
}

std::optional<JobRow> Jobs::row(long long id) {
    return database_.read([&](Sql& sql) { return job_by_id(sql, id); });
}

std::vector<JobRow> Jobs::rows(bool archived_too) {
    return database_.read(
        [&](Sql& sql) { return select_jobs(sql, "j.is_archived <= :bound", archived_too ? 1 : 0); });
}

Answer<JobRow> Jobs::archive(const Person& by, long long id, bool archived) {
    return database_.write([&](Sql& sql) -> Answer<JobRow> {
        if (!job_by_id(sql, id)) return refuse(Why::not_found, "there is no such job");
        const long long flag = archived ? 1 : 0;
        sql << "update job set is_archived = :flag where id = :id", soci::use(flag), soci::use(id);
        note(sql, {by.id, id, {}, {}}, archived ? put_away_line : taken_out_line);
        return *job_by_id(sql, id);
    });
}

std::optional<Version> Jobs::version(long long id, long long number) {
    database_.last().require_whole(id);
    return database_.read([&](Sql& sql) { return select_version(sql, id, number); });
}

std::vector<Version> Jobs::versions(long long id) {
    return database_.read([&](Sql& sql) {
        Version v;
        NullableNumber same;
        soci::statement rows =
            (sql.prepare << "select v.version, v.made_ms, p.name, v.what, v.same_as from job_version "
                            "v join person p on p.id = v.made_by where v.job_id = :id order by "
                            "v.version desc",
             soci::use(id), soci::into(v.number), soci::into(v.at_ms), soci::into(v.by), soci::into(v.what),
             soci::into(same.value, same.state));
        std::vector<Version> all;
        rows.execute();
        while (rows.fetch()) {
            v.same_as = same.get();
            all.push_back(v);
        }
        return all;
    });
}

// After the commit and before the answer.
Answer<Version> Jobs::noted(long long id, Answer<Version> made) {
    if (made) database_.last().note_text(id, made->number, made->digest);
    return made;
}

Answer<Version> Jobs::change(const Person& by, long long id, const NewVersion& next) {
    return noted(id, database_.write([&](Sql& sql) -> Answer<Version> {
        const auto now = current(sql, id, next.made_on);
        if (!now) return tl::unexpected(now.error());
        Version v;
        v.number = now->number + 1;
        v.text = next.text;
        v.shop_text = now->shop_text;
        v.what = next.what;
        v.undo_to = now->number;
        return advance(sql, by, id, v);
    }));
}

Answer<Version> Jobs::undo(const Person& by, long long id, long long made_on) {
    return noted(id, database_.write([&](Sql& sql) -> Answer<Version> {
        const auto now = current(sql, id, made_on);
        if (!now) return tl::unexpected(now.error());
        if (!now->undo_to) return refuse(Why::bad, "there is nothing to undo");
        Version v = repeat_of(*select_version(sql, id, *now->undo_to), *now);
        v.redo_to = now->number;
        v.what = "undid: " + first_said(sql, id, *now);
        return advance(sql, by, id, v);
    }));
}

Answer<Version> Jobs::redo(const Person& by, long long id, long long made_on) {
    return noted(id, database_.write([&](Sql& sql) -> Answer<Version> {
        const auto now = current(sql, id, made_on);
        if (!now) return tl::unexpected(now.error());
        if (!now->redo_to) return refuse(Why::bad, "there is nothing to redo");
        Version v = repeat_of(*select_version(sql, id, *now->redo_to), *now);
        v.what = "did again: " + first_said(sql, id, v);
        return advance(sql, by, id, v);
    }));
}

std::optional<std::string> Jobs::original(long long id) {
    return database_.read([&](Sql& sql) -> std::optional<std::string> {
        std::string body, name;
        sql << "select body, file_name from job_original where job_id = :id", soci::use(id), soci::into(body),
            soci::into(name);
        if (!sql.got_data()) return std::nullopt;
        require_text(sql, facts_of_original(id, body, name));
        return body;
    });
}

}  // namespace seatwright::store
