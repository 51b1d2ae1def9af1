#include "desk.hpp"

#include "seatwright/store/entries.hpp"
#include "seatwright/store/merge.hpp"

namespace seatwright::server {

Desk::Key Desk::key_of(long long job) {
    return database_.read([&](store::Sql& sql) {
        long long version = 0, sequence = 0, shelf = 0;
        sql << "select version, sequence from job where id = :id", soci::use(job), soci::into(version),
            soci::into(sequence);
        if (!sql.got_data()) throw halt(404, "there is no such job");
        sql << "select coalesce(max(version), 0) from shelf_version", soci::into(shelf);
        return Key{job, version, sequence, shelf};
    });
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
    source->entries = store::Entries(database_).list(job);
    // Entries that came in since the key was made belong to the next state.
    while (!source->entries.empty() && source->entries.back().sequence > sequence) source->entries.pop_back();
    source->resolution = store::resolve(source->entries);
    auto document = read_with_shop(source->version.text, source->shop_text);
    if (document) {
        source->units = document->units;
        source->document = std::make_shared<const job::Job>(std::move(*document));
    } else {
        source->faults = std::move(document.error());
    }
    source->readings = store::readings_toml(source->entries, source->resolution, source->units);
    return source;
}

std::shared_ptr<const Source> Desk::source(long long job) {
    const Key key = key_of(job);
    return sources_.get(key, [&] { return load(key); });
}

std::shared_ptr<Computation> Desk::computation(const std::shared_ptr<const Source>& source,
                                               const std::string& head) {
    const Key key{source->row.id, source->row.version, source->row.sequence, source->shelf};
    return computations_.get({key, head}, [&] {
        const std::string text = store::merged(source->version.text, source->readings);
        return std::make_shared<Computation>(read_with_shop(text, source->shop_text), head);
    });
}

std::unique_ptr<Computation> Desk::try_out(const Source& source, const std::string& text,
                                           const std::string& head, Overrides overrides) {
    return std::make_unique<Computation>(
        read_with_shop(store::merged(text, source.readings), source.shop_text), head, std::move(overrides));
}

std::unique_ptr<Computation> Desk::try_out(const std::shared_ptr<const Source>& source,
                                           const std::string& head, Overrides overrides) {
    return std::make_unique<Computation>(computation(source, head), std::move(overrides));
}

}  // namespace seatwright::server
