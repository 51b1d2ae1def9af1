#include "seatwright/scan/find.hpp"

#include <cmath>
#include <set>

#include "seatwright/base/units.hpp"
#include "seatwright/scan/chance.hpp"
#include "seatwright/scan/noise.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

constexpr std::size_t for_deck = 100'000, for_bores = 200'000;
constexpr double highest = 60, deepest = -250, beside_deck = 15;  // mm about the deck

// One of every so many, each drawn within its own stretch of the file.
std::size_t nth(std::size_t i, std::size_t count, std::size_t size) {
    const std::size_t from = i * size / count, to = (i + 1) * size / count;
    return from + drawn_below(i, 5, std::max<std::size_t>(to - from, 1));
}

struct OffDeck {
    std::vector<Point> points;
    double density = 0;  // points a square millimetre, of those looked at
};

// Points a square millimetre, by the cells they fill.
double density_of(const std::vector<Vec2>& deck) {
    for (double cell = 1; cell < 40; cell *= 1.5) {
        std::set<std::pair<int, int>> filled;
        for (const auto& p : deck)
            filled.emplace(static_cast<int>(std::floor(p.x() / cell)),
                           static_cast<int>(std::floor(p.y() / cell)));
        const auto n = static_cast<double>(deck.size()), cells = static_cast<double>(filled.size());
        if (n > 6 * cells) return n / (cells * cell * cell);
    }
    return 0.01;
}

OffDeck off_deck(const Points& cloud, const Pose& pose, double sd) {
    const std::size_t count = std::min(for_bores, cloud.size());
    const double band = band_sds * sd;
    std::vector<float> xs, ys;
    std::vector<Vec2> deck;
    const std::size_t looked = std::min<std::size_t>(count, 60000);
    for (std::size_t i = 0; i < looked; ++i) {
        const Vec3 p = pose.at(cloud[nth(i, looked, cloud.size())]);
        if (std::abs(p.z()) >= band) continue;
        deck.emplace_back(p.x(), p.y());
        xs.push_back(static_cast<float>(p.x()));
        ys.push_back(static_cast<float>(p.y()));
    }
    OffDeck out;
    if (deck.empty()) return out;
    const auto range = [](std::vector<float>& all) {
        const auto at = [&](double part) {
            const auto k =
                all.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(all.size() - 1));
            std::nth_element(all.begin(), k, all.end());
            return static_cast<double>(*k);
        };
        return std::array{at(0.002) - beside_deck, at(0.998) + beside_deck};
    };
    const auto x = range(xs), y = range(ys);
    out.density = density_of(deck) * static_cast<double>(count) / static_cast<double>(looked);
    const auto parts = parts_of(count);
    std::vector<std::vector<Point>> found(parts.size());
    in_parts(parts, [&](const Part& part) {
        auto& mine = found[part.number];
        mine.reserve(part.end - part.begin);
        for (std::size_t i = part.begin; i < part.end; ++i) {
            const Vec3 p = pose.at(cloud[nth(i, count, cloud.size())]);
            if (std::abs(p.z()) < band || p.z() > highest || p.z() < deepest || p.x() < x[0] ||
                p.x() > x[1] || p.y() < y[0] || p.y() > y[1])
                continue;
            mine.push_back({static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())});
        }
    });
    std::size_t size = 0;
    for (const auto& part : found) size += part.size();
    out.points.reserve(size);
    for (auto& part : found) {
        out.points.insert(out.points.end(), part.begin(), part.end());
        std::vector<Point>().swap(part);
    }
    return out;
}

// What is found on some of the points, before all are put to it.
struct Rough {
    Bore bore;
    std::optional<Seat> seat;
    std::size_t feature = 0;  // the bore's; its facets' follow
    bool part = false;
};

void look_about(const Grid& grid, double sd, double density, Rough& rough) {
    constexpr double above_deck = 2, widest = 36, below = 2;
    const auto& c = rough.bore.fit.cylinder;
    const double up = (above_deck - c.at.z()) / c.axis.z();
    const auto around = about_axis(grid, c, widest, c.low - below, up);
    if (around.empty() || up < c.low) return;
    rough.seat = seat_of(facets_about(around, c, sd, density), c);
}

