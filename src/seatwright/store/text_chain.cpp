#include "seatwright/store/text_chain.hpp"

#include <fmt/format.h>

#include <functional>

#include "seatwright/base/sha256.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/digest_field.hpp"

namespace seatwright::store {

namespace {

// Of the version before; a job that was not imported begins with none.
std::optional<std::string> digest_before(Sql& sql, const TextFacts& text) {
    if (text.version == the_original) return no_entry_before;
    const auto before = text_digest_at(sql, text.job, text.version - 1);
    return before || text.version > 1 ? before : no_entry_before;
}

std::string version_name(long long job, long long version) {
    if (job == the_shelf) return fmt::format("version {} of the shelf", version);
    if (version == the_original) return fmt::format("job {}: the file it was imported from", job);
    return fmt::format("job {}: version {} of its text", job, version);
}

using Each = std::function<void(const TextFacts&)>;

void each_shelf_version(Sql& sql, const Each& each) {
    TextFacts t;
    NullableNumber by;
    soci::statement rows =
        (sql.prepare << "select version, body, made_ms, made_by, what from shelf_version order by version",
         soci::into(t.version), soci::into(t.text), soci::into(t.made_ms), soci::into(by.value, by.state),
         soci::into(t.what));
    rows.execute();
    while (rows.fetch()) {
        t.made_by = by.get();
        each(t);
    }
}

// The imported file first.
void each_text_of_job(Sql& sql, long long job, const Each& each) {
    TextFacts file;
    std::string name;
    sql << "select body, file_name from job_original where job_id = :job", soci::use(job),
        soci::into(file.text), soci::into(name);
    if (sql.got_data()) {
        file.job = job;
        file.other_text = name;
        each(file);
    }
    TextFacts t;
    t.job = job;
    long long by = 0;
    NullableText shop;
    NullableNumber same, undo, redo;
    soci::statement rows =
        (sql.prepare << "select version, body, shop_body, made_ms, made_by, what, same_as, undo_to, redo_to "
                        "from job_version where job_id = :job order by version",
         soci::use(job), soci::into(t.version), soci::into(t.text), soci::into(shop.value, shop.state),
         soci::into(t.made_ms), soci::into(by), soci::into(t.what), soci::into(same.value, same.state),
         soci::into(undo.value, undo.state), soci::into(redo.value, redo.state));
    rows.execute();
    while (rows.fetch()) {
        t.other_text = shop.get();
        t.made_by = by;
        t.same_as = same.get();
        t.undo_to = undo.get();
        t.redo_to = redo.get();
        each(t);
    }
}

void each_text(Sql& sql, long long job, const Each& each) {
    if (job == the_shelf)
        each_shelf_version(sql, each);
    else
        each_text_of_job(sql, job, each);
}

// How many versions there must be.
long long versions_said(Sql& sql, long long job) {
    long long count = 0;
    if (job == the_shelf)
        sql << "select coalesce(max(version), 0) from text_digest where job_id = 0", soci::into(count);
    else
        sql << "select version from job where id = :job", soci::use(job), soci::into(count);
    return count;
}

}  // namespace

std::string digest_of(const TextFacts& t, const std::string& before) {
    std::string all = before;
    all.reserve(all.size() + t.text.size() + t.what.size() + 200);
    for (const auto& number : {std::optional(t.job), std::optional(t.version), std::optional(t.made_ms),
                               t.made_by, t.same_as, t.undo_to, t.redo_to})
        put(all, number);
    put(all, t.what);
    put(all, t.other_text ? "1" : "0");
    put(all, t.other_text.value_or(""));
    put(all, t.text);
    return sha256(all);
}

std::optional<std::string> text_digest_at(Sql& sql, long long job, long long version) {
    std::string digest;
    sql << "select digest from text_digest where job_id = :job and version = :version", soci::use(job),
        soci::use(version), soci::into(digest);
    return sql.got_data() ? std::optional(digest) : std::nullopt;
}

std::string keep_text_digest(Sql& sql, const TextFacts& text) {
    // One without a digest before it never fits: damage is not covered up by what is added to it.
    std::string digest = digest_of(text, digest_before(sql, text).value_or(""));
    sql << "insert into text_digest (job_id, version, digest) values (:job, :version, :digest)",
        soci::use(text.job), soci::use(text.version), soci::use(digest);
    return digest;
}

void require_text(Sql& sql, const TextFacts& text) {
    const auto before = digest_before(sql, text), own = text_digest_at(sql, text.job, text.version);
    if (before && own && digest_of(text, *before) == *own) return;
    throw Damaged(version_name(text.job, text.version) +
                  " is not as it was stored and is not handed out; restore the newest backup from before the "
                  "damage into an empty folder, and look at the disk");
}

std::optional<std::string> damage_of_texts(Sql& sql, long long job) {
    std::optional<std::string> first;
    const auto found = [&](const std::string& words) {
        if (!first) first = words;
    };
    std::string before = no_entry_before;
    long long next = 1;
    each_text(sql, job, [&](const TextFacts& t) {
        const auto own = text_digest_at(sql, job, t.version);
        if (t.version != the_original && t.version != next)
            found(version_name(job, next) + " is gone");
        else if (!own || digest_of(t, before) != *own)
            found(version_name(job, t.version) + " is not as it was stored");
        before = own.value_or("");
        if (t.version != the_original) next = t.version + 1;
    });
    if (next <= versions_said(sql, job)) found(version_name(job, next) + " is gone");
    return first;
}

std::vector<long long> all_jobs(Sql& sql) {
    std::vector<long long> all;
    long long job = 0;
    soci::statement rows = (sql.prepare << "select id from job order by id", soci::into(job));
    rows.execute();
    while (rows.fetch()) all.push_back(job);
    return all;
}

std::vector<std::string> damage_of_all_texts(Sql& sql) {
    std::vector<std::string> out;
    auto jobs = all_jobs(sql);
    jobs.push_back(the_shelf);
    for (const long long job : jobs)
        if (auto words = damage_of_texts(sql, job)) out.push_back(std::move(*words));
    return out;
}

void chain_texts_that_are_there(Sql& sql) {
    auto jobs = all_jobs(sql);
    jobs.push_back(the_shelf);
    for (const long long job : jobs) {
        std::vector<std::pair<long long, std::string>> made;
        std::string before = no_entry_before;
        each_text(sql, job, [&](const TextFacts& t) {
            before = digest_of(t, before);
            made.emplace_back(t.version, before);
        });
        for (const auto& [version, digest] : made)
            sql << "insert into text_digest (job_id, version, digest) values (:job, :version, :digest)",
                soci::use(job), soci::use(version), soci::use(digest);
    }
}

}  // namespace seatwright::store
