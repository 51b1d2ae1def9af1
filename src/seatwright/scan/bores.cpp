#include "seatwright/scan/bores.hpp"

#include <Eigen/Cholesky>
#include <bitset>
#include <cmath>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/scan/candidates.hpp"
#include "seatwright/scan/noise.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

constexpr double usual_slice = 0.5;  // mm along the axis

// Along the axis: how many points lie on the surface in each slice, less as many others as lie beside it.
struct Slices {
    double begin = 0;
    std::vector<double> own;
};

Slices slices_of(const std::vector<Point>& points, const CylinderFit& fit, double low, double high,
                 double slice) {
    Slices out;
    out.begin = low;
    out.own.assign(static_cast<std::size_t>((high - low) / slice) + 1, 0);
    const auto& c = fit.cylinder;
    const double band = band_sds * fit.sd;
    for (const auto& p : points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d);
        if (z < low || z >= high) continue;
        const double off = std::abs(std::sqrt(std::max(d.squaredNorm() - z * z, 0.0)) - c.radius);
        if (off < 2 * band) out.own[static_cast<std::size_t>((z - low) / slice)] += off < band ? 1 : -1;
    }
    return out;
}

// What a cylinder must not show over what is seen of it: a bend, a taper, an oval. In mm at its ends or
// rounds, each beyond what its own noise makes of nothing.
bool is_round_and_straight(const std::vector<Point>& points, const CylinderFit& fit) {
    using Ten = Eigen::Matrix<double, 10, 1>;
    Eigen::Matrix<double, 10, 10> jj = Eigen::Matrix<double, 10, 10>::Zero();
    Ten jr = Ten::Zero();
    const auto& c = fit.cylinder;
    const double half = std::max(c.length() / 2, usual_slice), band = band_sds * fit.sd;
    double n = 0;
    for (const auto& p : points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d);
        if (z < c.low || z > c.high) continue;
        const double x = fit.frame.u.dot(d), y = fit.frame.v.dot(d), rho = std::sqrt(x * x + y * y);
        const double off = rho - c.radius;
        if (std::abs(off) > band || rho == 0) continue;
        const double cos = x / rho, sin = y / rho, s = z / half;
        Ten j;
        j << cos, sin, s * cos, s * sin, 1, s * s * cos, s * s * sin, s, cos * cos - sin * sin, 2 * cos * sin;
        jj += j * j.transpose();
        jr += off * j;
        ++n;
    }
    const Eigen::LDLT<Eigen::Matrix<double, 10, 10>> solver(jj);
    if (solver.info() != Eigen::Success || !solver.isPositive()) return false;
    const Ten shape = solver.solve(jr);
    const Eigen::Matrix<double, 10, 10> inverse = solver.solve(Eigen::Matrix<double, 10, 10>::Identity());
    constexpr double sure = 6;
    const auto beyond = [&](int k, int l, double wear) {
        const double size = std::hypot(shape[k], shape[l]);
        const double u = fit.sd * std::sqrt(std::max(inverse(k, k), inverse(l, l)));
        return size > wear && size > sure * u;
    };
    constexpr double bend = 0.05, taper = 0.12, oval = 0.12;  // bores wear to a few hundredths (from memory)
    return !beyond(5, 6, bend) && !beyond(7, 7, taper * std::sqrt(2.0)) && !beyond(8, 9, oval);
}

// How many points lie just off the surface for one on it: other things than a bore go on there.
double crowd_beside(const std::vector<Point>& points, const CylinderFit& fit) {
    const auto& c = fit.cylinder;
    const double band = band_sds * fit.sd;
    double in = 1, beside = 0;
    for (const auto& p : points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d);
        if (z < c.low || z > c.high) continue;
        const double off = std::abs(std::sqrt(std::max(d.squaredNorm() - z * z, 0.0)) - c.radius);
        if (off < band)
            ++in;
        else if (off < 2.5 * band)
            ++beside;
    }
    return beside / in;
}

class Search {
  public:
    Search(const Grid& grid, double sd, double density) : grid_(grid), sd_(sd), density_(density) {}

    // Some at a time, each by a thread; what comes of them is taken in their order. One like another that is
    // under way waits for what comes of that.
    Bores take() {
        constexpr std::size_t most_tried = 3000, at_once = 16;
        const auto all = candidates_of(grid_, sd_, density_);
        std::vector<bool> done(all.size());
        std::size_t first = 0, tried = 0;
        while (tried < most_tried) {
            std::vector<std::size_t> batch;
            for (std::size_t i = first; i < all.size() && batch.size() < at_once; ++i) {
                if (done[i]) continue;
                done[i] = known(all[i].cylinder);
                const auto alike = [&](std::size_t k) {
                    return may_be_one(all[i].cylinder, all[k].cylinder);
                };
                if (done[i] || std::any_of(batch.begin(), batch.end(), alike)) continue;
                done[i] = true;
                batch.push_back(i);
            }
            while (first < all.size() && done[first]) ++first;
            if (batch.empty()) break;
            tried += batch.size();
            std::vector<std::optional<Bore>> found(batch.size());
            in_threads(batch.size(), [&](std::size_t i) { found[i] = made_fine(all[batch[i]].cylinder); });
            for (std::size_t i = 0; i < batch.size(); ++i) consider(all[batch[i]].cylinder, found[i]);
        }
        return std::move(out_);
    }

