// The head's frame on the deck: where its row lies, which cylinder is the first, and what places in it are
// worth, the frame itself standing on the valves.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/scan/plan.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

class Frame {
  public:
    Frame(const Plan& plan, bool end_for_end);

    // From the deck's frame into the head's.
    Vec2 at(const Vec2& p) const { return turn_ * p - origin_; }
    Vec3 at(const Vec3& p) const;
    // And back.
    Vec2 on_deck(const Vec2& p) const { return turn_.transpose() * (p + origin_); }
    Vec3 way(const Vec3& d) const;
    Cylinder of(Cylinder c) const;
    // The whole way from the cloud's own coordinates, `deck` being the way to the deck's frame.
    Placed of(const Pose& deck) const;

    const drawing::Layout& layout() const { return layout_; }          // its cylinders from the first on
    const std::vector<Vec2>& cylinders() const { return cylinders_; }  // their centres
    const std::vector<Vec2>& marks() const { return marks_; }          // of all marks, here

    // A place on a bore's axis, as far as its own points leave it: along, across.
    Mat3 own_covariance(const FoundBore& bore, double along) const;
    // The valves the frame stands on, in order; each a valve of that cylinder (from 0).
    void stand_on(std::size_t cylinder, const Mat3& own) { on_.push_back({cylinder, own}); }
    // Of the place of the i-th of them, the frame's part included.
    Mat3 covariance(const Vec2& at, std::size_t i) const { return sum(at, i, Mat3(Mat3::Zero())); }
    // Of a place of something else, whose own it is.
    Mat3 covariance(const Vec2& at, const Mat3& own) const { return sum(at, std::nullopt, own); }

  private:
    struct On {
        std::size_t cylinder = 0;
        Mat3 own;
    };
    Mat3 moved_by(const On& valve, const Vec2& at) const;
    Mat3 sum(const Vec2& at, std::optional<std::size_t> i, Mat3 own) const;

    drawing::Layout layout_;
    Mat2 turn_ = Mat2::Identity();
    Vec2 origin_ = Vec2::Zero();
    std::vector<Vec2> cylinders_, marks_;
    std::vector<On> on_;
};

}  // namespace seatwright::scan
