// A growing array that never moves what is in it and wastes no more than one block: for trees as large as
// their text, which a vector would hold twice while it grows.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

namespace seatwright::toml {

template <class T>
class Blocks {
  public:
    std::size_t size() const { return size_; }
    T& operator[](std::size_t i) { return blocks_[i / block][i % block]; }
    const T& operator[](std::size_t i) const { return blocks_[i / block][i % block]; }

    void push_back(const T& value) {
        if (size_ % block == 0) blocks_.push_back(std::make_unique_for_overwrite<T[]>(block));
        blocks_.back()[size_ % block] = value;
        ++size_;
    }

  private:
    static constexpr std::size_t block = 256;
    std::vector<std::unique_ptr<T[]>> blocks_;
    std::size_t size_ = 0;
};

}  // namespace seatwright::toml