  private:
    static bool same(const Cylinder& a, const Cylinder& known) {
        const Vec3 d = a.at - known.at;
        const double z = known.axis.dot(d);
        constexpr double beyond_ends = 4;
        return z > known.low - beyond_ends && z < known.high + beyond_ends &&
               (d - z * known.axis).norm() < 0.7 * known.radius &&
               std::abs(a.radius / known.radius - 1) < 0.4;
    }
    bool known(const Cylinder& c) const {
        const auto is = [&](const Bore& b) { return same(c, b.fit.cylinder); };
        if (std::any_of(out_.all.begin(), out_.all.end(), is) ||
            std::any_of(out_.part.begin(), out_.part.end(), is))
            return true;
        constexpr double near = 1.0, turned = 0.06;
        return std::any_of(refused_.begin(), refused_.end(), [&](const Cylinder& r) {
            return (c.at - r.at).norm() < near && c.axis.dot(r.axis) > 1 - turned * turned &&
                   std::abs(c.radius - r.radius) < 0.5;
        });
    }

    // Of two candidates: whether their axes run into each other.
    static bool may_be_one(const Cylinder& a, const Cylinder& b) {
        constexpr double far = 80, turned = 0.3;
        const Vec3 d = a.at - b.at;
        if (d.squaredNorm() > far * far || a.axis.cross(b.axis).norm() > turned) return false;
        return (d - b.axis.dot(d) * b.axis).norm() < std::max(a.radius, b.radius);
    }

    void consider(const Cylinder& start, const std::optional<Bore>& bore) {
        if (!bore || known(bore->fit.cylinder))
            refused_.push_back(start);
        else
            (whole(*bore) ? out_.all : out_.part).push_back(*bore);
    }

    static bool whole(const Bore& b) {
        return b.arc >= least_arc && (b.square || b.length() >= least_length);
    }

    std::optional<Bore> made_fine(Cylinder c) const {
        constexpr double first_half = 3.5, looked_along = 70;
        c.low = -first_half;
        c.high = first_half;
        constexpr double beside = 1.5;
        auto near = about_axis(grid_, c, c.radius + beside, -first_half - 1, first_half + 1);
        std::erase_if(
            near, [&](const Point& p) { return c.axis.cross(p.vec() - c.at).norm() < c.radius - beside; });
        const double rough = 0.35 + 4 * sd_;
        auto fit = fit_cylinder(near, c, rough, false, Start::trial);
        // What the first look at a few millimetres of it says of the direction may be far off: held then.
        if (!fit || !plausible(*fit) || crowd_beside(near, *fit) > 0.6) return std::nullopt;
        if (arc_of(near, *fit) < least_arc * 0.7) return std::nullopt;
        for (int pass = 0; pass < 4; ++pass) {
            const double along = pass == 0 ? 12 : looked_along;
            near = about_axis(grid_, fit->cylinder, fit->cylinder.radius + 1.5, -along, along);
            reach(near, *fit);
            if (fit->cylinder.length() < 1.5) return std::nullopt;
            fit =
                fit_cylinder(near, fit->cylinder, std::max(band_sds * fit->sd * 1.5, pass < 2 ? rough : 0.0));
            if (!fit || !plausible(*fit)) return std::nullopt;
        }
        return judged(near, *fit);
    }

    std::optional<Bore> judged(const std::vector<Point>& near, CylinderFit fit) const {
        Bore out;
        constexpr double square_to = 0.0175, loose = 0.07, least_wall = 2.0;
        const double lean = std::acos(std::min(1.0, fit.cylinder.axis.z()));
        const double u_tilt = fit.sd * std::sqrt(24 / std::max(fit.count, 1.0)) / fit.cylinder.length();
        if (lean < std::max(square_to, std::min(loose, 5 * u_tilt))) {
            Cylinder upright = fit.cylinder;
            upright.axis = Vec3::UnitZ();
            auto held = fit_cylinder(near, upright, band_sds * fit.sd * 1.5, true);
            if (held && held->count > 0.8 * fit.count && held->sd < 1.3 * fit.sd + 1e-3) {
                out.square = true;
                if (fit.cylinder.length() < least_length) fit = *held;
            }
        }
        constexpr double crowd = 0.45;
        if (fit.cylinder.length() < least_wall || crowd_beside(near, fit) > crowd ||
            !is_round_and_straight(near, fit))
            return std::nullopt;
        const double sparse = 0.15 * density_ * 2 * pi * fit.cylinder.radius * fit.cylinder.length();
        if (fit.count < std::max(25.0, sparse)) return std::nullopt;
        out.fit = fit;
        out.arc = arc_of(near, fit);
        return out;
    }

