#include "server/jobs/job_cache.hpp"

#include <sstream>
#include <utility>

#include "seatwright/store/entries.hpp"
#include "seatwright/store/last_digests.hpp"
#include "server/jobs/casting_text.hpp"
#include "server/jobs/selection.hpp"

namespace seatwright::server {

JobCache::Key JobCache::key_of(long long job) {
    // Other servers write to a database server, too.
    if (database_.dialect().is_server) return read_key(job);
    const long long writes = database_.writes();
    {
        const std::lock_guard<std::mutex> lock(keys_mutex_);
        const auto known = keys_.find(job);
        if (known != keys_.end() && known->second.writes == writes &&
            same_names(std::get<3>(known->second.key), named_anew_ * names_apart))
            return known->second.key;
    }
    const Key key = read_key(job);
    const std::lock_guard<std::mutex> lock(keys_mutex_);
    keys_[job] = {writes, key};
    return key;
}

JobCache::Key JobCache::read_key(long long job) {
    return database_.read([&](store::Sql& sql) {
        long long version = 0, sequence = 0, shelf = 0;
        sql << "select version, sequence, (select coalesce(max(version), 0) from shelf_version) + (select "
               "coalesce(sum(version), 0) from casting) from job where id = :id",
            soci::use(job), soci::into(version), soci::into(sequence), soci::into(shelf);
        if (!sql.got_data()) throw http_error(404, "there is no such job");
        return Key{job, version, sequence, shelf + named_anew_ * names_apart};
    });
}

std::shared_ptr<const ReadVersion> JobCache::read(const Key& key, const StoredJob& stored) {
    const auto [job, version, sequence, shelf] = key;
    return versions_.get({job, version, shelf}, [&] { return read_version(stored, castings_of(database_)); });
}

GrowingList<store::Entry> JobCache::entries(const InHand& hand, const Key& key) {
    const auto [job, version, sequence, shelf] = key;
    GrowingList<store::Entry> all;
    if (hand.newest && same_names(hand.newest->shelf, shelf) && hand.newest->row.sequence <= sequence)
        all = hand.newest->entries;
    auto more = store::Entries(database_).list(job, all.empty() ? 0 : std::as_const(all).back().sequence);
    // Entries that came in since the key was made belong to the next state.
    while (!more.empty() && more.back().sequence > sequence) more.pop_back();
    for (store::Entry& entry : more) all.push_back(std::move(entry));
    return all;
}

GrowingList<std::size_t> JobCache::words_of(const InHand& hand, const GrowingList<store::Entry>& entries) {
    GrowingList<std::size_t> words;
    std::size_t known = 0;
    if (hand.newest && entries.grown_from(hand.newest->entries)) {
        words = hand.newest->words;
        known = hand.newest->entries.size();
    }
    for (std::size_t i = known; i < entries.size(); ++i)
        if (!store::is_reading(entries[i].kind)) words.push_back(i);
    return words;
}

std::shared_ptr<const StoredJob> JobCache::load(const Key& key) {
    const auto [job, version, sequence, shelf] = key;
    store::Jobs jobs(database_);
    auto stored = std::make_shared<StoredJob>();
    stored->row = found(jobs.row(job), "job");
    stored->row.version = version;
    stored->row.sequence = sequence;
    const auto hand = in_hand_.get(job, [] { return std::make_shared<InHand>(); });
    const std::lock_guard<std::mutex> lock(hand->mutex);
    stored->shelf = shelf;
    const auto& newest = hand->newest;
    if (newest && newest->row.version == version && newest->shelf == shelf) {
        stored->version = newest->version;
        stored->shop_text = newest->shop_text;
    } else {
        stored->version = found(jobs.version(job, version), "version");
        stored->shop_text =
            stored->version.shop_text ? *stored->version.shop_text : store::Shelf(database_).current().text;
    }
    stored->read = read(key, *stored);
    if (const auto& job_read = stored->read->job) {
        stored->units = job_read->units;
        stored->document = std::shared_ptr<const job::Job>(stored->read, &*job_read);
    }
    stored->entries = entries(*hand, key);
    stored->words = words_of(*hand, stored->entries);
    stored->resolution = hand->resolution.take(std::as_const(stored->entries));
    stored->job = hand->job.take(*stored);
    if (stored->job.job) stored->heads_finished = hand->finished.take(*stored->job.job);
    hand->newest = stored;
    return stored;
}

// What was made of a job before its database was found to be of another day is not handed out, either.
std::shared_ptr<const StoredJob> JobCache::stored(long long job) {
    database_.last().require_whole(job);
    const Key key = key_of(job);
    return stored_.get(key, [&] { return load(key); });
}

std::shared_ptr<Computation> JobCache::computation(const std::shared_ptr<const StoredJob>& stored,
                                                   const std::string& head, const job::Selection& selection) {
    const std::pair name{key_of(*stored), head + part_key(selection)};
    const auto made = [&] {
        return computations_.get(
            name, [&] { return std::make_shared<Computation>(stored->job, head, &stages_, selection); });
    };
    auto computation = made();
    if (!computation->failed()) return computation;
    computations_.forget(name);
    return made();
}

std::shared_ptr<const StateParts> JobCache::known_parts(long long job, const std::string& key,
                                                        const std::string& name) {
    std::istringstream in(key);
    long long version = 0, sequence = 0, shelf = 0;
    char dot = 0;
    if (!(in >> version >> dot >> sequence >> dot >> shelf) || !in.eof()) return nullptr;
    return parts_.known({{job, version, sequence, shelf}, name});
}

void JobCache::note_asked(long long job, const StateAsked& asked) {
    constexpr std::size_t most = 2;
    const std::lock_guard<std::mutex> lock(asked_mutex_);
    auto& all = asked_[job];
    std::erase(all, asked);
    all.push_back(asked);
    if (all.size() > most) all.erase(all.begin());
}

std::vector<StateAsked> JobCache::asked_last(long long job) {
    const std::lock_guard<std::mutex> lock(asked_mutex_);
    const auto at = asked_.find(job);
    return at == asked_.end() ? std::vector<StateAsked>{} : at->second;
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
