// A stored job as the stages read it, kept while entries come in and its text is changed: a reading costs
// what it is made of, not what all readings before it are, and a change of the text what the text is.
#pragma once

#include <array>
#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

class GrowingJob {
  public:
    // What job_of(stored) gives; `stored` may be any state of one job. Not thread-safe.
    ReadJob take(const StoredJob& stored);

  private:
    struct Slot {
        std::size_t place = 0;             // among the readings of its kind
        std::vector<std::size_t> entries;  // that make it
    };
    static constexpr std::size_t kinds = static_cast<std::size_t>(store::EntryKind::proof) + 1;

    bool grows(const StoredJob& stored) const;
    bool took(const StoredJob& stored, std::size_t entry);
    bool moves(const StoredJob& stored);
    bool has_room_for(const std::string& head);
    std::optional<std::size_t> note_place(const store::Entry& entry, std::size_t index,
                                          std::vector<std::size_t>& with);
    void begin_anew(const StoredJob& stored);

    std::shared_ptr<const ReadVersion> read_;
    GrowingList<store::Entry> entries_;
    GrowingList<store::Standing> standing_;
    ReadJob job_;
    std::array<std::size_t, kinds> read_of_kind_{};
    std::unordered_map<std::string, Slot> slots_;  // by place, of readings several entries make
    std::unordered_map<std::string, std::string>
        in_file_names_;  // a head's name as files have it, and the head
};

}  // namespace seatwright::server
