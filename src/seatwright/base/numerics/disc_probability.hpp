// Probability that a two-dimensional normal error lies inside a disc.
//
// With the offset o of the normal's mean from the disc's centre, covariance C and radius c this is
//   P = P(|o + n| ≤ c),  n ~ N(0, C).
// In the principal axes of C (variances p ≤ q) it is the one-dimensional integral
//   P = ∫_{-c}^{c} φ((x − a)/√p)/√p · [Φ((h − b)/√q) − Φ((−h − b)/√q)] dx,  h = √(c² − x²),
// taken over x = c·sin u, which removes the square-root ends. Special cases: centred and isotropic
// 1 − exp(−c²/2σ²) (Rayleigh); centred, unequal variances: Hoyt's distribution; offset, isotropic:
// 1 − Q₁(|o|/σ, c/σ) with Marcum's Q.
//
// Units: lengths in one unit, variances in its square. Accuracy: 1e-9 absolute over offset/c and σ/c from 0
// to 1e6, a singular covariance included (held by tests/base against tables, a series and brute force).
#pragma once

#include "seatwright/base/vec.hpp"

namespace seatwright::numerics {

// General case. c ≤ 0 gives 0; a covariance of zero gives 1 or 0. The covariance must be symmetric, positive
// semi-definite within rounding, and everything finite (require()).
double disc_probability(const Vec2& offset, const Mat2& covariance, double radius);

// Centred case in the principal axes, variances p and q in any order.
double centred_disc_probability(double variance_p, double variance_q, double radius);

// Variances in the principal axes of a symmetric 2×2 matrix (small first) and the direction of the larger
// one's axis from +x, rad, in (−π/2, π/2]. Rounding below zero is cut off at zero.
struct PrincipalAxes {
    double small = 0, large = 0;
    double turn = 0;
};
PrincipalAxes principal_axes(const Mat2& covariance);

}  // namespace seatwright::numerics