// Sorted, and without what stands off on its own beyond either end: other things that cross the face's line.
void without_strays(std::vector<double>& all) {
    std::sort(all.begin(), all.end());
    const std::size_t n = all.size();
    constexpr double times = 15;
    const double gap = times * (all[n * 3 / 4] - all[n / 4]) / (static_cast<double>(n) / 2);
    std::size_t first = n / 2, last = n / 2;
    while (first > 0 && all[first] - all[first - 1] < gap) --first;
    while (last + 1 < n && all[last + 1] - all[last] < gap) ++last;
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(last) + 1, all.end());
    all.erase(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(first));
}

// An edge of the face where no other facet meets it: what is seen, evenly spread over it, ends there.
std::array<double, 2> seen_edges(const std::vector<Point>& points, const Cylinder& axis, const Facet& f,
                                 std::array<double, 2>& u) {
    const Across frame = across(axis.axis);
    std::vector<double> squares;
    for (const auto& p : points) {
        Vec3 d = in_axis_frame(axis, frame, p.vec());
        d.head<2>() -= f.off;
        const double rho = d.head<2>().norm();
        if (std::abs(f.distance(rho, d.z())) < band_sds * f.sd && f.holds(rho, d.z(), 0.9))
            squares.push_back(
                std::pow(f.rho + ((rho - f.rho) * std::cos(f.angle) + (d.z() - f.s) * std::sin(f.angle)) *
                                     std::cos(f.angle),
                         2));
    }
    if (squares.size() < 50) return {f.inner, f.outer};
    without_strays(squares);
    constexpr double tail = 0.02;
    const auto at = [&](double part) {
        const auto k =
            squares.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(squares.size() - 1));
        std::nth_element(squares.begin(), k, squares.end());
        return *k;
    };
    const double low = at(tail), high = at(1 - tail), more = (high - low) * tail / (1 - 2 * tail);
    const std::array out{std::sqrt(low - more), std::sqrt(high + more)};
    const double by_count = (out[1] - out[0]) * std::sqrt(tail / static_cast<double>(squares.size()));
    u[0] = u[1] = std::hypot(by_count, f.sd * std::sin(f.angle) / 2);
    return out;
}

double meeting(const Facet& a, const Facet& b) {
    const double ta = std::tan(a.angle), tb = std::tan(b.angle);
    return (b.s - a.s + ta * a.rho - tb * b.rho) / (ta - tb);
}

class Finder {
  public:
    Finder(const Cloud& cloud, double mm) : cloud_(cloud), mm_(mm) {}

    std::optional<Found> find() {
        auto deck = deck_of(some_of(cloud_.points, for_deck, mm_));
        if (!deck) return std::nullopt;
        Pose pose = pose_of(*deck, mm_);
        out_.rival = deck->rival;
        out_.sd = deck->sd;
        look(pose);
        Gathered all = put_to(features_, cloud_.points, pose, deck->sd);
        // Once more, now that all of the deck's points say how it lies, if that moves anything.
        turned_ = pose_of(all.deck, mm_);
        out_.deck_rms = all.deck_rms;
        out_.deck_points = all.deck_points;
        out_.inliers = all.inliers;
        fit(all);
        return std::move(out_);
    }

  private:
    void look(const Pose& pose) {
        OffDeck off = off_deck(cloud_.points, pose, out_.sd);
        const Grid grid(off.points, 2.5);
        std::vector<Point>().swap(off.points);
        const Bores bores = bores_of(grid, out_.sd, off.density);
        for (const auto& b : bores.all) rough_.push_back({b, std::nullopt, 0, false});
        for (const auto& b : bores.part) rough_.push_back({b, std::nullopt, 0, true});
        in_threads(rough_.size(), [&](std::size_t i) { look_about(grid, out_.sd, off.density, rough_[i]); });
        for (auto& r : rough_) {
            r.feature = features_.size();
            Cylinder axis = r.bore.fit.cylinder;
            features_.push_back({Feature::Is::bore, axis, {}, std::max(r.bore.fit.sd, least_noise)});
            if (r.seat)
                for (const auto& f : r.seat->facets)
                    features_.push_back({Feature::Is::facet, axis, f, std::max(out_.sd, least_noise)});
        }
        old_ = pose;
    }

