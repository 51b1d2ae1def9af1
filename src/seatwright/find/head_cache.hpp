// Heads as they were located, kept between runs: while readings come in head after head, those of before are
// not fitted again.
#pragma once

#include <atomic>
#include <memory>

#include "seatwright/base/cache.hpp"
#include "seatwright/base/fingerprint.hpp"
#include "seatwright/find/walk.hpp"

namespace seatwright::find {

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
    // The heads as the last run with this beside them went through them.
    std::shared_ptr<Walk> walk(const Fingerprint& beside) {
        return walks_.get(beside, [] { return std::make_shared<Walk>(); });
    }
    // How many heads it did not know.
    std::size_t worked_out() const { return worked_out_; }

  private:
    // Some kilobytes each.
    Cache<Fingerprint, const Located> kept_{8192};
    Cache<Fingerprint, Walk> walks_{16};
    std::atomic<std::size_t> worked_out_ = 0;
};

struct Before {
    HeadCache& heads;
    // Of all that is read but touches and guides.
    Fingerprint beside;
};

}  // namespace seatwright::find