    bool plausible(const CylinderFit& fit) const {
        const auto& c = fit.cylinder;
        return c.radius > least_radius && c.radius < largest_radius && c.axis.z() > std::cos(most_lean) &&
               fit.sd < 3 * sd_ + 0.08 && fit.among < 0.5;
    }

    const Grid& grid_;
    double sd_, density_;
    Bores out_;
    std::vector<Cylinder> refused_;
};

}  // namespace

std::vector<Point> about_axis(const Grid& grid, const Cylinder& c, double within, double low, double high) {
    std::vector<Point> out;
    // In pieces along the axis, so that the boxes about a leaning one stay small.
    const int pieces = std::max(1, static_cast<int>((high - low) / (2 * within)));
    for (int i = 0; i < pieces; ++i) {
        const double from = low + (high - low) * i / pieces, to = low + (high - low) * (i + 1) / pieces;
        const Vec3 p = c.at + from * c.axis, q = c.at + to * c.axis, room = Vec3::Constant(within);
        grid.in_box(p.cwiseMin(q) - room, p.cwiseMax(q) + room, [&](const Point* at, const Point* end) {
            for (; at != end; ++at) {
                const Vec3 d = at->vec() - c.at;
                const double z = c.axis.dot(d);
                if (z >= from && z < to && d.squaredNorm() - z * z < within * within) out.push_back(*at);
            }
        });
    }
    return out;
}

double arc_of(const std::vector<Point>& points, const CylinderFit& fit) {
    constexpr std::size_t steps = 36;
    std::array<double, steps> own{};
    const auto& c = fit.cylinder;
    const double band = band_sds * fit.sd;
    for (const auto& p : points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d);
        if (z < c.low || z > c.high) continue;
        const double x = fit.frame.u.dot(d), y = fit.frame.v.dot(d);
        const double off = std::abs(std::sqrt(x * x + y * y) - c.radius);
        if (off > 2 * band) continue;
        const auto k = static_cast<std::size_t>((std::atan2(y, x) / (2 * pi) + 0.5) * steps);
        own[std::min(k, steps - 1)] += off < band ? 1 : -1;
    }
    // Seen where there is a fifth of what the fuller half has.
    auto sorted = own;
    std::sort(sorted.begin(), sorted.end());
    const double enough = std::max(0.2 * sorted[steps * 3 / 4], 0.5);
    const auto seen = std::count_if(own.begin(), own.end(), [&](double n) { return n > enough; });
    return static_cast<double>(seen) * 2 * pi / steps;
}

void reach(const std::vector<Point>& points, CylinderFit& fit, bool fine) {
    constexpr double looked = 90, finest = 0.1, in_slice = 40;
    const double per_mm = fit.count / std::max(fit.cylinder.length(), 1.0);
    const double slice =
        fine ? std::clamp(in_slice / std::max(per_mm, 1.0), finest, usual_slice) : usual_slice;
    auto& c = fit.cylinder;
    const Slices slices = slices_of(points, fit, -looked, looked, slice);
    const auto at = [&](double z) { return static_cast<std::size_t>((z - slices.begin) / slice); };
    std::vector<double> inside(slices.own.begin() + static_cast<std::ptrdiff_t>(at(c.low)),
                               slices.own.begin() + static_cast<std::ptrdiff_t>(at(c.high)) + 1);
    const double usual = numerics::median(inside);
    const double enough = std::max(0.2 * usual, 1.0);
    // A gap no longer than this is a groove or a shadow, not the end.
    const std::size_t gap = static_cast<std::size_t>((usual < 4 ? 3.0 : 1.5) / slice);
    const std::size_t middle = at((c.low + c.high) / 2);
    const auto walk = [&](int step) {
        std::size_t last = middle, empty = 0;
        for (std::size_t i = middle; i > 0 && i + 1 < slices.own.size();
             i = static_cast<std::size_t>(static_cast<std::ptrdiff_t>(i) + step)) {
            if (slices.own[i] >= enough) {
                last = i;
                empty = 0;
            } else if (++empty > gap) {
                break;
            }
        }
        return last;
    };
    const std::size_t first = walk(-1), last = walk(1);
    const double left_out = fine && slice < usual_slice / 2 && last > first + 4 ? slice : 0;
    c.low = slices.begin + static_cast<double>(first) * slice + left_out;
    c.high = slices.begin + static_cast<double>(last + 1) * slice - left_out;
}

Bores bores_of(const Grid& grid, double sd, double density) {
    return Search(grid, sd, density).take();
}

}  // namespace seatwright::scan
