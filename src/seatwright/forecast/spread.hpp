// Distributions of single figures over a batch: of a length |D| whose parts are normal, even over a disc and
// of fixed size, and of mixtures of normals.
#pragma once

#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/forecast/chebyshev.hpp"

namespace seatwright::forecast {

// D = centre + N(0, covariance) + even over a disc of radius `disc` + a vector of length `ring`.
struct Displaced {
    Vec2 centre = Vec2::Zero();
    Mat2 covariance = Mat2::Zero();
    double disc = 0, ring = 0;
};

// |D| of several alike often. With a normal part in every direction
//   P(|D| ≤ ℓ) = ∫ ℓ·J1(ℓk)·A(k) dk,  A the characteristic function averaged over directions;
// else the sharp parts are integrated along the only direction that varies. Accuracy 1e-7.
class LengthSpread {
  public:
    explicit LengthSpread(std::vector<Displaced> parts);
    double below(double length) const;
    double mean() const;
    double square() const;  // mean square, exact
    double quantile(double p) const;

  private:
    double sharp_below(const Displaced& part, double length) const;
    std::vector<Displaced> parts_;
    std::vector<double> k_, weight_;  // nodes and A(k)·weight; empty: sharp
    Chebyshev curve_;                 // of below()
    double longest_ = 0;
    std::vector<double> cuts_;
};

class NormalMix {
  public:
    void add(double mean, double sd, double weight) {
        total_ += weight;
        constexpr std::size_t few = 64;  // among them one of the same may be
        if (parts_.size() < few)
            for (Part& part : parts_)
                if (part.mean == mean && part.sd == sd) {
                    part.weight += weight;
                    return;
                }
        parts_.push_back({mean, sd, weight});
    }
    bool empty() const { return parts_.empty(); }
    double below(double x) const;
    double mean() const;
    double sd() const;
    double quantile(double p) const;

  private:
    struct Part {
        double mean, sd, weight;
    };
    std::vector<Part> parts_;
    double total_ = 0;
};

}  // namespace seatwright::forecast
