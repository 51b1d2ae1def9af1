// Heads as they were located, kept between runs: while readings come in head after head, those of before are
// not fitted again.
#pragma once

#include <atomic>
#include <memory>
#include <optional>
#include <vector>

#include "seatwright/base/cache.hpp"
#include "seatwright/base/fingerprint.hpp"
#include "seatwright/find/find.hpp"
#include "seatwright/find/learner.hpp"
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
class HeadCache {
  public:
    template <class Make>
    std::shared_ptr<const Located> get(const Fingerprint& given, Make&& make) {
        return kept_.get(given, [&] {
            ++worked_out_;
            return make();
        });
    }
    // How many heads it did not know.
    std::size_t worked_out() const { return worked_out_; }

  private:
    // Some kilobytes each.
    Cache<Fingerprint, const Located> kept_{8192};
    std::atomic<std::size_t> worked_out_ = 0;
};

struct Before {
    HeadCache& heads;
    // Of all that is read but touches and guides.
    Fingerprint beside;
};

}  // namespace seatwright::find
