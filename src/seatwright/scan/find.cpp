#include "seatwright/scan/find.hpp"

#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/scan/noise.hpp"
#include "seatwright/scan/off_deck.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

constexpr std::size_t for_deck = 100'000;

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

class Finder {
  public:
    Finder(const Cloud& cloud, double mm, const Watch& watch) : cloud_(cloud), mm_(mm), watch_(watch) {}

    std::optional<Found> find() {
        told(Step::deck, 0);
        auto deck = deck_of(some_of(cloud_.points, for_deck, mm_));
        if (!deck) return std::nullopt;
        Pose pose = pose_of(*deck, mm_);
        out_.rival = deck->rival;
        out_.sd = deck->sd;
        told(Step::bores, 0);
        look(pose);
        told(Step::fitting, 0);
        Gathered all = put_to(features_, cloud_.points, pose, deck->sd, out_.deck_map, watch_);
        // All of the deck's points say better how it lies.
        turned_ = pose_of(all.deck, mm_);
        out_.deck_rms = all.deck_rms;
        out_.deck_points = all.deck_points;
        out_.inliers = all.inliers;
        out_.pose = turned_;
        fit(all);
        return std::move(out_);
    }

  private:
    void told(Step step, double part) const {
        if (watch_) watch_(step, part);
    }

    void look(const Pose& pose) {
        OffDeck off = off_deck(cloud_.points, pose, out_.sd);
        if (off.looked_at > 0)
            out_.deck_map = DeckMap(off.low, off.high,
                                    off.density * static_cast<double>(cloud_.points.size()) / off.looked_at);
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
                const auto better =
                    fit_facet(all.points[rough.feature + 1 + k], fit.cylinder, facets[k],
                              0.05 + band_sds * out_.sd, pass == 0 ? Start::rough : Start::near);
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
            measure_face(all.points[rough.feature + 1 + seat.seat.face], fit.cylinder, seat);
            b.pin = fit.cylinder.high > seat.height - 1;
            b.seat = std::move(seat);
        }
        auto& c = b.fit.cylinder;
        c.at = moved(c.at);
        c.axis = way(c.axis);
        b.fit.frame = {way(fit.frame.u), way(fit.frame.v)};
        (rough.part ? out_.part : out_.bores).push_back(std::move(b));
    }

    const Cloud& cloud_;
    double mm_;
    const Watch& watch_;
    Found out_;
    std::vector<Rough> rough_;
    std::vector<Feature> features_;
    Pose old_, turned_;
};

}  // namespace

std::optional<Found> find(const Cloud& cloud, double mm, const Watch& watch) {
    return Finder(cloud, mm, watch).find();
}

}  // namespace seatwright::scan
