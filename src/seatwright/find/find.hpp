// find: where is every guide, how sure are we, which guide to touch next, will each pilot enter?
//
// Readout coordinates of each setup, relative to its datum guide. Lengths mm, angles rad.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/boxes.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::find {

struct FoundGuide {
    std::size_t valve = 0;  // index into job.head.valves
    Vec2 at = Vec2::Zero();
    Mat2 covariance = Mat2::Zero();
    Vec2 programmed = Vec2::Zero();           // `at` rounded to the readout's resolution
    std::optional<double> enter_probability;  // none when no pilot or mouth is known
    std::optional<double> entry_clearance;    // radius: (mouth − tip of the pilot)/2
    bool touched = false;
    bool suspect = false;
    std::optional<double> innovation2;  // leave-one-out d² of its touch; the largest of several
    bool placed = true;                 // false: nothing says how the setup is turned, so this is a guess
};

enum class Pattern { as_declared, end_for_end, mirrored, mirrored_end_for_end };

struct Square {
    double move = 0;            // span·sin(yaw): how far to shift that post, signed like the yaw
    char post = 'b';            // 'a' or 'b'
    Vec2 shift = Vec2::Zero();  // the way it must go, readout coordinates
    bool worth_it = true;
};

// Which guide an unlabelled touch was given to, and how sure that is.
struct Assignment {
    std::size_t touch = 0;  // index into job.readings.touches
    std::size_t valve = 0;
    std::optional<double> runner_up_odds;  // best against second-best assignment as a whole
};

struct FoundSetup {
    std::string id;
    double yaw = 0, yaw_sd = 0;
    Vec2 offset = Vec2::Zero();
    double chi2 = 0;
    int dof = 0;
    std::optional<double> p_value;
    Pattern pattern = Pattern::as_declared;
    bool pattern_undecidable = false;  // the layout looks the same the other way round
    std::vector<FoundGuide> guides;    // head order
    std::vector<Assignment> assignments;
    std::optional<Square> square;
    std::optional<double> least_enter_probability;
    std::optional<std::size_t> next_touch;  // index into job.head.valves
    std::optional<int> touches_to_target;   // none when no number of touches reaches it
    bool yaw_known = true;                  // false: no yaw prior and fewer than two guides touched
    bool datum_assumed = false;             // nothing touched: the datum guide is taken as zeroed
    std::vector<std::size_t> set_aside;     // suspect touches, indices into job.readings.touches
    std::size_t learned_from = 0;  // heads whose learned pattern was the prior; 0 = the declared pattern
    Sentence alike;                // other ways round this layout looks the same, in words
};

struct PilotChoice {
    std::size_t valve = 0;
    std::optional<std::size_t> pilot;  // index into job.pilots
    std::optional<double> play;        // radius, at the seat
    bool repair = false;
    Sentence reason;
    std::optional<double> lock_depth;  // below the guide top, where a tapered pilot locks
};

struct FoundHead {
    std::string head;
    std::vector<FoundSetup> setups;
    std::vector<PilotChoice> pilots;  // with this head's own guide readings, head order
};

// The next head without any touch. Copies share what is worked out late; thread-safe.
class BlindRun {
  public:
    struct OfHead {
        double enter_probability = 0;                // every pilot of the head enters
        std::optional<double> clearance_for_target;  // post clearance that would make the head 99.9 %
        std::optional<double> mouth_for_target;      // or guide mouth
    };
    BlindRun(double least, std::function<OfHead()> work)
        : least_enter_probability(least), late_(std::make_shared<Late>(std::move(work))) {}

    double least_enter_probability;  // of its guides
    // Integrals over where the head may lie, tens of milliseconds: worked out when it is first asked for.
    const OfHead& of_head() const {
        std::call_once(late_->once, [this] {
            late_->of_head = late_->work();
            late_->work = nullptr;
        });
        return late_->of_head;
    }

  private:
    struct Late {
        explicit Late(std::function<OfHead()> how) : work(std::move(how)) {}
        std::once_flag once;
        std::function<OfHead()> work;
        OfHead of_head;
    };
    std::shared_ptr<Late> late_;
};

struct Learned {
    std::size_t valve = 0;
    Vec2 mean = Vec2::Zero();
    Vec2 sd_of_mean = Vec2::Zero();
    double scatter = 0;  // per axis
    double dof = 0;
};

// Of the guides' deviations from the drawing: what every head shows alike, and what each casting adds (with
// the touch error), as standard deviations per axis; one-way analysis of variance over the guides.
struct Repeatability {
    std::string setup;
    double alike = 0, own = 0;
    std::size_t heads = 0;
};

struct Find : Notices {
    Boxes<FoundHead> heads;
    std::optional<BlindRun> blind_run;
    std::vector<PilotChoice> pilots;  // head order, one a valve, by the last head whose guide was read
    std::vector<Learned> learned;
    std::vector<Repeatability> repeatability;  // of each setup something was learned of
};

struct Before;  // head_cache.hpp

// The whole stage. Pure; every head with touches on record ("1", or the first on record, when none has).
// Yaw is positive from the readout's +X towards its +Y; with both machine signs +1 that is counter-clockwise
// seen from above, with one of them −1 it is clockwise. Accuracy: positions to rounding, enter probabilities
// 1e-9, the joint blind-run probability 1e-4. Cost: docs/find.md, Measured.
// `before`: heads located in other runs, those still as they were are taken from there; the same bits
// without.
Find locate(const job::Job& job, const hold::Hold& hold, const Before* before = nullptr);

// The heads that taught, as a casting's file keeps them: those of job.find.past, then the job's own; heads
// that do not belong are left out. Works all heads out.
std::vector<job::PastHead> heads_that_taught(const job::Job& job, const hold::Hold& hold);

}  // namespace seatwright::find
