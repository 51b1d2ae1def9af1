#include "seatwright/scan/facets.hpp"

#include <Eigen/Cholesky>
#include <bit>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "seatwright/base/units.hpp"
#include "seatwright/scan/noise.hpp"

namespace seatwright::scan {
namespace {

constexpr int sectors = 24;
constexpr double widest_seat = 36;  // radius, mm

struct Spot {
    double rho = 0, s = 0, turn = 0;
};

// What lies all round the axis: the spots in places of the picture that are lit over half of the turn.
std::vector<Spot> all_round(const std::vector<Point>& points, const Cylinder& axis, double step) {
    const Across frame = across(axis.axis);
    std::vector<Spot> spots;
    spots.reserve(points.size());
    double low = 1e30, high = -1e30;
    const double nearest = std::max(1.9 * axis.radius, axis.radius + 1.5);
    for (const auto& p : points) {
        const Vec3 d = in_axis_frame(axis, frame, p.vec());
        const double rho = d.head<2>().norm();
        if (rho < nearest || rho > widest_seat) continue;
        spots.push_back({rho, d.z(), std::atan2(d.y(), d.x()) / (2 * pi) + 0.5});
        low = std::min(low, d.z());
        high = std::max(high, d.z());
    }
    if (spots.empty()) return {};
    const auto wide = static_cast<std::size_t>(widest_seat / step) + 3;
    const auto tall = static_cast<std::size_t>((high - low) / step) + 3;
    std::vector<std::uint32_t> seen(wide * tall);
    const auto place = [&](const Spot& spot) {
        return (static_cast<std::size_t>((spot.s - low) / step) + 1) * wide +
               static_cast<std::size_t>(spot.rho / step) + 1;
    };
    for (const auto& spot : spots)
        seen[place(spot)] |= 1U << std::min(static_cast<int>(spot.turn * sectors), sectors - 1);
    std::vector<Spot> out;
    const auto lit = [&](std::size_t at) { return std::popcount(seen[at]) >= sectors / 2; };
    for (const auto& spot : spots) {
        const auto at = place(spot);
        if (lit(at) || lit(at - 1) || lit(at + 1) || lit(at - wide) || lit(at + wide)) out.push_back(spot);
    }
    return out;
}

// The picture turned by 45 deg: what faces up or inwards, flat floors and upright walls included, is one
// height over each place across. Sums of a strip of it.
struct Strip {
    double n = 0, p = 0, pp = 0, q = 0, pq = 0, qq = 0;
    void add(double x, double y) {
        ++n;
        p += x;
        pp += x * x;
        q += y;
        pq += x * y;
        qq += y * y;
    }
    Strip less(const Strip& o) const { return {n - o.n, p - o.p, pp - o.pp, q - o.q, pq - o.pq, qq - o.qq}; }
    double var() const { return pp / n - p / n * p / n; }
    double slope() const { return (pq / n - p / n * q / n) / var(); }
    // Squares left, square to the line.
    double left() const {
        const double m = slope();
        const double all = qq - q * q / n - m * m * n * var();
        return std::max(all, 0.0) / (1 + m * m);
    }
};

class Profile {
  public:
    Profile(const std::vector<Spot>& spots, double sd, double density) : sd_(sd) {
        low_ = 1e30;
        double high = -1e30;
        for (const auto& spot : spots) {
            low_ = std::min(low_, across(spot));
            high = std::max(high, across(spot));
        }
        // Wide enough to hold some points, narrow against a facet.
        wide_ = std::clamp(8 / std::max(density * 2 * pi * 12, 1e-3), 0.06, 0.25);
        std::vector<std::vector<std::pair<double, double>>> bins(
            static_cast<std::size_t>((high - low_) / wide_) + 1);
        for (const auto& spot : spots)
            bins[static_cast<std::size_t>((across(spot) - low_) / wide_)].emplace_back(height(spot),
                                                                                       across(spot));
        sums_.emplace_back();
        for (auto& bin : bins) {
            Strip strip = sums_.back();
            keep_fullest(bin, strip);
            own_.push_back(strip.n - sums_.back().n);
            sums_.push_back(strip);
        }
    }

