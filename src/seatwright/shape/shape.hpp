// shape: what section must each seat have, how deep must each be cut, which cutter makes it, recut or insert?
//
// Seat frame: r from the guide axis, z = 0 at the new gauge circle before any depth is cut, z up towards the
// spindle. Lengths mm, volumes mm3, angles rad, pressures MPa, forces N, temperatures °C.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/find/find.hpp"

namespace seatwright::shape {

struct Section {
    double contact_od = 0, contact_id = 0, gauge = 0;
    std::vector<Vec2> points;  // (r, z), inside to outside
};

enum class Decision { cut, insert, not_allowed };

struct Seat {
    std::size_t valve = 0;
    Section section;
    std::optional<std::size_t> cutter;    // index into job.cutters
    std::optional<double> blade_setting;  // diameter
    std::optional<double> cleanup;
    std::optional<double> depth_low, depth_high;  // limits of this seat alone
    std::optional<double> depth;
    std::optional<double> z;  // from the reference job.depth.from names: touch −depth; deck along the
                              // guide axis; datum map z − depth
    std::optional<double> program_z;  // the same point in the setup's program coordinates
    std::optional<double> stem_height_after, recession_added, removed;
    std::optional<double> bridge;
    std::string bridge_to;  // valve id, obstacle name, "bore"
    std::optional<double> insert_wall;
    std::optional<double> tip_grind, spring_shim, lash_shim;
    Decision decision = Decision::cut;
};

struct DepthPlan {
    std::optional<double> total;
    job::PerKind<std::optional<double>> stem_spread;
    std::optional<double> chamber_spread;  // mm3
    bool feasible = true;
    std::vector<std::string> conflict;
};

struct InsertFit {
    std::size_t valve = 0;
    double pressure = 0, pressure_hot = 0, hold_force = 0, hoop = 0;
    double insert_temperature = 0, head_temperature = 0;
};

struct Sensitivity {
    job::Kind kind = job::Kind::intake;
    double facet_angle = 0;
    double width_per_depth = 0;
};

struct NearMiss {
    job::Kind kind = job::Kind::intake;
    std::size_t cutter = 0;
    std::string why;  // "30 deg facet 0.3 mm short"
};

struct Shape : Notices {
    std::string head;         // whose readings were used
    std::vector<Seat> seats;  // head order
    DepthPlan depth;
    std::vector<InsertFit> inserts;
    std::vector<Sensitivity> sensitivity;
    std::vector<NearMiss> near_misses;
};

Shape design(const job::Job& job, const hold::Hold& hold, const find::Find& find, const std::string& head);

}  // namespace seatwright::shape
