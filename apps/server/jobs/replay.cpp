#include "server/jobs/replay.hpp"

#include <fmt/format.h>

#include "seatwright/store/entries.hpp"
#include "seatwright/store/moment.hpp"
#include "server/http/http_error.hpp"
#include "server/jobs/casting_text.hpp"
#include "server/jobs/finished_heads.hpp"
#include "server/jobs/growing_job.hpp"

namespace seatwright::server {

std::shared_ptr<const StoredJob> replayed(store::Database& database, long long job, long long sequence) {
    store::Jobs jobs(database);
    auto stored = std::make_shared<StoredJob>();
    stored->row = found(jobs.row(job), "job");
    const auto moment = database.read([&](store::Sql& sql) { return store::moment_of(sql, job, sequence); });
    if (!moment)
        throw http_error(404,
                         fmt::format("there is no entry {}: the job has {}", sequence, stored->row.sequence));
    stored->row.version = moment->version;
    stored->row.sequence = sequence;
    stored->version = found(jobs.version(job, moment->version), "version");
    stored->shop_text = stored->version.shop_text
                            ? *stored->version.shop_text
                            : found(store::Shelf(database).version(moment->shelf), "shelf").text;
    stored->read = read_version(*stored, [&](const std::string& name) {
        return database.read([&](store::Sql& sql) { return store::casting_at(sql, name, *moment); });
    });
    if (const auto& read = stored->read->job) {
        stored->units = read->units;
        stored->document = std::shared_ptr<const job::Job>(stored->read, &*read);
    }
    for (store::Entry& entry : store::Entries(database).list(job, 0))
        if (entry.sequence <= sequence) stored->entries.push_back(std::move(entry));
    for (std::size_t i = 0; i < stored->entries.size(); ++i)
        if (!store::is_reading(std::as_const(stored->entries)[i].kind)) stored->words.push_back(i);
    stored->resolution = store::RunningResolution().take(std::as_const(stored->entries));
    stored->job = GrowingJob().take(*stored);
    if (stored->job.job) stored->heads_finished = FinishedHeads().take(*stored->job.job);
    return stored;
}

}  // namespace seatwright::server
