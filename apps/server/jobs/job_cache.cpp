#include "server/jobs/job_cache.hpp"

#include <algorithm>
#include <iterator>

#include "seatwright/job/text.hpp"
#include "seatwright/store/entries.hpp"
#include "server/jobs/selection.hpp"

namespace seatwright::server {

JobCache::Key JobCache::key_of(long long job) {
    return database_.read([&](store::Sql& sql) {
        long long version = 0, sequence = 0, shelf = 0;
        sql << "select version, sequence, (select coalesce(max(version), 0) from shelf_version) from job "
               "where id = :id",
            soci::use(job), soci::into(version), soci::into(sequence), soci::into(shelf);
        if (!sql.got_data()) throw http_error(404, "there is no such job");
        return Key{job, version, sequence, shelf};
    });
}

std::shared_ptr<const ReadVersion> JobCache::read(const Key& key, const StoredJob& stored) {
    const auto [job, version, sequence, shelf] = key;
    return versions_.get({job, version, shelf}, [&] {
        const auto text = job::read_text(stored.version.text);
        return std::make_shared<const ReadVersion>(
            ReadVersion{text, job::read_job(text, job_file_name, fetch_of(stored.shop_text))});
    });
}

std::vector<store::Entry> JobCache::entries(long long job, long long sequence) {
    std::shared_ptr<const StoredJob> before;
    {
        const std::lock_guard<std::mutex> lock(newest_mutex_);
        before = newest_[job].lock();
    }
    std::vector<store::Entry> all;
    if (before && before->row.sequence <= sequence) all = before->entries;
    auto more = store::Entries(database_).list(job, all.empty() ? 0 : all.back().sequence);
    // Entries that came in since the key was made belong to the next state.
    while (!more.empty() && more.back().sequence > sequence) more.pop_back();
    std::move(more.begin(), more.end(), std::back_inserter(all));
    return all;
}

std::shared_ptr<const StoredJob> JobCache::load(const Key& key) {
    const auto [job, version, sequence, shelf] = key;
    store::Jobs jobs(database_);
    auto stored = std::make_shared<StoredJob>();
    stored->row = found(jobs.row(job), "job");
    stored->row.version = version;
    stored->row.sequence = sequence;
    stored->version = found(jobs.version(job, version), "version");
    stored->shelf = shelf;
    stored->shop_text =
        stored->version.shop_text ? *stored->version.shop_text : store::Shelf(database_).current().text;
    stored->entries = entries(job, sequence);
    stored->resolution = store::resolve(stored->entries);
    stored->read = read(key, *stored);
    if (const auto& job_read = stored->read->job) {
        stored->units = job_read->units;
        stored->document = std::shared_ptr<const job::Job>(stored->read, &*job_read);
    } else {
        stored->faults = job_read.error();
    }
    const std::lock_guard<std::mutex> lock(newest_mutex_);
    newest_[job] = stored;
    return stored;
}

std::shared_ptr<const StoredJob> JobCache::stored(long long job) {
    const Key key = key_of(job);
    return stored_.get(key, [&] { return load(key); });
}

std::shared_ptr<Computation> JobCache::computation(const std::shared_ptr<const StoredJob>& stored,
                                                   const std::string& head, const job::Selection& selection) {
    const Key key{stored->row.id, stored->row.version, stored->row.sequence, stored->shelf};
    const std::pair name{key, head + part_key(selection)};
    const auto made = [&] {
        return computations_.get(
            name, [&] { return std::make_shared<Computation>(job_of(*stored), head, &stages_, selection); });
    };
    auto computation = made();
    if (!computation->failed()) return computation;
    computations_.forget(name);
    return made();
}

std::unique_ptr<Computation> JobCache::try_out(const StoredJob& stored, const std::string& text,
                                               const std::string& head, plan::Overrides overrides) {
    const Computation edited(job_of(stored, text), head, &stages_);
    return std::make_unique<Computation>(edited, std::move(overrides));
}

std::unique_ptr<Computation> JobCache::try_out(const std::shared_ptr<const StoredJob>& stored,
                                               const std::string& head, plan::Overrides overrides) {
    return std::make_unique<Computation>(*computation(stored, head), std::move(overrides));
}

}  // namespace seatwright::server
