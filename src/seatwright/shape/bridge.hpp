// The metal left between a seat and whatever is beside it: least distance in space, between circles where
// seats meet the chamber, between solids of revolution where bores and rings go into the metal.
//
// Head frame, lengths mm.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/shape.hpp"
#include "seatwright/shape/solids.hpp"

namespace seatwright::shape {

struct Circle {
    Vec3 centre = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();  // unit
    double radius = 0;
};

// Least distance between two circles in space (the curves, not the discs); 0 when they cross. To 1e-9 of
// their size, by sampling one and refining every local minimum of its distance to the other.
double circle_distance(const Circle& a, const Circle& b);

// By how much circle b reaches into the cylinder that rises from circle a along its normal, where a tool
// coming down on a would sweep: negative when it does, the radial room left otherwise (no_room when b lies
// wholly below a).
double room_in_sweep(const Circle& a, const Circle& b);

// Distance of a seat from the edge that encloses it; negative when it sticks out through the wall that rises
// from the edge.
double room_inside(const Circle& edge, const Circle& seat);

// The bridge: circle_distance, or, when either reaches into the other's sweep, the (negative) overlap.
double bridge_between(const Circle& a, const Circle& b);

// What a person and a cutter make of the head about one guide, as solids of revolution about its axis.
struct SeatSolids {
    Circle edge;                 // outermost circle of the section
    std::vector<Frustum> swept;  // section, and the way of the cutter above it up to the deck
    std::optional<Frustum> ring;
};

// The section (of the form, or of a blade's own edge) sunk by `depth` along the guide axis. The ring, or the
// counterbore it stands in, reaches from the outer end of the form as drawn, `insert.depth` down; it does not
// sink with the seat that is cut in it.
SeatSolids solids_of(const job::Valve& valve, const Section& section, double depth,
                     const std::optional<Frustum>& ring);
std::optional<Frustum> ring_of(const job::Valve& valve, const job::SeatForm& form, const Section& drawn);

// A bore as far as it runs: without a length to beyond any casting.
Frustum solid_of(const job::Obstacle& obstacle);

// A thing beside a seat: another seat (its circle, what is swept there, its ring), a bore, or the edge of the
// cylinder bore, which encloses the seat.
struct Neighbour {
    enum class What { seat, bore, edge } what = What::seat;
    std::string name;
    SeatSolids solids;  // of a bore the first of `swept`, of the edge `edge` alone
};

struct Nearest {
    double bridge = 0;
    std::string to;
    bool by_ring = false;  // the ring, not the form, is what comes so near
};
// The neighbour with the least bridge; a seat named `self` is passed over.
//   another seat  bridge_between their circles, and the walls between either's ring and the other's ring and
//                 sweep
//   a bore        the wall between it and all that is swept, and the ring
//   the edge      room_inside
std::optional<Nearest> nearest(const SeatSolids& seat, const std::vector<Neighbour>& neighbours,
                               const std::string& self = {});

// The same for what stands above a blade, a cylinder of `radius` rising from `height` along the guide's axis.
// It cuts nothing: it strikes another seat only where that seat's circle or ring stands in its way, and the
// cylinder bore's edge only while part of it is below the deck.
std::optional<Nearest> nearest_to_body(const Frustum& body, const std::vector<Neighbour>& neighbours,
                                       const std::string& self = {});

// Circle of section point (r, z) of a valve, sunk by `depth` along its guide axis.
Circle circle_of(const job::Valve& valve, const Vec2& point, double depth);

// The cylinder of `radius` from the height `z` of the valve's seat frame up to where all of it is above the
// deck.
Frustum rising_from(const job::Valve& valve, double z, double radius);

// Every bore of the head.
std::vector<Neighbour> bores_of(const job::Head& head);
// The edge of this valve's cylinder bore in the deck plane, if its diameter is known.
std::optional<Neighbour> bore_edge_of(const job::Head& head, const job::Valve& valve);

}  // namespace seatwright::shape
