// The values of a costly pure function, each computed once in a process. Thread-safe.
#pragma once

#include <map>
#include <mutex>

namespace seatwright {

// For arguments of which few different ones come up; of more than `most` all are forgotten and computed
// again.
template <class Arguments, class Value>
class Remembered {
  public:
    explicit Remembered(std::size_t most) : most_(most) {}

    // `compute()` is the function at these arguments. Two threads may both compute what is new: same value.
    template <class Compute>
    Value of(const Arguments& arguments, Compute&& compute) {
        {
            const std::lock_guard<std::mutex> lock(mutex_);
            if (const auto at = values_.find(arguments); at != values_.end()) return at->second;
        }
        const Value value = compute();
        const std::lock_guard<std::mutex> lock(mutex_);
        if (values_.size() >= most_) values_.clear();
        values_.emplace(arguments, value);
        return value;
    }

  private:
    std::size_t most_;
    std::mutex mutex_;
    std::map<Arguments, Value> values_;
};

}  // namespace seatwright
