#include "seatwright/scan/candidates.hpp"

#include <Eigen/Eigenvalues>
#include <bit>
#include <cmath>
#include <cstdint>
#include <optional>

#include "seatwright/base/units.hpp"
#include "seatwright/scan/bores.hpp"
#include "seatwright/scan/chance.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

constexpr std::size_t most_places = 16000;

struct Place {
    Vec3 at, normal;
};

// The direction across the points about one, where they lie on a surface.
std::optional<Vec3> normal_at(const Grid& grid, const Vec3& at, double reach, double sd) {
    Vec3 sum = Vec3::Zero();
    Mat3 squares = Mat3::Zero();
    int n = 0;
    grid.in_box(at - Vec3::Constant(reach), at + Vec3::Constant(reach),
                [&](const Point* p, const Point* end) {
                    for (; p != end; ++p) {
                        const Vec3 d = p->vec() - at;
                        if (d.squaredNorm() > reach * reach) continue;
                        sum += d;
                        squares += d * d.transpose();
                        ++n;
                    }
                });
    if (n < 6) return std::nullopt;
    const Vec3 mean = sum / n;
    Eigen::SelfAdjointEigenSolver<Mat3> eigen;
    eigen.computeDirect(squares / n - mean * mean.transpose());
    const Vec3 values = eigen.eigenvalues();
    constexpr double flat = 0.3;
    if (values[0] > flat * values[1] + 4 * sd * sd) return std::nullopt;
    return Vec3(eigen.eigenvectors().col(0));
}

// Places in cells of their own, by which those around one are found.
class Places {
  public:
    Places(const Grid& grid, double sd, double density) {
        const auto& points = grid.points();
        const std::size_t count = std::min(most_places, points.size());
        // About 16 points make a normal; no wider than the narrowest bore bears.
        const double reach = std::clamp(std::sqrt(16 / (pi * std::max(density, 1e-6))), 0.9, 2.0);
        std::vector<std::optional<Place>> found(count);
        const auto parts = parts_of(count, 256);
        in_parts(parts, [&](const Part& part) {
            for (std::size_t i = part.begin; i < part.end; ++i) {
                const Vec3 at =
                    points[i * (points.size() / count) + drawn_below(i, 3, points.size() / count)].vec();
                if (const auto n = normal_at(grid, at, reach, sd)) found[i] = Place{at, *n};
            }
        });
        std::vector<Point> at;
        for (const auto& f : found)
            if (f) {
                all_.push_back(*f);
                at.push_back({static_cast<float>(f->at.x()), static_cast<float>(f->at.y()),
                              static_cast<float>(f->at.z())});
            }
        sort();
    }

    const std::vector<Place>& all() const { return all_; }

    template <class Use>
    void near(const Vec3& at, double within, const Use& use) const {
        const auto cell = [&](double v) { return static_cast<std::int64_t>(std::floor(v / cell_)); };
        for (auto x = cell(at.x() - within); x <= cell(at.x() + within); ++x)
            for (auto y = cell(at.y() - within); y <= cell(at.y() + within); ++y) {
                // Cells above each other follow each other.
                const auto first = key_of(x, y, cell(at.z() - within)),
                           last = key_of(x, y, cell(at.z() + within));
                auto i = static_cast<std::size_t>(std::lower_bound(keys_.begin(), keys_.end(), first) -
                                                  keys_.begin());
                for (; i < keys_.size() && keys_[i] <= last; ++i) use(all_[i], i);
            }
    }

  private:
    static constexpr double cell_ = 8;
    static std::uint64_t key_of(std::int64_t x, std::int64_t y, std::int64_t z) {
        constexpr std::int64_t middle = 1 << 20;
        return (static_cast<std::uint64_t>(x + middle) << 42) |
               (static_cast<std::uint64_t>(y + middle) << 21) | static_cast<std::uint64_t>(z + middle);
    }
    void sort() {
        std::vector<std::pair<std::uint64_t, std::size_t>> order;
        order.reserve(all_.size());
        for (std::size_t i = 0; i < all_.size(); ++i) {
            const auto cell = [&](int a) {
                return static_cast<std::int64_t>(std::floor(all_[i].at[a] / cell_));
            };
            order.emplace_back(key_of(cell(0), cell(1), cell(2)), i);
        }
        std::sort(order.begin(), order.end());
        std::vector<Place> sorted;
        sorted.reserve(all_.size());
        keys_.reserve(all_.size());
        for (const auto& [key, i] : order) {
            keys_.push_back(key);
            sorted.push_back(all_[i]);
        }
        all_ = std::move(sorted);
    }

    std::vector<Place> all_;
    std::vector<std::uint64_t> keys_;
};

