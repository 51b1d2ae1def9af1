// Counts, means and squares that add up: of two sets of values together as of one.
#pragma once

#include <cmath>

namespace seatwright::numerics {

// Of one set: how many values, their mean, the squares about it.
struct Moments {
    double n = 0, mean = 0, squares = 0;
    double sd() const { return n > 1 ? std::sqrt(squares / (n - 1)) : 0; }
};

// Of both together (Chan, Golub, LeVeque 1983).
inline Moments operator+(const Moments& a, const Moments& b) {
    const double n = a.n + b.n;
    if (n <= 0) return {};
    const double apart = b.mean - a.mean;
    return {n, a.mean + apart * (b.n / n), a.squares + b.squares + apart * apart * (a.n * b.n / n)};
}

// The same of pairs, and the straight line y = mean + slope·(x − mean of x) by least squares.
struct PairMoments {
    double n = 0, mean_x = 0, mean_y = 0;
    double xx = 0, xy = 0, yy = 0;  // squares and products about the means

    double slope() const { return xy / xx; }
    double dof() const { return n - 2; }
    double residual_sd() const { return std::sqrt(std::fmax(0, yy - xy * (xy / xx)) / dof()); }
    double slope_sd() const { return residual_sd() / std::sqrt(xx); }
    double at(double x) const { return mean_y + slope() * (x - mean_x); }
    double sd_of_new_at(double x) const {
        return residual_sd() * std::sqrt(1 + 1 / n + (x - mean_x) * (x - mean_x) / xx);
    }
};

inline PairMoments operator+(const PairMoments& a, const PairMoments& b) {
    const double n = a.n + b.n;
    if (n <= 0) return {};
    const double x = b.mean_x - a.mean_x, y = b.mean_y - a.mean_y, share = b.n / n, weight = a.n * share;
    return {n,
            a.mean_x + x * share,
            a.mean_y + y * share,
            a.xx + b.xx + x * x * weight,
            a.xy + b.xy + x * y * weight,
            a.yy + b.yy + y * y * weight};
}

}  // namespace seatwright::numerics
