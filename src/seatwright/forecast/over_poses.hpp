// The runouts and entries of a setup's seats over poses and attitudes: a chance at every attitude for one
// pose after the other, and smooth functions of the attitude known at few.
#pragma once

#include <memory>
#include <vector>

#include "seatwright/forecast/at_leans.hpp"
#include "seatwright/forecast/batch.hpp"

namespace seatwright::forecast {

class OverPoses {
  public:
    // `seats`: of `batch`, of one setup.
    OverPoses(const Batch& batch, const std::vector<std::size_t>& seats, const std::vector<Vec2>& attitudes);
    // Each for all seats of the batch; a table that is null: the chance itself is asked, as it is where
    // `poses` are too few for anything to be worth making.
    void prepare(const std::vector<SeatChance>& chances,
                 const std::vector<std::shared_ptr<const ChanceTable>>& tables, std::size_t poses);
    // That all seats enter and run true, at each attitude; until the next call.
    const std::vector<double>& at(const Vec3& pose);

  private:
    struct One {
        double gain;
        Vec2 from_posts;
        const SeatChance* chance;
        std::shared_ptr<const AtLeans> rows;  // null: the chance is asked at
        std::vector<Vec2> leans;
    };
    const Batch& batch_;
    const std::vector<std::size_t>& seats_;
    const std::vector<Vec2>& attitudes_;
    std::vector<One> all_;
    std::vector<float> work_;
    std::vector<double> out_;
};

// A smooth function over attitudes.
class SmoothOver {
  public:
    // `sharpness`: how fast it changes, 1/rad.
    SmoothOver(const std::vector<Vec2>& attitudes, double sharpness, double fineness);
    // Where it must be known, and from there its values at all attitudes.
    const std::vector<Vec2>& wanted() const { return wanted_; }
    std::vector<double> all(const std::vector<double>& at_wanted) const;

  private:
    const std::vector<Vec2>& attitudes_;
    std::vector<Vec2> wanted_;
    std::size_t n_ = 0;  // along each axis; 0: at every attitude itself
    Vec2 middle_ = Vec2::Zero(), half_ = Vec2::Zero();
};

}  // namespace seatwright::forecast
