// A list whose items never change and may stand in other lists too: copying it copies no item, and an item met
// again is known by its address.
#pragma once

#include <compare>
#include <cstddef>
#include <iterator>
#include <memory>
#include <utility>
#include <vector>

namespace seatwright {

template <class T>
class SharedList {
    using Items = std::vector<std::shared_ptr<const T>>;

  public:
    using value_type = T;

    class const_iterator {
      public:
        using iterator_category = std::random_access_iterator_tag;
        using value_type = T;
        using difference_type = std::ptrdiff_t;
        using pointer = const T*;
        using reference = const T&;
        const_iterator() = default;
        explicit const_iterator(typename Items::const_iterator at) : at_(at) {}
        reference operator*() const { return **at_; }
        pointer operator->() const { return at_->get(); }
        reference operator[](difference_type n) const { return *at_[n]; }
        const_iterator& operator++() { return ++at_, *this; }
        const_iterator& operator--() { return --at_, *this; }
        const_iterator operator++(int) { return const_iterator(at_++); }
        const_iterator operator--(int) { return const_iterator(at_--); }
        const_iterator& operator+=(difference_type n) { return at_ += n, *this; }
        const_iterator& operator-=(difference_type n) { return at_ -= n, *this; }
        friend const_iterator operator+(const_iterator at, difference_type n) { return at += n; }
        friend const_iterator operator+(difference_type n, const_iterator at) { return at += n; }
        friend const_iterator operator-(const_iterator at, difference_type n) { return at -= n; }
        friend difference_type operator-(const const_iterator& a, const const_iterator& b) {
            return a.at_ - b.at_;
        }
        friend bool operator==(const const_iterator& a, const const_iterator& b) { return a.at_ == b.at_; }
        friend auto operator<=>(const const_iterator& a, const const_iterator& b) { return a.at_ <=> b.at_; }

      private:
        typename Items::const_iterator at_;
    };
    using iterator = const_iterator;

    const_iterator begin() const { return const_iterator(items_.begin()); }
    const_iterator end() const { return const_iterator(items_.end()); }
    std::size_t size() const { return items_.size(); }
    bool empty() const { return items_.empty(); }
    const T& operator[](std::size_t i) const { return *items_[i]; }
    const T& at(std::size_t i) const { return *items_.at(i); }
    const T& front() const { return *items_.front(); }
    const T& back() const { return *items_.back(); }
    // The item itself, to be held or put into another list.
    const std::shared_ptr<const T>& shared(std::size_t i) const { return items_.at(i); }

    void reserve(std::size_t items) { items_.reserve(items); }
    void push_back(T item) { items_.push_back(std::make_shared<const T>(std::move(item))); }
    void push_back(std::shared_ptr<const T> item) { items_.push_back(std::move(item)); }
    void clear() { items_.clear(); }
    template <class Predicate>
    friend void erase_if(SharedList& list, Predicate&& out) {
        std::erase_if(list.items_, [&](const std::shared_ptr<const T>& item) { return out(*item); });
    }

  private:
    Items items_;
};

}  // namespace seatwright
