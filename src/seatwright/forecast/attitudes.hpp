// Evenly spaced places over a few standard normals, weighted as they come up. What is asked of them is smooth
// on the scale of their distance, so that the sum over them converges faster than any power of it; every
// other one of them alone (`odd`), along the dimension in which most changes from one to the next, shows by
// how much it is off.
#pragma once

#include <functional>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::forecast {

struct EvenPlaces {
    std::size_t dimensions = 0;
    std::vector<double> normal;  // of each place `dimensions` numbers
    std::vector<double> weight;  // adding to 1
    std::vector<bool> odd;
    double even_share = 1;  // the weight of those that are not odd
    std::size_t size() const { return weight.size(); }

    // `sharpness`: how fast what is asked changes along each dimension (1 over its width, per sd).
    // `fineness`: 1; larger for fewer places. Empty where more than `most` would be needed.
    static EvenPlaces over(const std::vector<double>& sharpness, double fineness, std::size_t most);
};

// Attitudes of a head in one setup.
struct Attitudes {
    std::vector<Vec2> at;  // rad
    EvenPlaces places;
    // `level_sd`: per axis; `along`: the direction in which what is asked changes most; `sharpness`: of a
    // direction, 1/rad. Empty where too many would be needed.
    static Attitudes spread(double level_sd, const Vec2& along,
                            const std::function<double(const Vec2&)>& sharpness, double fineness);
};

// Poses of a head on its posts.
struct Poses {
    std::vector<Vec3> at;  // mm, mm, rad
    EvenPlaces places;
    // `sharpness`: of a pose of one sd.
    static Poses spread(const Mat3& covariance, const std::function<double(const Vec3&)>& sharpness,
                        double fineness);
};

// The directions of a pose that vary, each one standard deviation long.
std::vector<Vec3> pose_axes(const Mat3& covariance);

}  // namespace seatwright::forecast