    // Straight pieces that say most with least: squares left over the noise, and a price for each piece.
    std::vector<Facet> pieces() const {
        constexpr double price = 36, left_out = 9, longest = 9;
        const std::size_t n = own_.size();
        const auto most = static_cast<std::size_t>(longest / wide_);
        std::vector<double> best(n + 1, 0);
        std::vector<std::size_t> from(n + 1, 0);
        std::vector<bool> piece(n + 1, false);
        for (std::size_t j = 1; j <= n; ++j) {
            best[j] = best[j - 1] + left_out * own_[j - 1];
            from[j] = j - 1;
            double empty = 0;
            for (std::size_t i = j; i-- > 0 && j - i <= most;) {
                empty = own_[i] > 0 ? 0 : empty + wide_;
                if (empty > gap) break;
                const Strip strip = sums_[j].less(sums_[i]);
                if (strip.n < 12 || !(strip.var() > 1e-4)) continue;
                const double cost = best[i] + price + strip.left() / (sd_ * sd_) - strip.n;
                if (cost < best[j]) {
                    best[j] = cost;
                    from[j] = i;
                    piece[j] = true;
                }
            }
        }
        std::vector<Facet> out;
        for (std::size_t j = n; j > 0; j = from[j])
            if (piece[j]) out.push_back(facet(from[j], j));
        return out;
    }

  private:
    static constexpr double gap = 0.4;
    static double across(const Spot& s) { return (s.rho + s.s) / std::numbers::sqrt2; }
    static double height(const Spot& s) { return (s.s - s.rho) / std::numbers::sqrt2; }

    // Of one strip the spots about the height most are at.
    void keep_fullest(std::vector<std::pair<double, double>>& bin, Strip& strip) const {
        std::sort(bin.begin(), bin.end());
        const double within = 5 * sd_ + wide_;
        std::size_t best = 0, most = 0;
        for (std::size_t i = 0, k = 0; i < bin.size(); ++i) {
            while (k < bin.size() && bin[k].first - bin[i].first <= within) ++k;
            if (k - i > most) {
                most = k - i;
                best = i;
            }
        }
        for (std::size_t i = best; i < best + most; ++i) strip.add(bin[i].second - low_, bin[i].first);
    }

    Facet facet(std::size_t i, std::size_t j) const {
        const Strip s = sums_[j].less(sums_[i]);
        const double m = s.slope(), at = s.p / s.n, q = s.q / s.n;
        const auto rho_at = [&](double p) { return (p + low_ - (q + m * (p - at))) / std::numbers::sqrt2; };
        Facet f;
        f.angle = std::atan(m) + pi / 4;
        f.rho = rho_at(at);
        f.s = (at + low_ + q) / std::numbers::sqrt2;
        f.inner = rho_at(static_cast<double>(i) * wide_);
        f.outer = rho_at(static_cast<double>(j) * wide_);
        f.count = s.n;
        return f;
    }

