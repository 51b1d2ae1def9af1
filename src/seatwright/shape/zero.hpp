// Where Z zero lies and how well it is known.
//
// Frame: m = R·(P − P_datum) of the setup, z up along the spindle; a seat's height s along its guide, 0 = the
// gauge circle as drawn, up positive. ζ is the height (in m's frame) of a cutter's gauge plane when the
// control shows 0, so that the seat v is reached at
//   Z_v = m_v + s_v − ζ,     s_v = −ρ_v − d_v (each old seat as little as it needs) or −f_v (one height).
// Lengths mm, angles rad. Everything here is closed form; nothing can fail.
//
// A touch on an old seat rests on its highest places, κ over where a valve of the drawing's form would rest;
// a feeler t between blade and face lifts the cutter by t/cos α along the spindle. A ball of radius r set on
// a deck of normal n lies with its lowest point r·(1/n_z − 1) over the metal under its centre.
#pragma once

#include <string_view>

#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/job/job.hpp"

namespace seatwright::shape {

enum class ZeroOn { old_seat, finished_seat, deck_point, block };
// "old seat", "finished seat", "deck point", "block": as JSON has it.
std::string_view word_of(ZeroOn on);

// The cutter resting on the old seat u.
struct OldSeatTouch {
    double m = 0;          // m_u
    double recession = 0;  // ρ_u
    double rest = 0;       // κ_u
    double feeler = 0;     // t
    double angle = 0;      // α of the face
};
double zeta_of(const OldSeatTouch& touch);  // m_u − ρ_u + κ_u + t/cos α

// The cutter resting on a seat its own form has cut: form on form, so κ is 0.
struct FinishedSeatTouch {
    double m = 0;
    double height = 0;  // s of that seat as measured: −ρ_u − D_u, or −f_u
    double feeler = 0;
    double angle = 0;
};
double zeta_of(const FinishedSeatTouch& touch);  // m_u + s_u + t/cos α

// A ball on the deck takes Z0; lengths of cutters are those to their lowest edge.
struct BallTouch {
    Vec3 under = Vec3::Zero();    // b: the metal under the ball's centre, m's frame
    Vec3 normal = Vec3::UnitZ();  // n: of the deck, m's frame
    double radius = 0;            // r
    double lowest = 0;            // gauge plane down to the cutter's lowest edge
};
double zeta_of(const BallTouch& touch);          // b_z + r·(1/n_z − 1) + lowest
double ball_over_metal(const BallTouch& touch);  // r·(1/n_z − 1)

// The cutter's lowest edge on a block standing on a deck square to the spindle.
struct BlockTouch {
    double deck = 0;  // b_z
    double block = 0;
    double lowest = 0;
};
double zeta_of(const BlockTouch& touch);  // b_z + k + lowest

// A block is read right only where the deck stands square to the spindle within this.
inline constexpr double block_square_within = 0.1 * rad_per_deg;

// A place of the deck as it is when seats are cut (`deck_cut` came off the drawing's), m's frame.
Vec3 deck_place(const Mat3& rotation, const Vec3& datum, const Vec2& at, double deck_cut);

// Z of the seat of map height m and seat height s, in a program of that ζ.
double stop_z(double m, double s, double zeta);

// From where the guide's axis pierces the deck as cut to the stop, along the axis: (P_z + q)/a_z + s, below
// the deck negative.
double deck_to_stop(double seat_z, double deck_cut, double axis_z, double s);

// Standard uncertainties; the defaults are common practice.
struct ZeroSds {
    double touch = 0.03;      // a cutter on an old seat
    double finished = 0.01;   // on a seat of its own form
    double ball = 0.01;       // a ball on the deck, an edge on a block
    double height = 0.02;     // ρ: a depth gauge
    double place = 0.05;      // each of X and Y of the point on the deck
    double tilt = rad(0.05);  // of the setup
};

// Standard uncertainty of Z at a seat v, Z0 taken on the seat u with `taking` (ZeroSds::touch or ::finished);
// `height_u`, `height_v`: of ρ_u, ρ_v. Cleanup: taking² + [v ≠ u]·(u_ρu² + u_ρv²), since the touched seat's
// own recession cancels. One height: the stop of every seat hangs on ρ_u and on no other, taking² + u_ρu²;
// where u's finished height itself was measured ρ_u is no part of it either.
struct SeatZeroU {
    ZeroOn on = ZeroOn::old_seat;
    job::DepthTo to = job::DepthTo::cleanup;
    bool the_touched = false;  // v is u
    double height_u = 0.02, height_v = 0.02;
};
double u_of_seat_zero(const SeatZeroU& of, const ZeroSds& sds);

// The same for Z0 on the deck: u² = u_ball² + (n_x/n_z·u_x)² + (n_y/n_z·u_y)² + (lever·u_tilt)² + u_ρv²
// (one height: no u_ρv). `lever`: from the point to the seat across the tilt axis, |Δy| in m's frame.
struct DeckZeroU {
    job::DepthTo to = job::DepthTo::cleanup;
    Vec3 normal = Vec3::UnitZ();
    double lever = 0;
    double height_v = 0.02;
};
double u_of_deck_zero(const DeckZeroU& of, const ZeroSds& sds);

// k = 2.
inline constexpr double expansion_factor = 2;

}  // namespace seatwright::shape
