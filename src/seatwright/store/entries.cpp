#include "seatwright/store/entries.hpp"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/columns.hpp"
#include "seatwright/store/kept_statements.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

constexpr std::array<const char*, 10> kind_names{"touch", "level",  "guide",    "seat", "first",
                                                 "proof", "choice", "override", "done", "note"};

// The entry as it was stored; its content has been held against its digest before.
Entry entry_in_row(const EntryRow& row) {
    const EntryFacts& f = row.facts;
    Entry e;
    e.id = row.id;
    e.job = f.job;
    e.sequence = f.sequence;
    e.at_ms = f.made_ms;
    e.by = row.by;
    e.digest = row.digest.value_or("");
    e.client_key = f.client_key;
    e.kind = entry_kind_named(f.kind).value_or(EntryKind::touch);
    e.head = f.head;
    e.valve = f.valve;
    e.values = Json::parse(f.content);
    e.units = f.units == "in" ? LengthUnit::inch : LengthUnit::mm;
    e.said_ms = f.said_ms;
    e.corrects = f.corrects;
    e.withdrawn = f.withdrawn;
    e.repeat = f.repeat;
    e.reason = f.reason;
    e.read_by = f.read_by;
    e.read_by_name = row.read_by;
    return e;
}

std::optional<Entry> sound_entry(Sql& sql, const Which& which) {
    const auto row = first_entry(sql, which);
    if (!row) return std::nullopt;
    require_sound(sql, *row);
    return entry_in_row(*row);
}

// No row where there is no such job, and where the key is known.
struct NextNumber {
    long long now = 0, by = 0, job = 0, sequence = 0;
    std::string key;
    NullableText before;  // the digest of the entry before it
    template <class To>
    auto in(To& to) {
        return (
            to << "update job set sequence = sequence + 1, changed_ms = :now, changed_by = :by where id = "
                  ":job and not exists (select 1 from entry e where e.job_id = job.id and e.client_key = "
                  ":key) returning sequence, (select d.digest from entry_digest d where d.job_id = "
                  "job.id and d.sequence = job.sequence - 1)",
            soci::use(now), soci::use(by), soci::use(job), soci::use(key), soci::into(sequence),
            soci::into(before.value, before.state));
    }
};

// Its binds, in this order, are those of InsertEntry.
constexpr std::string_view insert_row =
    "insert into entry (job_id, sequence, client_key, kind, head, valve, content, units, made_by, made_ms, "
    "said_ms, corrects, is_withdrawn, is_repeat, reason, read_by) values (:job, :sequence, :key, :kind, "
    ":head, "
    ":valve, "
    ":content, :units, :by, :now, :said, :corrects, :withdrawn, :again, :reason, :read)";

struct InsertEntry {
    EntryFacts f;
    NullableNumber said, corrects, read_by;
    long long withdrawn = 0, repeat = 0, id = 0;
    template <class To>
    auto in(To& to) {
        return (to << fmt::format("{} returning id", insert_row), soci::use(f.job), soci::use(f.sequence),
                soci::use(f.client_key), soci::use(f.kind), soci::use(f.head), soci::use(f.valve),
                soci::use(f.content), soci::use(f.units), soci::use(f.made_by), soci::use(f.made_ms),
                soci::use(said.value, said.state), soci::use(corrects.value, corrects.state),
                soci::use(withdrawn), soci::use(repeat), soci::use(f.reason),
                soci::use(read_by.value, read_by.state), soci::into(id));
    }
};

// The entry, its digest and its line of the Ledger in one way to a database server and back; SQLite takes no
// such statement, and needs none.
struct InsertWhole {
    InsertEntry entry;
    std::string digest, what;
    long long line = 0;
    template <class To>
    auto in(To& to) {
        EntryFacts& f = entry.f;
        return (to << fmt::format(
                    "with made as ({} returning id, job_id, sequence, made_ms, made_by), chained as (insert "
                    "into entry_digest (entry_id, job_id, sequence, digest) select id, job_id, sequence, "
                    "cast(:digest as text) from made) insert into ledger (made_ms, made_by, what, job_id, "
                    "entry_id) select made_ms, made_by, cast(:what as text), job_id, id from made returning "
                    "entry_id, id",
                    insert_row),
                soci::use(f.job), soci::use(f.sequence), soci::use(f.client_key), soci::use(f.kind),
                soci::use(f.head), soci::use(f.valve), soci::use(f.content), soci::use(f.units),
                soci::use(f.made_by), soci::use(f.made_ms), soci::use(entry.said.value, entry.said.state),
                soci::use(entry.corrects.value, entry.corrects.state), soci::use(entry.withdrawn),
                soci::use(entry.repeat), soci::use(f.reason),
                soci::use(entry.read_by.value, entry.read_by.state), soci::use(digest), soci::use(what),
                soci::into(entry.id), soci::into(line));
    }
};

bool is_known(Sql& sql, long long job, const std::string& client_key) {
    long long id = 0;
    sql << "select id from entry where job_id = :job and client_key = :key", soci::use(job),
        soci::use(client_key), soci::into(id);
    return sql.got_data();
}

bool same_content(const NewEntry& a, const NewEntry& b) {
    return a.kind == b.kind && a.head == b.head && a.valve == b.valve && a.values == b.values &&
           a.units == b.units && a.corrects == b.corrects && a.withdrawn == b.withdrawn &&
           a.repeat == b.repeat && a.reason == b.reason && a.read_by == b.read_by;
}

