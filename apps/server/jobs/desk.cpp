#include "server/jobs/desk.hpp"

#include <algorithm>
#include <iterator>

#include "seatwright/job/text.hpp"
#include "seatwright/store/entries.hpp"
#include "server/jobs/selection.hpp"

namespace seatwright::server {

Desk::Key Desk::key_of(long long job) {
    return database_.read([&](store::Sql& sql) {
        long long version = 0, sequence = 0, shelf = 0;
        sql << "select version, sequence, (select coalesce(max(version), 0) from shelf_version) from job "
               "where id = :id",
            soci::use(job), soci::into(version), soci::into(sequence), soci::into(shelf);
        if (!sql.got_data()) throw halt(404, "there is no such job");
        return Key{job, version, sequence, shelf};
    });
}

std::shared_ptr<const ReadVersion> Desk::read(const Key& key, const Source& source) {
    const auto [job, version, sequence, shelf] = key;
    return versions_.get({job, version, shelf}, [&] {
        const auto text = job::read_text(source.version.text);
        return std::make_shared<const ReadVersion>(
            ReadVersion{text, job::read_job(text, job_file_name, fetch_of(source.shop_text))});
    });
}

std::vector<store::Entry> Desk::entries(long long job, long long sequence) {
    std::shared_ptr<const Source> before;
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

std::shared_ptr<const Source> Desk::load(const Key& key) {
    const auto [job, version, sequence, shelf] = key;
    store::Jobs jobs(database_);
    auto source = std::make_shared<Source>();
    source->row = found(jobs.row(job), "job");
    source->row.version = version;
    source->row.sequence = sequence;
    source->version = found(jobs.version(job, version), "version");
    source->shelf = shelf;
    source->shop_text =
        source->version.shop_text ? *source->version.shop_text : store::Shelf(database_).current().text;
    source->entries = entries(job, sequence);
    source->resolution = store::resolve(source->entries);
    source->read = read(key, *source);
    if (const auto& job_read = source->read->job) {
        source->units = job_read->units;
        source->document = std::shared_ptr<const job::Job>(source->read, &*job_read);
    } else {
        source->faults = job_read.error();
    }
    const std::lock_guard<std::mutex> lock(newest_mutex_);
    newest_[job] = source;
    return source;
}

std::shared_ptr<const Source> Desk::source(long long job) {
    const Key key = key_of(job);
    return sources_.get(key, [&] { return load(key); });
}

std::shared_ptr<Computation> Desk::computation(const std::shared_ptr<const Source>& source,
                                               const std::string& head, const job::Selection& selection) {
    const Key key{source->row.id, source->row.version, source->row.sequence, source->shelf};
    const std::pair name{key, head + part_key(selection)};
    const auto made = [&] {
        return computations_.get(
            name, [&] { return std::make_shared<Computation>(job_of(*source), head, &memory_, selection); });
    };
    auto computation = made();
    if (!computation->failed()) return computation;
    computations_.forget(name);
    return made();
}

std::unique_ptr<Computation> Desk::try_out(const Source& source, const std::string& text,
                                           const std::string& head, plan::Overrides overrides) {
    const Computation edited(job_of(source, text), head, &memory_);
    return std::make_unique<Computation>(edited, std::move(overrides));
}

std::unique_ptr<Computation> Desk::try_out(const std::shared_ptr<const Source>& source,
                                           const std::string& head, plan::Overrides overrides) {
    return std::make_unique<Computation>(*computation(source, head), std::move(overrides));
}

}  // namespace seatwright::server
