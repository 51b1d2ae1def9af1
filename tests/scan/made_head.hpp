// An invented head of planes, cylinders and cones, and what is true of it. Frame: the head's own (deck z =
// 0).
#pragma once

#include <string>

#include "scan/scene.hpp"

namespace seatwright::scan::made {

struct Valve {
    std::string id;
    bool intake = true;
    Vec3 gauge = Vec3::Zero();  // centre of the gauge circle
    double incline = 0, cant = 0, bore = 7, gauge_diameter = 32, seat_angle = 45 * rad_per_deg;
    Vec3 axis() const { return guide_axis(incline, cant); }
};

struct Head {
    std::vector<Valve> valves;
    std::vector<Vec3> bolts, plugs;  // centres at the deck, z the radius
    Surfaces surfaces;
    double half_x = 0, half_y = 0;
    Vec3 middle = Vec3::Zero();
};

struct Form {
    int cylinders = 4;
    double spacing = 96;
    double incline = 12 * rad_per_deg, cant = 3 * rad_per_deg;
    double guide_seen = 50;      // of the bore below the bowl's floor
    double guide_turn = 2 * pi;  // of it seen
    bool pins = false;           // stand in the guides, seen from the seat's height up
    bool seats = true, facets = true;
    double bolt_depth = 14;
    bool distractors = false;  // domes, bent ports, half-round grooves, two parallel planes
    bool short_bores = false;  // 6 mm seen of each guide
    bool chambers = false;  // one round recess over both valves of a cylinder, with a plug's hole in its roof
};

// The recess' radius and depth, and the plug's: where its axis leaves the deck, from the cylinder's middle.
inline constexpr double chamber_radius = 46, chamber_roof = -6, plug_radius = 6.2, plug_seen = 16;
inline Vec3 plug_axis() {
    return guide_axis(-6 * rad_per_deg, 9 * rad_per_deg);
}
inline constexpr double plug_x = 27, plug_y = 1;

inline Head head_of(const Form& form) {
    Head out;
    const double end = (form.cylinders - 1) * form.spacing;
    out.middle = {end / 2, 0, 0};
    out.half_x = end / 2 + 62;
    out.half_y = 78;
    std::vector<std::function<bool(const Vec3&)>> wells;
    const auto turned = [](const char* name, const Vec3& at, const Vec3& axis, double r0, double s0,
                           double r1, double s1) {
        Surface s;
        s.name = name;
        s.at = at;
        s.axis = axis;
        s.rho0 = r0;
        s.s0 = s0;
        s.rho1 = r1;
        s.s1 = s1;
        return s;
    };
    const double roof = form.chambers ? chamber_roof : 0;
    const auto below_deck = [roof](const Vec3& p) { return p.z() < roof; };
    for (int k = 0; k < form.cylinders; ++k)
        for (const bool intake : {true, false}) {
            Valve v;
            v.id = std::to_string(k + 1) + (intake ? "I" : "E");
            v.intake = intake;
            v.incline = (intake ? 1 : -1) * form.incline;
            v.cant = (intake ? 1 : -0.5) * form.cant;
            v.bore = intake ? 7 : 8;
            v.gauge_diameter = intake ? 33 : 28;
            v.gauge = {k * form.spacing + (intake ? -3.0 : 4.0), intake ? 22.0 : -21.0,
                       intake ? -13.0 : -12.0};
            const Vec3 a = v.axis();
            const double g = v.gauge_diameter / 2, w = 0.75;
            // Profile from the gauge circle: face ±w along 45 deg, top 30 deg outwards, throat 60 deg
            // inwards.
            const double face = v.seat_angle, top = 30 * rad_per_deg, throat = 60 * rad_per_deg;
            const double fo = g + w * std::cos(face), fz = w * std::sin(face), fi = g - w * std::cos(face);
            double to = fo, tz = fz, bi = fi, bz = -fz;
            if (form.facets) {
                to = fo + 1.5 * std::cos(top);
                tz = fz + 1.5 * std::sin(top);
                bi = fi - 1.8 * std::cos(throat);
                bz = -fz - 1.8 * std::sin(throat);
            }
            if (form.seats) {
                out.surfaces.push_back(turned("seat", v.gauge, a, fi, -fz, fo, fz));
                if (form.facets) {
                    out.surfaces.push_back(turned("top", v.gauge, a, fo, fz, to, tz));
                    out.surfaces.push_back(turned("throat", v.gauge, a, bi, bz, fi, -fz));
                }
            }
            const double wall = to + 1.2, floor = -28, r = v.bore / 2;
            auto well = turned("well", v.gauge, a, wall, tz, wall, 60);
            well.keep = below_deck;
            out.surfaces.push_back(well);
            out.surfaces.push_back(turned("ledge", v.gauge, a, to, tz, wall, tz));
            auto bowl = turned("bowl", v.gauge, a, bi, floor, bi, bz);
            bowl.turn0 = -pi + 1.2;  // the port leaves it
            out.surfaces.push_back(bowl);
            out.surfaces.push_back(turned("floor", v.gauge, a, r, floor, bi, floor));
            const double seen = form.short_bores ? 6 : form.guide_seen;
            auto guide = form.pins ? turned("pin", v.gauge, a, r, floor, r, floor + seen)
                                   : turned("guide", v.gauge, a, r, floor - seen, r, floor);
            guide.turn1 = guide.turn0 + form.guide_turn;
            out.surfaces.push_back(guide);
            const Vec3 centre = v.gauge;
            wells.emplace_back([centre, a, wall](const Vec3& p) {
                const Vec3 d = p - centre;
                const double z = a.dot(d);
                return d.squaredNorm() - z * z < wall * wall;
            });
            out.valves.push_back(v);
        }
    const auto hole = [&](const Vec3& at, double depth) {
        const double r = at.z();
        const Vec3 on(at.x(), at.y(), 0);
        out.surfaces.push_back(turned("hole", on, Vec3::UnitZ(), r, -depth, r, 0));
        wells.emplace_back([on, r](const Vec3& p) { return (p - on).head<2>().norm() < r; });
    };
    for (int k = 0; k <= form.cylinders; ++k)
        for (const double y : {56.0, -54.0}) out.bolts.emplace_back((k - 0.5) * form.spacing, y, 5.5);
    for (const auto& b : out.bolts) hole(b, form.bolt_depth);
    if (form.chambers)
        for (int k = 0; k < form.cylinders; ++k) {
            const Vec3 middle(k * form.spacing, 0, 0);
            auto wall =
                turned("chamber", middle, Vec3::UnitZ(), chamber_radius, chamber_roof, chamber_radius, 0);
            out.surfaces.push_back(wall);
            const Vec3 a = plug_axis(), on = middle + Vec3(plug_x, plug_y, 0);
            out.plugs.emplace_back(on.x(), on.y(), plug_radius);
            auto plug = turned("plug", on, a, plug_radius, chamber_roof / a.z() - plug_seen, plug_radius, 0);
            plug.keep = below_deck;
            out.surfaces.push_back(plug);
            wells.emplace_back([on, a](const Vec3& p) {
                const Vec3 d = p - on;
                const double z = a.dot(d);
                return d.squaredNorm() - z * z < plug_radius * plug_radius;
            });
            auto top = turned("roof", middle, Vec3::UnitZ(), 0, chamber_roof, chamber_radius, chamber_roof);
            top.keep = [wells](const Vec3& p) {
                return std::none_of(wells.begin(), wells.end(), [&](const auto& in) { return in(p); });
            };
            out.surfaces.push_back(top);
        }
    if (form.distractors)
        for (int k = 0; k < form.cylinders; ++k) {
            const double x = (k + 0.5) * form.spacing;
            Surface dome;
            dome.kind = Surface::Kind::sphere;
            dome.name = "dome";
            dome.at = {x, 8, 6};
            dome.rho0 = 12;
            dome.s0 = -12;
            dome.s1 = -6;
            out.surfaces.push_back(dome);
            Surface port;
            port.kind = Surface::Kind::pipe;
            port.name = "port";
            port.at = {x - 20, -30, -60};
            port.axis = Vec3(0.2, 1, 0.1).normalized();
            port.rho0 = 38;
            port.rho1 = 9;
            port.turn0 = 0.3;
            port.turn1 = 1.9;
            out.surfaces.push_back(port);
            auto groove = turned("groove", {x, -14, -8}, Vec3(0.1, 0.15, 1).normalized(), 4, -30, 4, 6);
            groove.turn0 = 0;
            groove.turn1 = pi;
            groove.keep = below_deck;
            out.surfaces.push_back(groove);
            // Two flat walls across the row, rings turned about +Y.
            for (const double apart : {-4.0, 4.0})
                out.surfaces.push_back(
                    turned("wall", {x + 18, apart - 5, -25}, Vec3::UnitY(), 0, apart, 12, apart));
        }
    if (form.chambers)
        for (int k = 0; k < form.cylinders; ++k)
            wells.emplace_back([middle = Vec2(k * form.spacing, 0)](const Vec3& p) {
                return (p.head<2>() - middle).norm() < chamber_radius;
            });
    Surface deck;
    deck.kind = Surface::Kind::rectangle;
    deck.name = "deck";
    deck.at = out.middle;
    deck.rho0 = out.half_x;
    deck.rho1 = out.half_y;
    deck.keep = [wells](const Vec3& p) {
        return std::none_of(wells.begin(), wells.end(), [&](const auto& in) { return in(p); });
    };
    out.surfaces.push_back(deck);
    return out;
}

struct Noise {
    double sd = 0.02, outliers = 0.3;
    double correlated = 0;  // length of patches that share half their variance, mm
};

// Points of a cloud in the head's frame: places with noise along their normals, and outliers in a box.
inline std::vector<Vec3> cloud_of(const Head& head, const std::vector<Sample>& places, const Noise& noise,
                                  Rng& rng) {
    std::vector<Vec3> out;
    out.reserve(places.size());
    const auto key = rng();
    for (const auto& s : places) {
        double e = normally(rng);
        if (noise.correlated > 0) {
            const auto cell = [&](double v) {
                return static_cast<std::int64_t>(std::floor(v / noise.correlated));
            };
            Rng patch(key ^ (static_cast<std::uint64_t>(cell(s.at.x())) * 0x9e3779b97f4a7c15ULL) ^
                      (static_cast<std::uint64_t>(cell(s.at.y())) * 0xc2b2ae3d27d4eb4fULL) ^
                      (static_cast<std::uint64_t>(cell(s.at.z())) * 0x165667b19e3779f9ULL));
            e = (e + normally(patch)) / std::sqrt(2.0);
        }
        out.push_back(s.at + noise.sd * e * s.normal);
    }
    const auto more =
        static_cast<std::size_t>(noise.outliers / (1 - noise.outliers) * static_cast<double>(out.size()));
    for (std::size_t i = 0; i < more; ++i)
        out.emplace_back(head.middle.x() + evenly(rng, -head.half_x, head.half_x),
                         evenly(rng, -head.half_y, head.half_y), evenly(rng, -90, 20));
    // A scanner's file is in no order that tells one surface from another.
    for (std::size_t i = out.size(); i > 1; --i) std::swap(out[i - 1], out[rng() % i]);
    return out;
}

}  // namespace seatwright::scan::made
