#include "seatwright/scan/features.hpp"

#include <Eigen/LU>
#include <cmath>
#include <cstdint>
#include <map>
#include <mutex>

#include "seatwright/base/units.hpp"
#include "seatwright/scan/noise.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

// Which features come near a cell.
class Near {
  public:
    explicit Near(const std::vector<Feature>& features) {
        Vec3 high = Vec3::Constant(-1e30);
        low_ = -high;
        for (std::size_t f = 0; f < features.size(); ++f)
            over(features[f], [&](const Vec3& at) {
                low_ = low_.cwiseMin(at);
                high = high.cwiseMax(at);
            });
        if (features.empty()) low_ = high = Vec3::Zero();
        low_ -= Vec3::Constant(cell);
        for (int a = 0; a < 3; ++a)
            size_[static_cast<std::size_t>(a)] =
                static_cast<std::size_t>((high[a] + cell - low_[a]) / cell) + 1;
        list_of_.assign(size_[0] * size_[1] * size_[2], 0);
        lists_.emplace_back();
        std::map<std::vector<std::uint16_t>, std::uint16_t> known{{{}, 0}};
        for (std::size_t f = 0; f < features.size(); ++f)
            over(features[f], [&](const Vec3& at) {
                for (int corner = 0; corner < 8; ++corner) {
                    constexpr double room = 0.9;
                    const Vec3 p =
                        at + Vec3((corner & 1) != 0 ? room : -room, (corner & 2) != 0 ? room : -room,
                                  (corner & 4) != 0 ? room : -room);
                    const auto c = cell_of(p);
                    if (!c) continue;
                    auto list = lists_[list_of_[*c]];
                    if (!list.empty() && list.back() == f) continue;
                    list.push_back(static_cast<std::uint16_t>(f));
                    const auto [it, fresh] =
                        known.try_emplace(list, static_cast<std::uint16_t>(lists_.size()));
                    if (fresh) lists_.push_back(list);
                    list_of_[*c] = it->second;
                }
            });
    }

    const std::vector<std::uint16_t>& at(const Vec3& p) const {
        const auto c = cell_of(p);
        return lists_[c ? list_of_[*c] : 0];
    }

  private:
    static constexpr double cell = 2;

    template <class Use>
    static void over(const Feature& f, const Use& use) {
        const Across frame = across(f.axis.axis);
        constexpr double step = 1.2, beyond = 1.0;
        const bool bore = f.is == Feature::Is::bore;
        const double from = bore ? f.axis.low - beyond : f.facet.inner - beyond;
        const double to = bore ? f.axis.high + beyond : f.facet.outer + beyond;
        for (double t = from; t < to + step; t += step) {
            const double rho = bore ? f.axis.radius : std::max(t, 0.1), s = bore ? t : f.facet.height_at(t);
            const int round = static_cast<int>(2 * pi * rho / step) + 4;
            for (int k = 0; k < round; ++k) {
                const double turn = 2 * pi * k / round;
                use(f.axis.at + s * f.axis.axis +
                    rho * (std::cos(turn) * frame.u + std::sin(turn) * frame.v));
            }
        }
    }

    std::optional<std::size_t> cell_of(const Vec3& p) const {
        std::array<std::size_t, 3> k{};
        for (int a = 0; a < 3; ++a) {
            const double d = (p[a] - low_[a]) * (1 / cell);
            const auto i = static_cast<std::size_t>(a);
            if (!(d >= 0) || d >= static_cast<double>(size_[i])) return std::nullopt;
            k[i] = static_cast<std::size_t>(d);
        }
        return (k[2] * size_[1] + k[1]) * size_[0] + k[0];
    }

    Vec3 low_;
    std::array<std::size_t, 3> size_{};
    std::vector<std::uint16_t> list_of_;
    std::vector<std::vector<std::uint16_t>> lists_;
};

// Whether the point is to be looked at in the feature's fit, or else (second) lies on it.
struct Lies {
    bool near = false, on = false;
};
Lies lies(const Feature& f, const FacetLine& line, const Vec3& p) {
    const double off_by = std::max(2.2 * band_sds * f.sd, 0.05);
    const Vec3 d = p - f.axis.at;
    const double z = f.axis.axis.dot(d), rho = std::sqrt(std::max(d.squaredNorm() - z * z, 0.0));
    if (f.is == Feature::Is::bore) {
        const double off = std::abs(rho - f.axis.radius);
        return {off < off_by && z > f.axis.low - 1 && z < f.axis.high + 1,
                off < band_sds * f.sd && z > f.axis.low && z < f.axis.high};
    }
    constexpr double beyond = 1.0, shift = 0.3;  // a seat may stand beside its guide
    const double e = std::abs(line.distance(rho, z));
    return {e < off_by + shift && line.holds(rho, z, beyond),
            e < band_sds * f.sd + shift / 4 && line.holds(rho, z)};
}

