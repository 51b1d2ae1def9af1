#include "seatwright/store/chain.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/base/sha256.hpp"
#include "seatwright/store/digest_field.hpp"
#include "seatwright/store/kept_statements.hpp"

namespace seatwright::store {

namespace {

long long entries_of(Sql& sql, long long job) {
    long long count = 0;
    sql << "select sequence from job where id = :job", soci::use(job), soci::into(count);
    return count;
}

struct InsertDigest {
    long long entry = 0, job = 0, sequence = 0;
    std::string digest;
    template <class To>
    auto in(To& to) {
        return (to << "insert into entry_digest (entry_id, job_id, sequence, digest) values (:entry, :job, "
                      ":sequence, :digest)",
                soci::use(entry), soci::use(job), soci::use(sequence), soci::use(digest));
    }
};

}  // namespace

std::string digest_of(const EntryFacts& e, const std::string& before) {
    std::string all = before;
    for (const long long number : {e.job, e.sequence, e.made_by, e.made_ms}) put(all, std::optional(number));
    put(all, e.said_ms);
    put(all, e.corrects);
    put(all, e.withdrawn ? "1" : "0");
    put(all, e.repeat ? "1" : "0");
    for (const std::string* text :
         {&e.client_key, &e.kind, &e.head, &e.valve, &e.content, &e.units, &e.reason})
        put(all, *text);
    if (e.read_by) put(all, e.read_by);  // digests from before there was such a field stay what they are
    return sha256(all);
}

std::optional<std::string> digest_at(Sql& sql, long long job, long long sequence) {
    if (sequence == 0) return no_entry_before;
    std::string digest;
    sql << "select digest from entry_digest where job_id = :job and sequence = :sequence", soci::use(job),
        soci::use(sequence), soci::into(digest);
    return sql.got_data() ? std::optional<std::string>(digest) : std::nullopt;
}

void keep_digest(Sql& sql, long long entry, const EntryFacts& facts, const std::string& digest) {
    KeptStatements::run<InsertDigest>(sql, [&](InsertDigest& s) {
        s.entry = entry, s.job = facts.job, s.sequence = facts.sequence, s.digest = digest;
    });
}

void chain_what_is_there(Sql& sql) {
    struct Made {
        long long entry = 0;
        EntryFacts facts;  // job and number alone
        std::string digest;
    };
    std::vector<Made> all;
    each_entry(sql, every_entry, [&](const EntryRow& row) {
        const bool first = all.empty() || all.back().facts.job != row.facts.job;
        Made made;
        made.entry = row.id;
        made.facts.job = row.facts.job;
        made.facts.sequence = row.facts.sequence;
        made.digest = digest_of(row.facts, first ? no_entry_before : all.back().digest);
        all.push_back(std::move(made));
    });
    for (const Made& made : all) keep_digest(sql, made.entry, made.facts, made.digest);
}

std::string to_words(const Damage& d) {
    return d.count == 1
               ? fmt::format("job {}: 1 of its {} entries is not as it was stored (entry {})", d.job, d.of,
                             d.first)
               : fmt::format(
                     "job {}: {} of its {} entries are not as they were stored (the first is entry {})",
                     d.job, d.count, d.of, d.first);
}

Damaged::Damaged(const Damage& damage)
    : std::runtime_error(to_words(damage) +
                         ": nothing of this job is handed out; restore the newest backup from before the "
                         "damage into an empty folder, and look at the disk") {}

ChainWalk::ChainWalk(Sql& sql, long long job, long long after)
    : sql_(sql), job_(job), sequence_(after), count_(entries_of(sql, job)) {
    const auto before = digest_at(sql, job, after);
    if (!before) misses(after, 1);
    before_ = before.value_or("");
}

void ChainWalk::misses(long long first, long long count) {
    if (found_.count == 0) found_ = {job_, first, 0, count_};
    found_.count += count;
}

bool ChainWalk::fits(const EntryRow& entry) {
    const long long number = entry.facts.sequence;
    if (number > sequence_ + 1) {
        misses(sequence_ + 1, number - sequence_ - 1);
        before_ = digest_at(sql_, job_, number - 1).value_or("");
    }
    const bool sound = number > sequence_ && entry.digest && digest_of(entry.facts, before_) == *entry.digest;
    if (!sound) misses(number, 1);
    before_ = entry.digest.value_or("");
    sequence_ = std::max(sequence_, number);
    return sound;
}

std::optional<Damage> ChainWalk::damage() const {
    ChainWalk all = *this;
    if (sequence_ < count_) all.misses(sequence_ + 1, count_ - sequence_);
    if (sequence_ > count_) all.misses(count_ + 1, sequence_ - count_);
    return all.found_.count > 0 ? std::optional(all.found_) : std::nullopt;
}

void ChainWalk::end() const {
    if (const auto found = damage()) throw Damaged(*found);
}

void require_sound(Sql& sql, const EntryRow& entry) {
    ChainWalk walk(sql, entry.facts.job, entry.facts.sequence - 1);
    if (!walk.fits(entry))
        throw Damaged(Damage{entry.facts.job, entry.facts.sequence, 1, entries_of(sql, entry.facts.job)});
}

std::optional<Damage> damage_of(Sql& sql, long long job, long long after) {
    ChainWalk walk(sql, job, after);
    each_entry(sql, entries_after(job, after), [&](const EntryRow& row) { walk.fits(row); });
    return walk.damage();
}

std::vector<Damage> damage_in(Sql& sql) {
    std::vector<Damage> out;
    for (const long long job : jobs_with_entries(sql))
        if (const auto damage = damage_of(sql, job)) out.push_back(*damage);
    return out;
}

std::vector<Damage> damage_since(Sql& sql, long long entry) {
    std::vector<std::pair<long long, long long>> from;
    long long job = 0, first = 0;
    soci::statement rows =
        (sql.prepare << "select job_id, min(sequence) from entry where id > :last group by "
                        "job_id",
         soci::use(entry), soci::into(job), soci::into(first));
    rows.execute();
    while (rows.fetch()) from.emplace_back(job, first);
    std::vector<Damage> out;
    for (const auto& [id, number] : from)
        if (const auto damage = damage_of(sql, id, number - 1)) out.push_back(*damage);
    return out;
}

}  // namespace seatwright::store
