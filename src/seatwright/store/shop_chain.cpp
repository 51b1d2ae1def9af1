#include "seatwright/store/shop_chain.hpp"

#include <fmt/format.h>

#include "seatwright/base/sha256.hpp"
#include "seatwright/store/chain.hpp"

namespace seatwright::store {

namespace {

std::string digest_of_shop(const ShopDigest& s, const std::string& before) {
    return sha256(
        fmt::format("{} {} {} {} {} {}", before, s.made_ms, s.last_entry, s.jobs, s.entries, s.jobs_digest));
}

// Jobs, entries and the digest over each job's last entry, of the entries up to that id.
ShopDigest state_at(Sql& sql, long long last_entry) {
    ShopDigest state;
    state.last_entry = last_entry;
    std::string all, digest;
    long long job = 0, sequence = 0;
    soci::statement rows =
        (sql.prepare
             << "select d.job_id, d.sequence, d.digest from entry_digest d join (select job_id, "
                "max(sequence) as newest from entry_digest where entry_id <= :last group by job_id) n "
                "on n.job_id = d.job_id and n.newest = d.sequence order by d.job_id",
         soci::use(last_entry), soci::into(job), soci::into(sequence), soci::into(digest));
    rows.execute();
    while (rows.fetch()) {
        ++state.jobs;
        state.entries += sequence;
        all += fmt::format("{} {} {}\n", job, sequence, digest);
    }
    state.jobs_digest = sha256(all);
    return state;
}

std::vector<ShopDigest> all_digests(Sql& sql) {
    ShopDigest s;
    soci::statement rows =
        (sql.prepare << "select id, made_ms, last_entry, jobs, entries, jobs_digest, digest from shop_digest "
                        "order by id",
         soci::into(s.id), soci::into(s.made_ms), soci::into(s.last_entry), soci::into(s.jobs),
         soci::into(s.entries), soci::into(s.jobs_digest), soci::into(s.digest));
    std::vector<ShopDigest> all;
    rows.execute();
    while (rows.fetch()) all.push_back(s);
    return all;
}

}  // namespace

std::optional<ShopDigest> newest_shop_digest(Sql& sql) {
    ShopDigest s;
    sql << "select id, made_ms, last_entry, jobs, entries, jobs_digest, digest from shop_digest order by id "
           "desc limit 1",
        soci::into(s.id), soci::into(s.made_ms), soci::into(s.last_entry), soci::into(s.jobs),
        soci::into(s.entries), soci::into(s.jobs_digest), soci::into(s.digest);
    return sql.got_data() ? std::optional(s) : std::nullopt;
}

void chain_shop(Sql& sql) {
    long long last_entry = 0;
    sql << "select coalesce(max(id), 0) from entry", soci::into(last_entry);
    const auto before = newest_shop_digest(sql);
    if (last_entry == (before ? before->last_entry : 0)) return;
    ShopDigest s = state_at(sql, last_entry);
    s.made_ms = now_ms();
    s.digest = digest_of_shop(s, before ? before->digest : no_entry_before);
    sql << "insert into shop_digest (made_ms, last_entry, jobs, entries, jobs_digest, digest) values (:made, "
           ":last, :jobs, :entries, :all, :digest)",
        soci::use(s.made_ms), soci::use(s.last_entry), soci::use(s.jobs), soci::use(s.entries),
        soci::use(s.jobs_digest), soci::use(s.digest);
}

std::vector<std::string> damage_of_shop_chain(Sql& sql) {
    std::vector<std::string> out;
    const auto all = all_digests(sql);
    std::string before = no_entry_before;
    for (const ShopDigest& s : all) {
        if (digest_of_shop(s, before) != s.digest)
            out.push_back(
                fmt::format("the shop's digest of {} is not as it was stored", iso_time(s.made_ms)));
        before = s.digest;
    }
    if (all.empty()) return out;
    const ShopDigest& newest = all.back();
    const ShopDigest now = state_at(sql, newest.last_entry);
    if (now.jobs_digest != newest.jobs_digest)
        out.push_back(
            fmt::format("the shop's jobs of {} ({} jobs, {} entries) are no longer what they were ({} "
                        "jobs, {} entries of them are there)",
                        iso_time(newest.made_ms), newest.jobs, newest.entries, now.jobs, now.entries));
    return out;
}

}  // namespace seatwright::store
