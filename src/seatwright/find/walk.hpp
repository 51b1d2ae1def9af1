// The heads located one after the other, each with what those before it taught, kept so that the next run
// goes on where its readings differ: the head in hand costs itself, an old one what the heads after it cost.
#pragma once

#include <memory>
#include <mutex>
#include <optional>
#include <vector>

#include "seatwright/find/find.hpp"
#include "seatwright/find/learner.hpp"
#include "seatwright/find/record.hpp"
#include "seatwright/job/doubts.hpp"

namespace seatwright::find {

// All that a head's readings give, before the next head learns of it.
struct Located {
    struct Setup {
        std::vector<HeldBack> held;
        std::optional<job::Doubt> doubt;
        Notices notices;
        Contribution contribution;
    };
    FoundHead head;
    std::vector<Setup> setups;
    Notices of_labels;
};

// Thread-safe.
class Walk {
  public:
    Walk();
    ~Walk();
    // What locate() gives, the same bits as a fresh walk's. Jobs, and setups of the hold, that differ in
    // touches and guides alone.
    Find go(const job::Job& job, const hold::Hold& hold, const Before* before);
    // What a casting keeps of the heads of this job.
    std::vector<job::PastHead> heads_that_taught(const job::Job& job, const hold::Hold& hold);

  private:
    struct Marks;
    struct Step;
    Find gone(const job::Job& job, const hold::Hold& hold, const Before* before);
    void forget();
    void take_back();
    void take_in(const std::shared_ptr<const Located>& located);
    std::vector<std::size_t> note_alike(const FoundHead& head);
    void say_guides(const job::Job& job);
    std::optional<BlindRun> blind_run_after(const job::Job& job, const hold::Hold& hold, const Find& found);

    std::mutex mutex_;
    Record record_;
    std::optional<Learner> learner_;
    std::vector<std::string> known_from_here_;
    std::vector<Step> steps_;  // heads gone through, the first ones of the record
    Find said_;                // by them, with their places
    std::vector<job::Doubt> doubts_;
    // Setups that look the same in the same ways: the ways, and their ids.
    std::vector<std::pair<Sentence, std::vector<std::string>>> alike_;
    GrowingList<job::GuideBore> guides_;  // looked at
    std::vector<Warning> guide_warnings_;
    std::optional<std::pair<Fingerprint, std::optional<BlindRun>>> blind_;
};

}  // namespace seatwright::find
