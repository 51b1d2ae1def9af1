// Points of a measured surface in memory: 12 bytes each, about a centre, in the unit of the file.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <string>

#include "seatwright/base/vec.hpp"

namespace seatwright::scan {

struct Point {
    float x = 0, y = 0, z = 0;
    Vec3 vec() const { return {static_cast<double>(x), static_cast<double>(y), static_cast<double>(z)}; }
};

// Room for points that nobody has written to yet.
class Points {
  public:
    Points() = default;
    explicit Points(std::size_t size) : all_(room_for(size)), size_(size) {}
    std::size_t size() const { return size_; }
    bool empty() const { return size_ == 0; }
    Point* begin() { return all_.get(); }
    Point* end() { return begin() + size_; }
    const Point* begin() const { return all_.get(); }
    const Point* end() const { return begin() + size_; }
    const Point& operator[](std::size_t i) const { return begin()[i]; }
    Point& operator[](std::size_t i) { return begin()[i]; }
    void shrink(std::size_t size) { size_ = size; }

  private:
    struct Free {
        void operator()(Point* at) const;
    };
    // Many in large pages where the system has them: a first touch of each small one costs more than reading.
    static Point* room_for(std::size_t size);
    std::unique_ptr<Point[], Free> all_;
    std::size_t size_ = 0;
};

struct Cloud {
    Points points;                // about `centre`, none twice where a mesh names its corners again and again
    Vec3 centre = Vec3::Zero();   // taken off before anything was rounded to float
    std::string format;           // "binary STL"
    std::size_t in_file = 0;      // points the file holds, corners of triangles counted as often as named
    std::size_t not_numbers = 0;  // left out
    std::size_t repeated = 0;     // corners named again
};

inline constexpr std::size_t most_points = 200'000'000;

}  // namespace seatwright::scan