// Sums of what is left over, block by block, against the parameters.
template <int N>
struct Blocks {
    using Vector = Eigen::Matrix<double, N, 1>;
    using Matrix = Eigen::Matrix<double, N, N>;
    std::vector<Vector> sums;
    Matrix information = Matrix::Zero();
    double squares = 0, count = 0;
    explicit Blocks(std::size_t blocks) : sums(blocks, Vector::Zero()) {}
    void add(std::size_t block, const Vector& j, double left) {
        sums[block] += left * j;
        information += j * j.transpose();
        squares += left * left;
        ++count;
    }
    // Of each parameter: squared uncertainty by blocks over that by the scatter alone.
    Vector ratio() const {
        const Matrix inverse = information.inverse();
        Matrix outer = Matrix::Zero();
        double used = 0;
        for (const auto& s : sums) {
            outer += s * s.transpose();
            used += s.squaredNorm() > 0 ? 1 : 0;
        }
        const double few = used > N ? used / (used - N) : 1;
        const Matrix by_blocks = inverse * outer * inverse * few;
        return by_blocks.diagonal().cwiseQuotient(inverse.diagonal()) / (squares / std::max(count - N, 1.0));
    }
};

std::size_t sector(double y, double x, std::size_t sectors) {
    return std::min(
        static_cast<std::size_t>((std::atan2(y, x) / (2 * pi) + 0.5) * static_cast<double>(sectors)),
        sectors - 1);
}

Five ratio_of(const FittedBore& b, std::size_t sectors) {
    const auto& c = b.fit.cylinder;
    const double size = 2 * pi * c.radius / static_cast<double>(sectors);
    const auto slices = std::max<std::size_t>(2, static_cast<std::size_t>(std::lround(c.length() / size)));
    Blocks<5> blocks(sectors * slices);
    for (const auto& p : *b.points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d);
        if (z < c.low || z > c.high) continue;
        const double x = b.fit.frame.u.dot(d), y = b.fit.frame.v.dot(d), rho = std::sqrt(x * x + y * y);
        const double off = rho - c.radius;
        if (std::abs(off) > band_sds * b.fit.sd || rho == 0) continue;
        const auto slice = std::min(
            static_cast<std::size_t>((z - c.low) / c.length() * static_cast<double>(slices)), slices - 1);
        blocks.add(slice * sectors + sector(y, x, sectors),
                   Five{x / rho, y / rho, z * x / rho, z * y / rho, 1}, off);
    }
    return blocks.ratio();
}

Four ratio_of(const FittedFacet& f, std::size_t sectors) {
    const Across frame = across(f.axis.axis);
    Blocks<4> blocks(sectors);
    const FacetLine line = f.facet.line();
    for (const auto& p : *f.points) {
        Vec3 d = in_axis_frame(f.axis, frame, p.vec());
        d.head<2>() -= f.facet.off;
        const double rho = d.head<2>().norm();
        if (!line.holds(rho, d.z())) continue;
        const double e = line.distance(rho, d.z());
        if (std::abs(e) > band_sds * f.facet.sd) continue;
        blocks.add(
            sector(d.y(), d.x(), sectors),
            Four{line.cos(), line.along(rho, d.z()), -line.sin() * d.x() / rho, -line.sin() * d.y() / rho},
            e);
    }
    return blocks.ratio();
}

// What blocks of one size and of twice that say, carried on to size without bound.
double carried_on(double small, double large) {
    const double root = 2 * std::sqrt(large) - std::sqrt(small);
    return std::max(1.0, root * std::abs(root));
}

}  // namespace

Pose pose_of(const Plane& plane, double mm) {
    const Across frame = across(plane.normal);
    // +X of the frame nearest the file's own X, so that what lies along it stays.
    Pose out;
    out.mm = mm;
    Vec3 x = Vec3::UnitX() - plane.normal.x() * plane.normal;
    x = x.norm() > 0.1 ? Vec3(x.normalized()) : frame.u;
    out.turn.row(0) = x;
    out.turn.row(1) = plane.normal.cross(x);
    out.turn.row(2) = plane.normal;
    out.level = plane.level;
    return out;
}