    // A place or direction in the frame of the deck as first found, in that of the deck as it is.
    Vec3 way(const Vec3& d) const { return turned_.turn * old_.turn.transpose() * d; }
    Vec3 moved(const Vec3& p) const { return way(p + Vec3(0, 0, old_.level)) - Vec3(0, 0, turned_.level); }

    void fit(const Gathered& all) {
        std::vector<std::optional<CylinderFit>> fits(rough_.size());
        std::vector<std::vector<Facet>> facets(rough_.size());
        in_threads(rough_.size(), [&](std::size_t i) { fit_one(all, rough_[i], fits[i], facets[i]); });
        std::vector<FittedBore> fitted;
        std::vector<FittedFacet> fitted_facets;
        for (std::size_t i = 0; i < rough_.size(); ++i) {
            if (!fits[i]) continue;
            if (!rough_[i].bore.square) fitted.push_back({&all.points[rough_[i].feature], *fits[i]});
            for (std::size_t k = 0; k < facets[i].size(); ++k)
                fitted_facets.push_back(
                    {&all.points[rough_[i].feature + 1 + k], fits[i]->cylinder, facets[i][k]});
        }
        if (fitted.empty())
            for (std::size_t i = 0; i < rough_.size(); ++i)
                if (fits[i]) fitted.push_back({&all.points[rough_[i].feature], *fits[i]});
        out_.wider = wider_of(fitted, fitted_facets);
        for (std::size_t i = 0; i < rough_.size(); ++i)
            if (fits[i]) take(all, rough_[i], *fits[i], std::move(facets[i]));
    }

    void fit_one(const Gathered& all, const Rough& rough, std::optional<CylinderFit>& fit,
                 std::vector<Facet>& facets) const {
        const auto& points = all.points[rough.feature];
        CylinderFit start = rough.bore.fit;
        const bool held = rough.bore.square && rough.bore.length() < least_length;
        const double widest = std::max(2 * band_sds * start.sd, 0.02);
        start.count = static_cast<double>(points.size());
        reach(points, start, true);
        fit = fit_cylinder(points, start.cylinder, widest, held, Start::near);
        if (!fit) return;
        if (!rough.seat) return;
        // Ends that move with what is fitted between them may run away where the noise is great: then they
        // stay.
        for (const bool ends_move : {true, false}) {
            facets = fit_facets(all, rough, *fit, ends_move);
            if (!facets.empty()) break;
        }
    }

    // All of the seat's facets, or none.
    std::vector<Facet> fit_facets(const Gathered& all, const Rough& rough, const CylinderFit& fit,
                                  bool ends_move) const {
        auto facets = rough.seat->facets;
        // Heights were counted from where the rough axis had its middle.
        for (auto& f : facets) f.s += fit.cylinder.axis.dot(rough.bore.fit.cylinder.at - fit.cylinder.at);
        // A wall or a floor that begins where the outermost facets end must not come into them.
        const auto clear = [&](const Facet& f) {
            return std::min(3 * out_.sd + 0.02, (f.outer - f.inner) / 3);
        };
        facets.front().inner += clear(facets.front());
        facets.back().outer -= clear(facets.back());
        for (int pass = 0; pass < 4; ++pass) {
            for (std::size_t k = 0; k < facets.size(); ++k) {
                const auto better = fit_facet(all.points[rough.feature + 1 + k], fit.cylinder, facets[k],
                                              0.05 + band_sds * out_.sd);
                constexpr double turned = 6 * rad_per_deg;
                if (!better || std::abs(better->angle - rough.seat->facets[k].angle) > turned) return {};
                facets[k] = *better;
            }
            for (std::size_t k = 0; ends_move && k + 1 < facets.size(); ++k) {
                const double at = meeting(facets[k], facets[k + 1]);
                constexpr double near = 0.8;
                if (std::abs(at - facets[k].outer) > near || std::abs(at - facets[k + 1].inner) > near)
                    return {};
                facets[k].outer = facets[k + 1].inner = at;
            }
        }
        const auto narrow = [](const Facet& f) { return f.outer - f.inner < 0.1; };
        return std::any_of(facets.begin(), facets.end(), narrow) ? std::vector<Facet>() : facets;
    }

