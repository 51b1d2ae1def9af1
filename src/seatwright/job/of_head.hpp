// The readings of one head, or of one valve, found without going through all others.
#pragma once

#include <cstddef>
#include <cstdint>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "seatwright/job/readings.hpp"

namespace seatwright::job {

// In the order of their list, which has to stand as long as this is used.
template <class Reading>
class OfHead {
  public:
    class const_iterator {  // NOLINT(readability-identifier-naming): as containers name it
      public:
        using iterator_category = std::bidirectional_iterator_tag;
        using value_type = Reading;
        using difference_type = std::ptrdiff_t;
        using pointer = const Reading*;
        using reference = const Reading&;

        const_iterator() = default;
        const_iterator(const Reading* all, const std::uint32_t* at) : all_(all), at_(at) {}
        reference operator*() const { return all_[*at_]; }
        pointer operator->() const { return all_ + *at_; }
        const_iterator& operator++() { return ++at_, *this; }
        const_iterator& operator--() { return --at_, *this; }
        const_iterator operator++(int) { return {all_, at_++}; }
        const_iterator operator--(int) { return {all_, at_--}; }
        friend bool operator==(const const_iterator& a, const const_iterator& b) = default;

      private:
        const Reading* all_ = nullptr;
        const std::uint32_t* at_ = nullptr;
    };
    using iterator = const_iterator;

    OfHead(const Reading* all, std::vector<std::uint32_t> places) : all_(all), places_(std::move(places)) {}
    bool empty() const { return places_.empty(); }
    std::size_t size() const { return places_.size(); }
    const_iterator begin() const { return {all_, places_.data()}; }
    const_iterator end() const { return {all_, places_.data() + places_.size()}; }
    // Where they stand in the list.
    const std::vector<std::uint32_t>& places() const& { return places_; }
    std::vector<std::uint32_t> places() && { return std::move(places_); }

  private:
    const Reading* all_;
    std::vector<std::uint32_t> places_;
};

// The last few lists asked about are remembered: where one has grown, what is new alone is looked at.
// Thread-safe.
template <class Reading>
OfHead<Reading> of_head(const GrowingList<Reading>& all, const std::string& head);
// Of a list that goes at once there would be nothing to look at.
template <class Reading>
OfHead<Reading> of_head(GrowingList<Reading>&& all, const std::string& head) = delete;

}  // namespace seatwright::job
