// A list that grows at its end: a copy costs nothing and shares what it holds, and what is put behind one
// copy is not seen by the others. It reads like a std::vector, its things side by side in memory.
//
// One more costs O(1), however many copies there are; any other change copies a list that is shared once, so
// that nobody else sees it. Copies may be read, and grown, by several threads; one object may not be changed
// while another thread uses it, as with any container.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <initializer_list>
#include <iterator>
#include <memory>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

namespace seatwright {

template <class T>
class GrowingList {
  public:
    using value_type = T;
    using size_type = std::size_t;
    using difference_type = std::ptrdiff_t;
    using reference = T&;
    using const_reference = const T&;
    using iterator = T*;
    using const_iterator = const T*;
    using reverse_iterator = std::reverse_iterator<iterator>;
    using const_reverse_iterator = std::reverse_iterator<const_iterator>;

    GrowingList() = default;
    GrowingList(std::initializer_list<T> things) { take(things.begin(), things.end(), things.size()); }
    GrowingList(std::vector<T> things) {  // as a vector is taken anywhere
        take(std::make_move_iterator(things.begin()), std::make_move_iterator(things.end()), things.size());
    }
    GrowingList& operator=(std::initializer_list<T> things) { return *this = GrowingList(things); }

    std::size_t size() const { return size_; }
    bool empty() const { return size_ == 0; }
    const T* data() const { return store_ ? store_->things : nullptr; }
    const T* begin() const { return data(); }
    const T* end() const { return data() + size_; }
    const T& operator[](std::size_t place) const { return data()[place]; }
    const T& at(std::size_t place) const { return data()[checked(place)]; }
    const T& front() const { return data()[checked(0)]; }
    const T& back() const { return data()[checked(size_ - 1)]; }
    auto rbegin() const { return const_reverse_iterator(end()); }
    auto rend() const { return const_reverse_iterator(begin()); }

    T* begin() { return own(); }
    T* end() { return own() + size_; }
    T& operator[](std::size_t place) { return own()[place]; }
    T& at(std::size_t place) { return own()[checked(place)]; }
    T& front() { return own()[checked(0)]; }
    T& back() { return own()[checked(size_ - 1)]; }
    auto rbegin() { return reverse_iterator(end()); }
    auto rend() { return reverse_iterator(begin()); }

    void push_back(T one) { emplace_back(std::move(one)); }
    template <class... From>
    T& emplace_back(From&&... from) {
        if (!store_ || size_ == store_->room || !store_->claim(size_)) {
            T one(std::forward<From>(from)...);  // may be one of these
            // The first of its copies to need more room goes on with the line.
            const bool full = store_ && size_ == store_->room && !store_->left.exchange(true);
            const auto line = full ? store_->line : nullptr;
            move_to(std::max<std::size_t>(least_room, 2 * size_));
            if (line) store_->line = line;
            store_->claim(size_);
            new (store_->things + size_) T(std::move(one));
        } else {
            new (store_->things + size_) T(std::forward<From>(from)...);
        }
        store_->made(size_);
        return store_->things[size_++];
    }
    void pop_back() { resize(checked(size_ - 1)); }
    void clear() { *this = {}; }
    void resize(std::size_t size) {
        while (size_ < size) emplace_back();
        size_ = size;
        if (size_ == 0) store_.reset();
    }
    void reserve(std::size_t room) {
        if (!store_ || store_->room < room) move_to(std::max(room, size_));
    }
    T* erase(const T* first, const T* last) {
        const auto from = first - data(), to = last - data();
        T* const things = own();
        std::move(things + to, things + size_, things + from);
        resize(size_ - static_cast<std::size_t>(to - from));
        return begin() + from;
    }
    T* erase(const T* one) { return erase(one, one + 1); }
    template <class Bad>
    friend std::size_t erase_if(GrowingList& list, Bad&& bad) {
        const std::size_t before = list.size();
        list.erase(std::remove_if(list.begin(), list.end(), bad), list.end());
        return before - list.size();
    }