    void take(const Gathered& all, const Rough& rough, const CylinderFit& fit, std::vector<Facet> facets) {
        FoundBore b;
        b.fit = fit;
        b.arc = arc_of(all.points[rough.feature], fit);
        b.square = rough.bore.square;
        b.covariance = covariance_of(fit, out_.wider, b.square && rough.bore.length() < least_length);
        if (!facets.empty()) {
            FoundSeat seat;
            seat.seat = *rough.seat;
            seat.seat.facets = std::move(facets);
            for (const auto& f : seat.seat.facets) seat.covariance.push_back(covariance_of(f, out_.wider));
            measure(all.points[rough.feature + 1 + seat.seat.face], fit.cylinder, seat);
            b.pin = fit.cylinder.high > seat.height - 1;
            b.seat = std::move(seat);
        }
        auto& c = b.fit.cylinder;
        c.at = moved(c.at);
        c.axis = way(c.axis);
        b.fit.frame = {way(fit.frame.u), way(fit.frame.v)};
        (rough.part ? out_.part : out_.bores).push_back(std::move(b));
    }

    // The face's edges, the gauge circle between them, and how far each is known.
    static void measure(const std::vector<Point>& points, const Cylinder& axis, FoundSeat& out) {
        const Seat& seat = out.seat;
        std::array<double, 2> u_seen{};
        const auto seen = seen_edges(points, axis, seat.seat_face(), u_seen);
        const auto worked_out = [&](const std::vector<Facet>& facets) {
            Seat one = seat;
            one.facets = facets;
            auto edges = edges_of_face(one);
            if (seat.face == 0) edges[0] = seen[0];
            if (seat.face + 1 == facets.size()) edges[1] = seen[1];
            const double gauge = (edges[0] + edges[1]) / 2;
            return std::array{edges[0], edges[1], gauge, facets[seat.face].height_at(gauge)};
        };
        const auto best = worked_out(seat.facets);
        std::array<double, 4> squares{};
        for (std::size_t k = 0; k < seat.facets.size(); ++k)
            for (int what = 0; what < 2; ++what) {
                constexpr double step = 1e-5;
                auto facets = seat.facets;
                (what == 0 ? facets[k].s : facets[k].angle) += step;
                const auto now = worked_out(facets);
                // Height and angle of a facet about its middle hardly go together: that they do is left out.
                for (std::size_t i = 0; i < 4; ++i)
                    squares[i] += std::pow((now[i] - best[i]) / step, 2) * out.covariance[k](what, what);
            }
        const double slope = std::tan(seat.seat_face().angle);
        for (std::size_t edge = 0; edge < 2; ++edge) {
            if (edge == 0 ? seat.face > 0 : seat.face + 1 < seat.facets.size()) continue;
            const double own = u_seen[edge] * u_seen[edge];
            squares[edge] += own;
            squares[2] += own / 4;
            squares[3] += own / 4 * slope * slope;
        }
        out.edges = {best[0], best[1]};
        out.u_edges = {std::sqrt(squares[0]), std::sqrt(squares[1])};
        out.gauge = best[2];
        out.height = best[3];
        out.u_gauge = std::sqrt(squares[2]);
        out.u_height = std::sqrt(squares[3]);
    }

    const Cloud& cloud_;
    double mm_;
    Found out_;
    std::vector<Rough> rough_;
    std::vector<Feature> features_;
    Pose old_, turned_;
};

}  // namespace

Points some_of(const Points& points, std::size_t count, double mm) {
    const std::size_t n = std::min(count, points.size());
    Points out(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Point& p = points[nth(i, n, points.size())];
        const auto scaled = [&](float v) { return static_cast<float>(mm * static_cast<double>(v)); };
        out[i] = {scaled(p.x), scaled(p.y), scaled(p.z)};
    }
    return out;
}

std::optional<Found> find(const Cloud& cloud, double mm) {
    return Finder(cloud, mm).find();
}

}  // namespace seatwright::scan
