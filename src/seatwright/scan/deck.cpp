#include "seatwright/scan/deck.hpp"

#include <Eigen/Eigenvalues>
#include <cmath>

#include "seatwright/scan/chance.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

constexpr double rough_band = 0.25;  // mm: 2.5 sd of the worst noise that is read
constexpr std::size_t tries = 8192, looked_at = 3000, first_look = 200, least_share = 50;

std::optional<Plane> plane_through(const Vec3& a, const Vec3& b, const Vec3& c) {
    const Vec3 n = (b - a).cross(c - a);
    const double size = n.norm();
    if (size < 1e-3 * (b - a).norm() * (c - a).norm() || size == 0) return std::nullopt;
    return Plane{n / size, n.dot(a) / size, 0, 0};
}

// The plane of least squares through what lies within `band` of it.
Plane made_fine(const Points& points, const Plane& from, double band) {
    const auto parts = parts_of(points.size());
    struct Sums {
        double n = 0;
        Vec3 p = Vec3::Zero();
        Mat3 pp = Mat3::Zero();
    };
    std::vector<Sums> sums(parts.size());
    const Vec3 at = from.level * from.normal;
    in_parts(parts, [&](const Part& part) {
        Sums s;
        for (std::size_t i = part.begin; i < part.end; ++i) {
            const Vec3 p = points[i].vec() - at;
            if (std::abs(from.normal.dot(p)) >= band) continue;
            ++s.n;
            s.p += p;
            s.pp += p * p.transpose();
        }
        sums[part.number] = s;
    });
    Sums all;
    for (const auto& s : sums) {
        all.n += s.n;
        all.p += s.p;
        all.pp += s.pp;
    }
    if (all.n < 3) return from;
    const Vec3 mean = all.p / all.n;
    const Eigen::SelfAdjointEigenSolver<Mat3> eigen(all.pp / all.n - mean * mean.transpose());
    Plane out = from;
    out.normal = eigen.eigenvectors().col(0);
    if (out.normal.dot(from.normal) < 0) out.normal = -out.normal;
    out.level = out.normal.dot(mean + at);
    return out;
}

std::vector<double> distances_of(const Points& points, const Plane& plane, std::size_t most) {
    std::vector<double> out;
    const std::size_t step = std::max<std::size_t>(1, points.size() / most);
    out.reserve(points.size() / step + 1);
    for (std::size_t i = 0; i < points.size(); i += step)
        out.push_back(plane.normal.dot(points[i].vec()) - plane.level);
    return out;
}

std::size_t within(const std::vector<Vec3>& few, const Plane& plane, std::size_t begin, std::size_t end) {
    std::size_t n = 0;
    for (std::size_t i = begin; i < end; ++i)
        n += std::abs(plane.normal.dot(few[i]) - plane.level) < rough_band ? 1 : 0;
    return n;
}

std::optional<Plane> by_samples(const std::vector<Vec3>& few) {
    const std::size_t n = few.size();
    if (n < 3) return std::nullopt;
    constexpr std::size_t groups = 32;
    struct Best {
        std::size_t count = 0;
        Plane plane;
    };
    std::vector<Best> best(groups);
    in_threads(groups, [&](std::size_t g) {
        for (std::size_t t = g; t < tries; t += groups) {
            const auto at = [&](std::size_t k) { return few[drawn_below(3 * t + k, 1, n)]; };
            const auto plane = plane_through(at(0), at(1), at(2));
            if (!plane) continue;
            const std::size_t look = std::min(first_look, n);
            std::size_t count = within(few, *plane, 0, look);
            if (count * n < best[g].count * look / 2 || count * least_share < look) continue;
            count += within(few, *plane, look, n);
            if (count > best[g].count) best[g] = {count, *plane};
        }
    });
    Best all;
    for (const auto& b : best)
        if (b.count > all.count) all = b;
    if (all.count * least_share < n || all.count < 3) return std::nullopt;
    return all.plane;
}

// The fullest rough band beside the plane itself.
void look_for_rival(const std::vector<double>& distances, Deck& deck) {
    constexpr double apart = 3, far = 1000;
    std::vector<std::size_t> bins(static_cast<std::size_t>(2 * far / rough_band) + 2);
    for (const double d : distances)
        if (std::abs(d) < far && std::abs(d) > apart)
            ++bins[static_cast<std::size_t>((d + far) / rough_band)];
    std::size_t best = 0;
    for (std::size_t i = 1; i + 1 < bins.size(); ++i)
        if (bins[i] + bins[i + 1] > bins[best] + bins[best + 1]) best = i;
    deck.rival_share =
        static_cast<double>(bins[best] + bins[best + 1]) / static_cast<double>(distances.size());
    if (deck.rival_share > deck.share / 2) deck.rival = static_cast<double>(best + 1) * rough_band - far;
}

}  // namespace

std::optional<Deck> deck_of(const Points& points) {
    if (points.size() < 3) return std::nullopt;
    std::vector<Vec3> few;
    for (std::size_t i = 0; i < looked_at; ++i) few.push_back(points[drawn_below(i, 2, points.size())].vec());
    auto plane = by_samples(few);
    if (!plane) return std::nullopt;
    constexpr std::size_t for_noise = 60000;
    double band = 2 * rough_band;
    for (int pass = 0; pass < 5; ++pass) {
        plane = made_fine(points, *plane, band);
        plane->sd = noise_of(distances_of(points, *plane, for_noise), 4 * rough_band).sd;
        band = band_sds * plane->sd;
    }
    Deck deck;
    static_cast<Plane&>(deck) = *plane;
    const auto distances = distances_of(points, deck, for_noise);
    double above = 0, below = 0, on = 0;
    for (const double d : distances) {
        if (std::abs(d) < band)
            ++on;
        else
            ++(d > 0 ? above : below);
    }
    deck.share = on / static_cast<double>(distances.size());
    look_for_rival(distances, deck);
    if (above > below) {
        deck.normal = -deck.normal;
        deck.level = -deck.level;
        if (deck.rival) deck.rival = -*deck.rival;
    }
    return deck;
}

}  // namespace seatwright::scan