    // Whether this is `earlier` with nothing or something put behind it, as far as that is known without
    // looking at the things: true is certain.
    bool grown_from(const GrowingList& earlier) const {
        return earlier.empty() || (store_ && store_->line == earlier.store_->line && size_ >= earlier.size_);
    }

    // What make(first, last, before) notes of the last whole run of `run_length` things, with its note of all
    // runs before (null: none), and the place behind that run; nothing and 0 where there is none. Notes are
    // kept with the things for all copies (one type of note a list).
    static constexpr std::size_t run_length = 64;
    template <class Note, class Make>
    std::pair<std::optional<Note>, std::size_t> noted(const Make& make) const {
        const std::size_t whole = size_ / run_length;
        if (whole == 0) return {std::nullopt, 0};
        Line& line = *store_->line;
        const std::lock_guard<std::mutex> lock(line.mutex);
        auto kept = std::static_pointer_cast<std::vector<Note>>(line.notes);
        if (!kept) line.notes = kept = std::make_shared<std::vector<Note>>();
        while (kept->size() < whole) {
            const T* const from = data() + kept->size() * run_length;
            const Note* const before = kept->empty() ? nullptr : &kept->back();
            kept->push_back(make(from, from + run_length, before));
        }
        return {(*kept)[whole - 1], whole * run_length};
    }

    friend bool operator==(const GrowingList& a, const GrowingList& b) {
        return std::equal(a.begin(), a.end(), b.begin(), b.end());
    }

  private:
    static constexpr std::size_t least_room = 4;
    static_assert(alignof(T) <= __STDCPP_DEFAULT_NEW_ALIGNMENT__);

    // Lists of one line hold the same things as far as both reach, in whatever store.
    struct Line {
        std::mutex mutex;
        std::shared_ptr<void> notes;
    };

    // The things of one or several lists; those behind the longest are not there.
    struct Store {
        explicit Store(std::size_t most)
            : room(most), things(static_cast<T*>(::operator new(most * sizeof(T)))) {}
        Store(const Store&) = delete;
        Store& operator=(const Store&) = delete;
        ~Store() {
            std::destroy(things, things + there);
            ::operator delete(things);
        }
        // The place behind `size` things, if no other list has put something there.
        bool claim(std::size_t size) { return claimed.compare_exchange_strong(size, size + 1); }
        void made(std::size_t place) { there = place + 1; }

        std::size_t room;
        T* things;
        std::atomic<std::size_t> claimed{0};
        std::atomic<std::size_t> there{0};  // to be destroyed
        std::atomic<bool> left{false};      // its line goes on in a larger store
        std::shared_ptr<Line> line = std::make_shared<Line>();
    };

    std::size_t checked(std::size_t place) const {
        if (place >= size_) throw std::out_of_range("a place behind the end of a list");
        return place;
    }
    template <class From>
    void take(From from, From to, std::size_t size) {
        if (size == 0) return;
        store_ = std::make_shared<Store>(size);
        for (; from != to; ++from) {
            new (store_->things + size_) T(*from);
            store_->made(size_++);
            store_->claimed = size_;
        }
    }
    void move_to(std::size_t room) {
        GrowingList moved;
        moved.store_ = std::make_shared<Store>(room);
        const bool alone = store_ && store_.use_count() == 1;
        for (; moved.size_ < size_; ++moved.size_) {
            T& one = store_->things[moved.size_];
            if (alone)
                new (moved.store_->things + moved.size_) T(std::move(one));
            else
                new (moved.store_->things + moved.size_) T(std::as_const(one));
            moved.store_->made(moved.size_);
            moved.store_->claimed = moved.size_ + 1;
        }
        *this = std::move(moved);
    }
    // The things, nobody else's: they may be changed.
    T* own() {
        if (!store_) return nullptr;
        if (store_.use_count() != 1)
            move_to(size_);
        else if (store_->there > size_) {
            std::destroy(store_->things + size_, store_->things + store_->there);
            store_->there = store_->claimed = size_;
        }
        if (store_->line.use_count() == 1)
            store_->line->notes.reset();
        else
            store_->line = std::make_shared<Line>();
        return store_->things;
    }

    std::shared_ptr<Store> store_;
    std::size_t size_ = 0;
};

}  // namespace seatwright