std::string said_of(const NewEntry& e) {
    const std::string where = e.valve.empty() ? "" : fmt::format(" of valve {}, head {}", e.valve, e.head);
    if (e.withdrawn) return fmt::format("took back a {}{}", name_of(e.kind), where);
    return fmt::format("{} {}{}{}{}", e.corrects ? "corrected the" : "recorded a", name_of(e.kind), where,
                       e.reason.empty() ? "" : ": ", e.reason);
}

}  // namespace

std::string name_of(EntryKind kind) {
    return kind_names[static_cast<std::size_t>(kind)];
}

std::optional<EntryKind> entry_kind_named(const std::string& name) {
    for (std::size_t i = 0; i < kind_names.size(); ++i)
        if (name == kind_names[i]) return static_cast<EntryKind>(i);
    return std::nullopt;
}

namespace {

EntryFacts facts_of(const Person& by, const NewEntry& entry, const EntryPlace& place) {
    return {place.job,
            place.sequence,
            by.id,
            place.now_ms,
            entry.said_ms,
            entry.corrects,
            entry.withdrawn,
            entry.repeat,
            entry.client_key,
            name_of(entry.kind),
            entry.head,
            entry.valve,
            entry.values.dump(),
            entry.units == LengthUnit::inch ? "in" : "mm",
            entry.reason,
            entry.read_by};
}

void fill(InsertEntry& s, const EntryFacts& f) {
    s.f = f;
    s.said = NullableNumber(f.said_ms);
    s.corrects = NullableNumber(f.corrects);
    s.read_by = NullableNumber(f.read_by);
    s.withdrawn = f.withdrawn ? 1 : 0;
    s.repeat = f.repeat ? 1 : 0;
}

// Of who read it; empty where that is who typed it.
std::string reader_of(Sql& sql, const NewEntry& entry) {
    std::string name;
    if (entry.read_by)
        sql << "select name from person where id = :id", soci::use(*entry.read_by), soci::into(name);
    return name;
}

// With its line of the Ledger.
Entry insert_told(Sql& sql, const Person& by, const NewEntry& entry, const EntryPlace& place) {
    if (sql.get_backend_name() != "postgresql") {
        Entry made = insert_entry(sql, by, entry, place);
        note(sql, {by.id, place.job, {}, made.id}, said_of(entry));
        return made;
    }
    EntryRow row;
    row.facts = facts_of(by, entry, place);
    row.by = by.name;
    row.read_by = reader_of(sql, entry);
    row.digest = digest_of(row.facts, place.before);
    const auto done = KeptStatements::run<InsertWhole>(sql, [&](InsertWhole& s) {
        fill(s.entry, row.facts);
        s.digest = *row.digest;
        s.what = said_of(entry);
    });
    row.id = done.fields.entry.id;
    sql.wrote_line(done.fields.line);
    return entry_in_row(row);
}

}  // namespace

Entry insert_entry(Sql& sql, const Person& by, const NewEntry& entry, const EntryPlace& place) {
    EntryRow row;
    row.facts = facts_of(by, entry, place);
    row.id = KeptStatements::run<InsertEntry>(sql, [&](InsertEntry& s) { fill(s, row.facts); }).fields.id;
    row.by = by.name;
    row.read_by = reader_of(sql, entry);
    row.digest = digest_of(row.facts, place.before);
    keep_digest(sql, row.id, row.facts, *row.digest);
    return entry_in_row(row);
}

Answer<Appended> Entries::append(const Person& by, long long job, const NewEntry& entry) {
    database_.last().require_whole(job);
    auto appended = database_.write_repeatable([&](Sql& sql) -> Answer<Appended> {
        const long long now = now_ms();
        const auto next = KeptStatements::run<NextNumber>(
            sql, [&](NextNumber& s) { s.now = now, s.by = by.id, s.job = job, s.key = entry.client_key; });
        if (!next.got) {
            const auto before = sound_entry(sql, entry_under(job, entry.client_key));
            if (!before) return refuse(Why::not_found, "there is no such job");
            if (same_content(*before, entry)) return Appended{*before, true};
            auto refusal =
                refuse(Why::taken, "an entry with other values was sent before under the same client key");
            refusal.value().entry = before->id;
            return refusal;
        }
        if (entry.corrects && !first_entry(sql, store::entry_of(job, *entry.corrects)))
            return refuse(Why::not_found, "the entry to correct is not on record in this job");
        const long long sequence = next.fields.sequence;
        const std::optional<std::string> last = sequence == 1 ? no_entry_before : next.fields.before.get();
        if (!last) throw Damaged(Damage{job, sequence - 1, 1, sequence - 1});
        return Appended{insert_told(sql, by, entry, {job, sequence, now, *last}), false};
    });
    if (appended) database_.last().note(job, appended->entry.sequence, appended->entry.digest);
    return appended;
}

std::vector<Entry> Entries::list(long long job, long long after) {
    database_.last().require_whole(job);
    return database_.read([&](Sql& sql) {
        ChainWalk walk(sql, job, after);
        std::vector<Entry> all;
        each_entry(sql, entries_after(job, after), [&](const EntryRow& row) {
            if (walk.fits(row)) all.push_back(entry_in_row(row));
        });
        walk.end();
        return all;
    });
}

bool Entries::known(long long job, const std::string& client_key) {
    return database_.read([&](Sql& sql) { return is_known(sql, job, client_key); });
}

std::optional<Entry> Entries::one(long long job, long long id) {
    database_.last().require_whole(job);
    return database_.read([&](Sql& sql) { return sound_entry(sql, store::entry_of(job, id)); });
}

}  // namespace seatwright::store
