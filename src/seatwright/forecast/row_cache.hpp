// Rows of numbers worked out before, by all that they hang on: a what-if works out anew only what it changes.
// Not base/cache: that keeps so many things of one size for several who ask at once; here one asks, rows are
// from a few numbers to many thousands long, and what is bounded is the numbers in all.
#pragma once

#include <map>
#include <memory>
#include <vector>

namespace seatwright::forecast {

class RowCache {
  public:
    template <class Make>
    std::shared_ptr<const std::vector<double>> of(const std::vector<double>& key, const Make& make) {
        if (const auto found = rows_.find(key); found != rows_.end()) return found->second;
        auto made = std::make_shared<const std::vector<double>>(make());
        if (numbers_ + made->size() > most) {
            rows_.clear();
            numbers_ = 0;
        }
        numbers_ += made->size();
        return rows_[key] = std::move(made);
    }

  private:
    static constexpr std::size_t most = 4'000'000;  // numbers in all
    std::size_t numbers_ = 0;
    std::map<std::vector<double>, std::shared_ptr<const std::vector<double>>> rows_;
};

}  // namespace seatwright::forecast