Gathered put_to(const std::vector<Feature>& features, const Points& cloud, const Pose& pose, double sd,
                DeckMap& map, const Watch& watch) {
    const Near near(features);
    struct Sums {
        double n = 0, on = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0, z = 0, xz = 0, yz = 0, zz = 0;
        void add(double px, double py, double pz) {
            ++n;
            x += px;
            y += py;
            xx += px * px;
            xy += px * py;
            yy += py * py;
            z += pz;
            xz += px * pz;
            yz += py * pz;
            zz += pz * pz;
        }
    };
    std::vector<FacetLine> lines;
    lines.reserve(features.size());
    for (const auto& f : features) lines.push_back(f.facet.line());
    const auto parts = parts_of(cloud.size());
    std::vector<std::vector<std::vector<Point>>> found(parts.size());
    std::vector<Sums> sums(parts.size());
    std::mutex of_map;
    const double band = band_sds * sd;
    in_parts(parts, {watch, Step::fitting, 0, 0.8}, [&](const Part& part) {
        auto& mine = found[part.number];
        mine.resize(features.size());
        std::vector<std::uint32_t> squares;
        squares.reserve(part.end - part.begin);
        Sums s;
        constexpr double scale = 0.01;  // of x and y, so that sums are of one size
        for (std::size_t i = part.begin; i < part.end; ++i) {
            const Vec3 p = pose.at(cloud[i]);
            bool on = false;
            if (std::abs(p.z()) < band) {
                s.add(scale * p.x(), scale * p.y(), p.z());
                if (const auto k = map.square_of(p.x(), p.y())) squares.push_back(*k);
                on = true;
            }
            for (const auto f : near.at(p)) {
                const Lies is = lies(features[f], lines[f], p);
                on = on || is.on;
                if (is.near)
                    mine[f].push_back(
                        {static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())});
            }
            s.on += on ? 1 : 0;
        }
        sums[part.number] = s;
        const std::lock_guard lock(of_map);
        map.add(squares);
    });
    Gathered out;
    out.points.resize(features.size());
    in_threads(features.size(), [&](std::size_t f) {
        std::size_t size = 0;
        for (const auto& part : found) size += part[f].size();
        out.points[f].reserve(size);
        for (auto& part : found) {
            out.points[f].insert(out.points[f].end(), part[f].begin(), part[f].end());
            std::vector<Point>().swap(part[f]);
        }
    });
    Sums all;
    for (const auto& s : sums)
        for (const auto of : {&Sums::n, &Sums::on, &Sums::x, &Sums::y, &Sums::xx, &Sums::xy, &Sums::yy,
                              &Sums::z, &Sums::xz, &Sums::yz, &Sums::zz})
            all.*of += s.*of;
    out.inliers = all.on;
    out.deck_points = all.n;
    Mat3 m;
    m << all.n, all.x, all.y, all.x, all.xx, all.xy, all.y, all.xy, all.yy;
    const Vec3 right(all.z, all.xz, all.yz);
    const Vec3 plane = all.n > 3 ? Vec3(m.inverse() * right) : Vec3(Vec3::Zero());
    out.deck_rms = all.n > 3 ? std::sqrt(std::max(all.zz - plane.dot(right), 0.0) / (all.n - 3)) : 0;
    // z = k + a·x + b·y in the frame there was.
    const Vec3 up(-0.01 * plane[1], -0.01 * plane[2], 1);
    out.deck.normal = (pose.turn.transpose() * up).normalized();
    out.deck.level = (pose.level + plane[0]) / up.norm();
    out.deck.sd = sd;
    out.deck.share = all.n / std::max<double>(1, static_cast<double>(cloud.size()));
    return out;
}

Wider wider_of(const std::vector<FittedBore>& bores, const std::vector<FittedFacet>& facets) {
    Wider out;
    constexpr std::array<std::size_t, 2> bore_sectors{8, 4}, facet_sectors{24, 12};
    const auto over = [](const auto& all, const auto& sectors, auto zero) {
        std::array sums{zero, zero};
        std::vector<std::array<decltype(zero), 2>> each(all.size(), {zero, zero});
        in_threads(all.size(), [&](std::size_t i) {
            for (std::size_t size = 0; size < 2; ++size) each[i][size] = ratio_of(all[i], sectors[size]);
        });
        double n = 0;
        for (const auto& one : each) {
            if (!one[0].allFinite() || !one[1].allFinite()) continue;
            ++n;
            for (std::size_t size = 0; size < 2; ++size) sums[size] += one[size];
        }
        for (auto& s : sums) s = n > 0 ? decltype(zero)(s / n) : decltype(zero)(decltype(zero)::Ones());
        return sums;
    };
    if (!bores.empty()) {
        const auto r = over(bores, bore_sectors, Five(Five::Zero()));
        const auto of = [&](int from, int count) {
            return carried_on(r[0].segment(from, count).mean(), r[1].segment(from, count).mean());
        };
        out.bore = {of(0, 2), of(2, 2), of(4, 1)};
    }
    if (!facets.empty()) {
        const auto r = over(facets, facet_sectors, Four(Four::Zero()));
        const auto of = [&](int from, int count) {
            return carried_on(r[0].segment(from, count).mean(), r[1].segment(from, count).mean());
        };
        out.facet = {of(0, 1), of(1, 1), of(2, 2)};
    }
    return out;
}

FiveByFive covariance_of(const CylinderFit& fit, const Wider& wider, bool held) {
    FiveByFive information = fit.information;
    if (held)
        for (const int k : {2, 3}) {
            information.row(k).setZero();
            information.col(k).setZero();
            information(k, k) = 1e12;
        }
    Five scale;
    scale << std::sqrt(wider.bore[0]), std::sqrt(wider.bore[0]), std::sqrt(wider.bore[1]),
        std::sqrt(wider.bore[1]), std::sqrt(wider.bore[2]);
    return fit.sd * fit.sd * (scale.asDiagonal() * information.inverse() * scale.asDiagonal());
}

FourByFour covariance_of(const Facet& facet, const Wider& wider) {
    Four scale;
    scale << std::sqrt(wider.facet[0]), std::sqrt(wider.facet[1]), std::sqrt(wider.facet[2]),
        std::sqrt(wider.facet[2]);
    return facet.sd * facet.sd * (scale.asDiagonal() * facet.information.inverse() * scale.asDiagonal());
}

}  // namespace seatwright::scan