    double sd_, low_ = 0, wide_ = 0.1;
    std::vector<Strip> sums_;  // up to each strip
    std::vector<double> own_;
};

double turn_filled(const std::vector<Spot>& spots, const Facet& f, double band) {
    std::uint32_t seen = 0;
    const FacetLine line = f.line();
    for (const auto& spot : spots)
        if (std::abs(line.distance(spot.rho, spot.s)) < band && line.holds(spot.rho, spot.s))
            seen |= 1U << std::min(static_cast<int>(spot.turn * sectors), sectors - 1);
    return std::popcount(seen) / double{sectors};
}

}  // namespace

double Facet::height_at(double radius) const {
    return s + (radius - rho) * std::tan(angle);
}

std::optional<Facet> fit_facet(const std::vector<Point>& points, const Cylinder& axis, const Facet& from,
                               double widest, Start start) {
    const Across frame = across(axis.axis);
    Facet f = from;
    double band = start == Start::near ? std::min(widest, band_sds * from.sd) : widest;
    const int noise_steps = start == Start::near ? 2 : 8;
    std::vector<double> distances;
    distances.reserve(points.size());
    for (int step = 0; step < 15; ++step) {
        FourByFour jj = FourByFour::Zero();
        Four jr = Four::Zero();
        const FacetLine line = f.line();
        distances.clear();
        double n = 0;
        for (const auto& p : points) {
            Vec3 d = in_axis_frame(axis, frame, p.vec());
            d.head<2>() -= f.off;
            const double rho = d.head<2>().norm();
            if (!line.holds(rho, d.z())) continue;
            const double e = line.distance(rho, d.z());
            if (step < noise_steps && std::abs(e) < widest) distances.push_back(e);
            if (std::abs(e) >= band) continue;
            const Four j{line.cos(), line.along(rho, d.z()), -line.sin() * d.x() / rho,
                         -line.sin() * d.y() / rho};
            jj += j * j.transpose();
            jr += e * j;
            ++n;
        }
        if (n < 12) return std::nullopt;
        const Eigen::LDLT<FourByFour> solver(jj);
        const Four change = solver.solve(jr);
        if (solver.info() != Eigen::Success || !solver.isPositive() || !change.allFinite() ||
            change.cwiseAbs().maxCoeff() > 3)
            return std::nullopt;
        f.s += change[0];
        f.angle += change[1];
        f.off += change.tail<2>();
        f.count = n;
        f.information = jj;
        if (step < noise_steps) {
            f.sd = noise_of(distances, widest).sd;
            band = std::max(band_sds * f.sd, start == Start::rough && step < 3 ? band / 2 : 0);
        } else if (change.cwiseAbs().maxCoeff() < 1e-9) {
            break;
        }
    }
    return f;
}

std::vector<Facet> facets_about(const std::vector<Point>& points, const Cylinder& axis, double sd,
                                double density) {
    const double step = std::max(std::clamp(0.32 / std::max(density, 1e-3), 0.25, 0.7), 3 * sd);
    const auto spots = all_round(points, axis, step);
    std::vector<Facet> out;
    if (spots.empty()) return out;
    constexpr double least_wide = 0.3;
    for (const auto& f : Profile(spots, std::max(sd, least_noise), density).pieces()) {
        const double wide = (f.outer - f.inner) / std::max(std::cos(f.angle), 0.1);
        const double expected = density * 2 * pi * f.rho * wide;
        if (wide > least_wide && f.count > std::max(20.0, 0.2 * expected) &&
            turn_filled(spots, f, std::max(4 * sd, 0.03)) >= 0.5)
            out.push_back(f);
    }
    std::sort(out.begin(), out.end(), [](const Facet& a, const Facet& b) { return a.rho < b.rho; });
    return out;
}

namespace {

// Facets of a seat are no flatter and no steeper.
constexpr double flattest = 10 * rad_per_deg, steepest = 80 * rad_per_deg;

bool meet(const Facet& in, const Facet& out) {
    constexpr double near = 0.6;
    const Vec2 a(in.outer, in.height_at(in.outer)), b(out.inner, out.height_at(out.inner));
    return (a - b).norm() < near && in.angle > out.angle + 4 * rad_per_deg;
}

double far_from_usual(double angle) {
    return std::min(std::abs(angle - 45 * rad_per_deg), std::abs(angle - 30 * rad_per_deg) + 4 * rad_per_deg);
}

}  // namespace

std::optional<Seat> seat_of(const std::vector<Facet>& facets, const Cylinder& axis) {
    constexpr double least_ratio =
        2.2;  // a seat is 3 to 7 stems wide, a plug's counterbore twice its bore (from memory)
    std::vector<Seat> chains;
    for (const auto& f : facets) {
        if (f.angle < flattest || f.angle > steepest || f.rho < least_ratio * axis.radius) continue;
        const auto chain = std::find_if(chains.begin(), chains.end(),
                                        [&](const Seat& s) { return meet(s.facets.back(), f); });
        if (chain != chains.end())
            chain->facets.push_back(f);
        else
            chains.push_back({{f}, 0, false});
    }
    std::optional<Seat> best;
    for (auto& chain : chains) {
        for (std::size_t i = 1; i < chain.facets.size(); ++i)
            if (far_from_usual(chain.facets[i].angle) < far_from_usual(chain.facets[chain.face].angle))
                chain.face = i;
        // Of three neighbours the one in the middle is the face, whatever its angle.
        if (chain.facets.size() == 3) chain.face = 1;
        const double off = far_from_usual(chain.seat_face().angle);
        chain.in_doubt = chain.facets.size() != 3 && off > 4 * rad_per_deg;
        const auto rank = [](const Seat& s) {
            return static_cast<double>(s.facets.size()) - 10 * far_from_usual(s.seat_face().angle);
        };
        if (!best || rank(chain) > rank(*best)) best = chain;
    }
    return best;
}

std::array<double, 2> edges_of_face(const Seat& seat) {
    const Facet& face = seat.seat_face();
    const auto meeting = [&](const Facet& other) {
        const double ta = std::tan(face.angle), tb = std::tan(other.angle);
        return (other.s - face.s + ta * face.rho - tb * other.rho) / (ta - tb);
    };
    std::array<double, 2> out{face.inner, face.outer};
    if (seat.face > 0) out[0] = meeting(seat.facets[seat.face - 1]);
    if (seat.face + 1 < seat.facets.size()) out[1] = meeting(seat.facets[seat.face + 1]);
    return out;
}

}  // namespace seatwright::scan
