// From millimetres of the thing drawn to millimetres of paper, at a scale one can name.
#pragma once

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::papers {

// What a drawing must hold, in the plane it shows (y up).
struct Extent2 {
    Vec2 low = Vec2::Constant(std::numeric_limits<double>::infinity());
    Vec2 high = Vec2::Constant(-std::numeric_limits<double>::infinity());
    void hold(const Vec2& p, double around = 0) {
        low = low.cwiseMin(p - Vec2::Constant(around));
        high = high.cwiseMax(p + Vec2::Constant(around));
    }
    bool empty() const { return !(low.x() <= high.x() && low.y() <= high.y()); }
    Vec2 size() const { return high - low; }
    Vec2 middle() const { return (low + high) / 2; }
};

// The part of the paper the thing is drawn on.
struct Frame {
    Vec2 corner = Vec2::Zero();  // top left, mm of paper
    double width = 0, height = 0;
};

// Places an extent in the middle of a frame at the largest scale of the usual row that fits; paper y is down.
class Scale {
  public:
    Scale(const Extent2& extent, const Frame& frame);
    Vec2 at(const Vec2& p) const { return {origin_.x() + p.x() * ratio_, origin_.y() - p.y() * ratio_}; }
    double length(double mm) const { return mm * ratio_; }
    std::string words() const { return words_; }  // "1 : 2.5"

  private:
    double ratio_ = 1;
    Vec2 origin_ = Vec2::Zero();
    std::string words_;
};

// Corners of the smallest convex outline round the points, in order.
std::vector<Vec2> convex_outline(std::vector<Vec2> points);

}  // namespace seatwright::papers
