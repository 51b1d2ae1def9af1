#include "seatwright/store/entries.hpp"

#include <fmt/format.h>

#include <array>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

constexpr std::array<const char*, 9> kind_names{"touch", "level",  "guide",    "seat", "first",
                                                "proof", "choice", "override", "done"};

constexpr const char* entry_columns =
    "e.id, e.job_id, e.sequence, e.client_key, e.kind, e.head, e.valve, e.content, e.units, p.name, "
    "e.made_ms, "
    "e.said_ms, e.corrects, e.is_withdrawn, e.is_repeat, e.reason";

// A row of entry_columns.
struct EntryRow {
    Entry entry;
    std::string kind, content, units;
    NullableNumber said, corrects;
    long long withdrawn = 0, repeat = 0;

    Entry get() const {
        Entry e = entry;
        e.kind = entry_kind_named(kind).value_or(EntryKind::touch);
        e.values = Json::parse(content);
        e.units = units == "in" ? LengthUnit::inch : LengthUnit::mm;
        e.said_ms = said.get();
        e.corrects = corrects.get();
        e.withdrawn = withdrawn != 0;
        e.repeat = repeat != 0;
        return e;
    }
};

// Entries of that condition (binds :a and :b), in order of sequence.
std::vector<Entry> select(Sql& sql, const std::string& condition, long long a, const std::string& b) {
    EntryRow row;
    Entry& e = row.entry;
    soci::statement rows =
        (sql.prepare << fmt::format(
             "select {} from entry e join person p on p.id = e.made_by where {} order by "
             "e.sequence",
             entry_columns, condition),
         soci::use(a), soci::use(b), soci::into(e.id), soci::into(e.job), soci::into(e.sequence),
         soci::into(e.client_key), soci::into(row.kind), soci::into(e.head), soci::into(e.valve),
         soci::into(row.content), soci::into(row.units), soci::into(e.by), soci::into(e.at_ms),
         soci::into(row.said.value, row.said.state), soci::into(row.corrects.value, row.corrects.state),
         soci::into(row.withdrawn), soci::into(row.repeat), soci::into(e.reason));
    std::vector<Entry> all;
    rows.execute();
    while (rows.fetch()) all.push_back(row.get());
    return all;
}

std::vector<Entry> select_after(Sql& sql, long long job, long long after) {
    return select(sql, fmt::format("e.job_id = :a and e.sequence > {} and :b = ''", after), job, "");
}

bool same_content(const NewEntry& a, const NewEntry& b) {
    return a.kind == b.kind && a.head == b.head && a.valve == b.valve && a.values == b.values &&
           a.units == b.units && a.corrects == b.corrects && a.withdrawn == b.withdrawn &&
           a.repeat == b.repeat && a.reason == b.reason;
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

Entry insert_entry(Sql& sql, const Person& by, long long job, long long sequence, const NewEntry& entry,
                   long long now) {
    const std::string kind = name_of(entry.kind), content = entry.values.dump(),
                      units = entry.units == LengthUnit::inch ? "in" : "mm";
    NullableNumber said(entry.said_ms), corrects(entry.corrects);
    const long long withdrawn = entry.withdrawn ? 1 : 0, repeat = entry.repeat ? 1 : 0;
    Entry made;
    static_cast<NewEntry&>(made) = entry;
    sql << "insert into entry (job_id, sequence, client_key, kind, head, valve, content, units, made_by, "
           "made_ms, "
           "said_ms, corrects, is_withdrawn, is_repeat, reason) values (:job, :sequence, :key, :kind, :head, "
           ":valve, :content, :units, :by, :now, :said, :corrects, :withdrawn, :again, :reason) returning id",
        soci::use(job), soci::use(sequence), soci::use(entry.client_key), soci::use(kind),
        soci::use(entry.head), soci::use(entry.valve), soci::use(content), soci::use(units), soci::use(by.id),
        soci::use(now), soci::use(said.value, said.state), soci::use(corrects.value, corrects.state),
        soci::use(withdrawn), soci::use(repeat), soci::use(entry.reason), soci::into(made.id);
    made.job = job;
    made.sequence = sequence;
    made.at_ms = now;
    made.by = by.name;
    return made;
}

Answer<Appended> Entries::append(const Person& by, long long job, const NewEntry& entry) {
    return database_.write([&](Sql& sql) -> Answer<Appended> {
        const auto before = select(sql, "e.job_id = :a and e.client_key = :b", job, entry.client_key);
        if (!before.empty()) {
            if (same_content(before.front(), entry)) return Appended{before.front(), true};
            auto refusal =
                refuse(Why::taken, "an entry with other values was sent before under the same client key");
            refusal.value().entry = before.front().id;
            return refusal;
        }
        if (entry.corrects &&
            select(sql, fmt::format("e.job_id = :a and e.id = {} and :b = ''", *entry.corrects), job, "")
                .empty())
            return refuse(Why::not_found, "the entry to correct is not on record in this job");
        const long long now = now_ms();
        sql << "update job set sequence = sequence + 1, changed_ms = :now, changed_by = :by where id = :job",
            soci::use(now), soci::use(by.id), soci::use(job);
        long long sequence = 0;
        sql << "select sequence from job where id = :job", soci::use(job), soci::into(sequence);
        if (!sql.got_data()) return refuse(Why::not_found, "there is no such job");
        const Entry made = insert_entry(sql, by, job, sequence, entry, now);
        note(sql, {by.id, job, {}, made.id}, said_of(entry));
        return Appended{made, false};
    });
}

std::vector<Entry> Entries::list(long long job, long long after) {
    return database_.read([&](Sql& sql) { return select_after(sql, job, after); });
}

std::optional<Entry> Entries::one(long long job, long long id) {
    return database_.read([&](Sql& sql) {
        const auto found = select(sql, fmt::format("e.job_id = :a and e.id = {} and :b = ''", id), job, "");
        return found.empty() ? std::nullopt : std::optional<Entry>(found.front());
    });
}

}  // namespace seatwright::store
