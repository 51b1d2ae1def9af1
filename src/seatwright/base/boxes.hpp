// A list of things each in a box of its own that never changes: a copy of the list shares them.
#pragma once

#include <cstddef>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <utility>
#include <vector>

namespace seatwright {

template <class T>
class Boxes {
  public:
    using Box = std::shared_ptr<const T>;  // never null
    using value_type = T;

    class const_iterator {  // NOLINT(readability-identifier-naming): as containers name it
      public:
        using iterator_category = std::random_access_iterator_tag;
        using value_type = T;
        using difference_type = std::ptrdiff_t;
        using pointer = const T*;
        using reference = const T&;

        const_iterator() = default;
        explicit const_iterator(const Box* at) : at_(at) {}
        reference operator*() const { return **at_; }
        pointer operator->() const { return at_->get(); }
        reference operator[](difference_type n) const { return *at_[n]; }
        const_iterator& operator+=(difference_type n) { return at_ += n, *this; }
        const_iterator& operator-=(difference_type n) { return at_ -= n, *this; }
        const_iterator& operator++() { return *this += 1; }
        const_iterator& operator--() { return *this -= 1; }
        const_iterator operator++(int) { return const_iterator(at_++); }
        const_iterator operator--(int) { return const_iterator(at_--); }
        friend const_iterator operator+(const_iterator a, difference_type n) { return a += n; }
        friend const_iterator operator+(difference_type n, const_iterator a) { return a += n; }
        friend const_iterator operator-(const_iterator a, difference_type n) { return a -= n; }
        friend difference_type operator-(const_iterator a, const_iterator b) { return a.at_ - b.at_; }
        friend auto operator<=>(const_iterator a, const_iterator b) = default;

      private:
        const Box* at_ = nullptr;
    };
    using iterator = const_iterator;

    std::size_t size() const { return boxes_.size(); }
    bool empty() const { return boxes_.empty(); }
    const T& operator[](std::size_t place) const { return *boxes_[place]; }
    const T& at(std::size_t place) const { return *boxes_.at(place); }
    const T& front() const { return *boxes_.front(); }
    const T& back() const { return *boxes_.back(); }
    const_iterator begin() const { return const_iterator(boxes_.data()); }
    const_iterator end() const { return const_iterator(boxes_.data() + boxes_.size()); }
    const Box& box(std::size_t place) const { return boxes_.at(place); }

    void push_back(T one) { boxes_.push_back(std::make_shared<const T>(std::move(one))); }
    void push_box(Box one) { boxes_.push_back(std::move(one)); }
    void reserve(std::size_t room) { boxes_.reserve(room); }
    void pop_back() { boxes_.pop_back(); }
    void clear() { boxes_.clear(); }
    template <class Bad>
    friend std::size_t erase_if(Boxes& list, Bad&& bad) {
        return std::erase_if(list.boxes_, [&](const Box& one) { return bad(*one); });
    }

  private:
    std::vector<Box> boxes_;
};

}  // namespace seatwright
