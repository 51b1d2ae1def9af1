#include "server/jobs/growing_job.hpp"

#include "seatwright/job/file_names.hpp"
#include "seatwright/job/with_reading.hpp"
#include "seatwright/store/given_readings.hpp"

namespace seatwright::server {

namespace {

// So many at once are read with all the others.
constexpr std::size_t most_one_by_one = 32;

bool makes_reading(const StoredJob& stored, std::size_t entry) {
    return store::is_reading(stored.entries[entry].kind) && !stored.resolution.standing[entry].used.empty();
}

// The table those entries make together.
std::vector<store::ReadingTable> tables_of_readings(const StoredJob& stored,
                                                    const std::vector<std::size_t>& which) {
    std::vector<store::Entry> entries;
    entries.reserve(which.size());
    store::Resolution resolution;
    for (const std::size_t i : which) {
        entries.push_back(stored.entries[i]);
        resolution.standing.push_back(stored.resolution.standing[i]);
    }
    return store::reading_tables(entries, resolution, stored.units);
}

}  // namespace

bool GrowingJob::grows(const StoredJob& stored) const {
    return job_.job != nullptr && stored.read == read_ && stored.entries.grown_from(entries_) &&
           stored.resolution.standing.grown_from(standing_) &&
           stored.entries.size() - entries_.size() <= most_one_by_one &&
           !job::has_readings(stored.document->readings);
}

// The same readings beside another text.
bool GrowingJob::moves(const StoredJob& stored) {
    if (job_.job == nullptr || !read_->job || !stored.read->job || stored.entries.size() != entries_.size() ||
        !stored.entries.grown_from(entries_) || !stored.resolution.standing.grown_from(standing_))
        return false;
    auto moved = job::with_readings_of(*job_.job, *read_->job, *stored.read->job);
    if (!moved) return false;
    job_.job = std::make_shared<const job::Job>(std::move(*moved));
    return true;
}

bool GrowingJob::has_room_for(const std::string& head) {
    const auto [at, fresh] = in_file_names_.try_emplace(job::without_case(job::in_file_names(head)), head);
    return (fresh || at->second == head) && in_file_names_.size() <= job::max_heads;
}

// Which reading of its kind an entry takes the place of, none if it makes one of its own; `with`: the entries
// that make it.
std::optional<std::size_t> GrowingJob::note_place(const store::Entry& entry, std::size_t index,
                                                  std::vector<std::size_t>& with) {
    std::size_t& read = read_of_kind_[static_cast<std::size_t>(entry.kind)];
    with = {index};
    if (store::makes_own_table(entry)) {
        ++read;
        return std::nullopt;
    }
    const auto [at, fresh] = slots_.try_emplace(store::place_of(entry), Slot{read, {}});
    at->second.entries.push_back(index);
    with = at->second.entries;
    if (!fresh) return at->second.place;
    ++read;
    return std::nullopt;
}

bool GrowingJob::took(const StoredJob& stored, std::size_t index) {
    if (!makes_reading(stored, index)) return true;
    const store::Entry& entry = stored.entries[index];
    if (!has_room_for(entry.head)) return false;
    std::vector<std::size_t> with;
    const auto place = note_place(entry, index, with);
    auto next = job::with_reading(
        *job_.job, store::given_readings(tables_of_readings(stored, with), stored.units, job_file_name),
        place);
    if (!next) return false;
    job_.job = std::make_shared<const job::Job>(std::move(*next));
    return true;
}

void GrowingJob::begin_anew(const StoredJob& stored) {
    job_ = {};
    read_of_kind_ = {};
    slots_.clear();
    in_file_names_.clear();
    auto job = job_of(stored);
    if (!job) {
        job_.faults = std::move(job.error());
        return;
    }
    job_.job = std::make_shared<const job::Job>(std::move(*job));
    std::vector<std::size_t> with;
    for (std::size_t i = 0; i < stored.entries.size(); ++i)
        if (makes_reading(stored, i)) {
            note_place(stored.entries[i], i, with);
            has_room_for(stored.entries[i].head);
        }
}

ReadJob GrowingJob::take(const StoredJob& stored) {
    bool grown = grows(stored);
    for (std::size_t i = entries_.size(); grown && i < stored.entries.size(); ++i) grown = took(stored, i);
    if (!grown && !moves(stored)) begin_anew(stored);
    read_ = stored.read;
    entries_ = stored.entries;
    standing_ = stored.resolution.standing;
    return job_;
}

}  // namespace seatwright::server
