// Between the store and the stages: what is stored, as something computed, kept while nothing changes.
#pragma once

#include <atomic>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <tuple>

#include "seatwright/base/cache.hpp"
#include "seatwright/store/database.hpp"
#include "server/jobs/computation.hpp"
#include "server/jobs/finished_heads.hpp"
#include "server/jobs/growing_job.hpp"
#include "server/jobs/state_asked.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

class JobCache {
  public:
    explicit JobCache(store::Database& database) : database_(database) {}

    // The job as it stands now. Throws HttpError 404.
    std::shared_ptr<const StoredJob> stored(long long job);
    // The stages for it; `head` empty = the stages' own choice; `selection`: which seats programs are for.
    std::shared_ptr<Computation> computation(const std::shared_ptr<const StoredJob>& stored,
                                             const std::string& head, const job::Selection& selection = {});
    // A small text made of a job's state, kept much longer than the state itself: its card on the Bench.
    template <class Make>
    std::string card(long long job, const std::string& name, Make&& make) {
        return *cards_.get({key_of(job), name}, [&] { return std::make_shared<const std::string>(make()); });
    }
    // What was made of a state under a name, kept while that many others are: a page's state in parts.
    template <class Make>
    std::shared_ptr<const StateParts> parts(const StoredJob& stored, const std::string& name, Make&& make) {
        return parts_.get({key_of(stored), name}, make);
    }
    void forget_parts(const StoredJob& stored, const std::string& name) {
        parts_.forget({key_of(stored), name});
    }
    // The same if it is known; `key` as answers/job_state names a state.
    std::shared_ptr<const StateParts> known_parts(long long job, const std::string& key,
                                                  const std::string& name);
    // Whether the state as it stands now was made into parts under that name, and is still known.
    bool knows(long long job, const std::string& name) {
        return parts_.known({key_of(job), name}) != nullptr;
    }
    // Which states of a job pages asked for lately, the latest last.
    void note_asked(long long job, const StateAsked& asked);
    std::vector<StateAsked> asked_last(long long job);
    // Another text for the same job (without readings: they are added), not kept.
    std::unique_ptr<Computation> try_out(const StoredJob& stored, const std::string& text,
                                         const std::string& head, plan::Overrides overrides);

    // The job as it is, with what a drag changes in its results; not kept.
    std::unique_ptr<Computation> try_out(const std::shared_ptr<const StoredJob>& stored,
                                         const std::string& head, plan::Overrides overrides);

    // A job's state: the same key is the same answer.
    using Key =
        std::tuple<long long, long long, long long, long long>;  // job, version, sequence, shelf and castings

    // Somebody is called otherwise from now on: what was made with the names of before is made anew.
    void names_changed() { ++named_anew_; }

  private:
    // From what was last read of it, while nothing has been written since.
    Key key_of(long long job);
    Key read_key(long long job);
    static Key key_of(const StoredJob& stored) {
        return {stored.row.id, stored.row.version, stored.row.sequence, stored.shelf};
    }
    // What is kept of a job while entries come in.
    struct InHand {
        std::mutex mutex;
        std::shared_ptr<const StoredJob> newest;
        store::RunningResolution resolution;
        GrowingJob job;
        FinishedHeads finished;
    };
    std::shared_ptr<const StoredJob> load(const Key& key);
    // Kept while entries come in.
    std::shared_ptr<const ReadVersion> read(const Key& key, const StoredJob& stored);
    // Every entry of that state; what is known from before is not read again, for entries never change.
    GrowingList<store::Entry> entries(const InHand& hand, const Key& key);

    static GrowingList<std::size_t> words_of(const InHand& hand, const GrowingList<store::Entry>& entries);

    store::Database& database_;
    struct KnownKey {
        long long writes = 0;  // when it was read
        Key key;
    };
    // The last number of a key: of shelf and castings, and so far above it how often names have changed.
    static constexpr long long names_apart = 1'000'000'000'000;
    static bool same_names(long long a, long long b) { return a / names_apart == b / names_apart; }
    std::atomic<long long> named_anew_{0};
    std::mutex keys_mutex_;
    std::map<long long, KnownKey> keys_;  // of jobs
    // A computation of a 32-valve job with its texts is well under a megabyte.
    Cache<Key, const StoredJob> stored_{64};
    Cache<std::pair<Key, std::string>, Computation> computations_{64};
    Cache<std::pair<Key, std::string>, const std::string> cards_{4096};
    Cache<std::tuple<long long, long long, long long>, const ReadVersion> versions_{64};
    StageCache stages_;
    Cache<long long, InHand> in_hand_{64};
    Cache<std::pair<Key, std::string>, const StateParts> parts_{128};
    std::mutex asked_mutex_;
    std::map<long long, std::vector<StateAsked>> asked_;
};

}  // namespace seatwright::server
