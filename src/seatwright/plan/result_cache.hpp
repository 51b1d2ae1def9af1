// Results kept between runs, each under the fingerprint of what its step was given.
#pragma once

#include <array>

#include "seatwright/base/cache.hpp"
#include "seatwright/find/head_cache.hpp"
#include "seatwright/plan/steps.hpp"
#include "seatwright/prove/measured.hpp"

namespace seatwright::plan {

// Thread-safe. A result is some kilobytes, of a batch of many heads some megabytes: of those few are asked
// for.
class ResultCache {
  public:
    template <class Make>
    Result get(Step step, const Fingerprint& given, Make&& make) {
        return of_step_[static_cast<std::size_t>(step)].get(given, make);
    }
    // For steps that are given something new of one head alone.
    find::HeadCache located;
    std::shared_ptr<prove::Before> proved(const Fingerprint& beside) {
        return proved_.get(beside, [] { return std::make_shared<prove::Before>(); });
    }

  private:
    struct Kept : Cache<Fingerprint, const void> {
        Kept() : Cache(64) {}
    };
    std::array<Kept, step_count> of_step_;
    Cache<Fingerprint, prove::Before> proved_{16};
};

}  // namespace seatwright::plan
