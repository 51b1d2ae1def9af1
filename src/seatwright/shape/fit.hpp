// Press fits of rings (seat inserts, guides) in the casting, by thick-cylinder theory.
//
// Diameters and interference mm (diametral, at 20 °C), pressures and moduli MPa, forces N, temperatures °C,
// expansion 1/K. Source: Lamé, as Shigley's Mechanical Engineering Design 9e eqs 7-39, 7-44, 7-45. Long rings
// of even wall are assumed; a casting is neither, so figures are for comparison, not for certification.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

inline constexpr double room_temperature = 20;

struct Elastic {
    double modulus = 0, poisson = 0, expansion = 0;
};

// A ring of bore d and outside D pressed into metal that answers as a ring of outside B; all from the axis
// out: 0 ≤ d < D < B.
struct PressFit {
    double d = 0, D = 0, B = 0, length = 0;
    double interference = 0;
    Elastic ring, around;
};

// p = δ / (D·[(1/E_h)((B²+D²)/(B²−D²) + ν_h) + (1/E_i)((D²+d²)/(D²−d²) − ν_i)]); never below 0.
double press_pressure(const PressFit& fit, double interference);

// δ(T) = δ + D·(α_i·(T_ring − 20) − α_h·(T_around − 20)).
double interference_at(const PressFit& fit, double ring_temperature, double around_temperature);

double hold_force(const PressFit& fit, double pressure, double friction);
double hoop_around(const PressFit& fit, double pressure);        // at the bore of the casting, tension
double hoop_at_ring_bore(const PressFit& fit, double pressure);  // −2·p·D²/(D²−d²)

// Either part alone at this temperature, the other at 20 °C, leaves no interference.
double ring_temperature_to_enter(const PressFit& fit);
double around_temperature_to_enter(const PressFit& fit);

// Usual interference of a seat insert by the casting's material: middle of 0.0015 to 0.002 per unit of
// diameter in iron, 0.0025 to 0.003 in aluminium (common practice).
double usual_insert_interference(double outside, const std::string& head_material);
// Of a guide: middle of 0.027 to 0.049 mm on 9.5 mm in aluminium, 0.0011 to 0.0026 in on 21.5 mm in iron
// (common practice).
double usual_guide_interference(double outside, const std::string& head_material);

struct Fits {
    std::vector<InsertFit> inserts;  // head order, valves whose kind has an insert
    std::vector<GuideFit> guides;    // kinds whose guide's outside diameter is known
    Notices notices;
};
Fits fits_of(const job::Job& job);

}  // namespace seatwright::shape