// The cylinder whose surface is square to both normals.
std::optional<Cylinder> through(const Place& a, const Place& b) {
    constexpr double least_sine = 0.55;
    Vec3 axis = a.normal.cross(b.normal);
    const double sine = axis.norm();
    if (sine < least_sine) return std::nullopt;
    axis /= sine;
    if (axis.z() < 0) axis = -axis;
    if (axis.z() < std::cos(most_lean + 0.1)) return std::nullopt;
    const Vec3 d = b.at - a.at;
    const double along = axis.dot(d);
    constexpr double apart = 9;
    if (std::abs(along) > apart) return std::nullopt;
    const Vec3 flat = d - along * axis;
    // a + s·na = b + t·nb across the axis.
    const double s = flat.cross(b.normal).dot(a.normal.cross(b.normal)) / (sine * sine);
    const double t = flat.cross(a.normal).dot(a.normal.cross(b.normal)) / (sine * sine);
    const double radius = (std::abs(s) + std::abs(t)) / 2;
    if (s * t == 0 || radius < least_radius * 0.8 || radius > largest_radius * 1.15 ||
        std::abs(std::abs(s) - std::abs(t)) > 0.3 + 0.12 * radius)
        return std::nullopt;
    Cylinder out;
    out.at = a.at + s * a.normal + along / 2 * axis;
    out.axis = axis;
    out.radius = radius;
    return out;
}

constexpr int sectors = 16;

// Which sixteenth of the turn: the quarter, and in it by how steep the way is.
unsigned sixteenth(double x, double y) {
    constexpr double eighth = 0.41421356237309503;  // tan 22.5 deg
    const double a = std::abs(x), b = std::abs(y);
    const unsigned quarter = (x < 0 ? 2U : 0U) | (y < 0 ? 1U : 0U);
    return 4 * quarter + (b > eighth * a ? 1U : 0U) + (b > a ? 1U : 0U) + (eighth * b > a ? 1U : 0U);
}

double score_of(const std::vector<Place>& around, const Cylinder& c) {
    const Across frame = across(c.axis);
    constexpr double half = 5, off_square = 0.25, off_along = 0.87;
    const double within = 0.25 + 0.06 * c.radius;
    const double nearest = std::max(c.radius - within, 0.0), furthest = c.radius + within;
    const double least = nearest * nearest, most = furthest * furthest;
    int count = 0;
    std::uint32_t seen = 0;
    const auto look = [&](const Place& p) {
        const Vec3 d = p.at - c.at;
        const double z = c.axis.dot(d), square = d.squaredNorm() - z * z;
        if (std::abs(z) > half || square < least || square > most) return;
        const double along = c.axis.dot(p.normal);
        if (std::abs(along) > off_square) return;
        const double square_to = d.dot(p.normal) - z * along;
        if (square_to * square_to < off_along * off_along * square) return;
        ++count;
        seen |= 1U << sixteenth(frame.u.dot(d), frame.v.dot(d));
    };
    // A quarter of them shows of most that they are none.
    constexpr std::size_t quarter = 4;
    for (std::size_t i = 0; i < around.size(); i += quarter) look(around[i]);
    if (count == 0) return 0;
    for (std::size_t i = 0; i < around.size(); ++i)
        if (i % quarter != 0) look(around[i]);
    const int filled = std::popcount(seen);
    constexpr int least_filled = 6, least_places = 5;
    return count < least_places || filled < least_filled ? 0 : count * filled / double{sectors};
}

}  // namespace

std::vector<Candidate> candidates_of(const Grid& grid, double sd, double density) {
    const Places places(grid, sd, density);
    const auto& all = places.all();
    std::vector<Candidate> best(all.size());
    const auto parts = parts_of(all.size(), 128);
    in_parts(parts, [&](const Part& part) {
        std::vector<Place> around;
        for (std::size_t i = part.begin; i < part.end; ++i) {
            around.clear();
            constexpr double near = 16;
            places.near(all[i].at, near, [&](const Place& p, std::size_t) {
                if ((p.at - all[i].at).squaredNorm() < near * near) around.push_back(p);
            });
            constexpr int most_scored = 10, most_paired = 60;
            int scored = 0;
            for (std::size_t k = 0; k < most_paired && scored < most_scored && !around.empty(); ++k) {
                const auto& partner = around[drawn_below(i * most_paired + k, 4, around.size())];
                const auto c = through(all[i], partner);
                if (!c) continue;
                ++scored;
                const double score = score_of(around, *c);
                if (score > best[i].score) best[i] = {*c, score};
            }
        }
    });
    std::erase_if(best, [](const Candidate& c) { return c.score == 0; });
    std::stable_sort(best.begin(), best.end(),
                     [](const Candidate& a, const Candidate& b) { return a.score > b.score; });
    return best;
}

}  // namespace seatwright::scan
