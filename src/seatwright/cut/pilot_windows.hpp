// Whether one pilot, on one cutter, can lead one seat of one guide: how far it goes in, slides back, stands
// out.
//
// Lengths mm along the guide's axis. With the cutter's gauge plane at the stop of a seat of height s (shape's
// heights: −ρ − d, or −f), measured from that plane down unless said:
//   t' = to_seat + s          down to the guide's top
//   B  = reach − drop         down to the tip, slide out
//   G  = gauge_at − drop      down to the gauge line, slide out
//   ℓ ± u_ℓ                   the gauge line below the guide's top where a taper locks; u_ℓ = 2·sd/taper
//   c  = G − t' − ℓ           slide used at the stop (tapered, carried); 0 for one that slides in the guide
// Windows: seated before the blade is near, c − u_ℓ ≥ d + max(κ, 0) + approach + 1; never driven solid,
// c + u_ℓ ≤ slide; tip past the guide's far end B − c − t' − L ≤ below − 2, at the least slide used; engaged
// min(L, B − c − t') ≥ 2 diameters and ≥ 0.6 L. A planted pilot's top stands above − t' − ℓ (+ u_ℓ) over the
// gauge plane: the tool's bore swallows that.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "seatwright/job/job.hpp"
#include "seatwright/words/held_back.hpp"

namespace seatwright::cut {

// Standard deviation of a bore reading (common practice, split-ball or bore gauge).
inline constexpr double bore_sd = 0.002;
// A slide stands this much out before the blade is near; the tip stays so far off the floor under a guide.
inline constexpr double seated_before = 1;
inline constexpr double tip_off_floor = 2;
// Shortest engagement, in diameters and as a share of the guide.
inline constexpr double engaged_diameters = 2;
inline constexpr double engaged_share = 0.6;
// A pilot so much smaller than its bore leads nothing, whatever else is known (beyond twice the trade's wear
// limits). Where the seat's runout limit is known, a parallel pilot's play keeps it, carried or live:
// 2·play·sin α ≤ runout_max.
inline constexpr double most_clearance = 0.3;
// A parallel pilot for a guide not read leaves so much of the drawing bore (from memory).
inline constexpr double unread_clearance = 0.01;
// The body passes beside a planted pilot no nearer than this.
inline constexpr double clear_beside_planted = 1;
// Before any move sideways the tip is so far over the mouth.
inline constexpr double tip_over_mouth = 5;

// [cut] pilot, else by the pilot: live where its style is written so.
job::PilotUse use_of(const job::CutRules& rules, const job::Pilot& pilot);

// What is wrong with a style for a use; empty: they go together. Tapered: carried, planted. Parallel:
// carried, live.
Sentence pairing_fault(job::PilotUse use, const job::Pilot& pilot);

// A guide with its seat as planned.
struct GuideAtStop {
    std::size_t valve = 0;
    std::string id;
    job::Kind kind = job::Kind::intake;
    const job::GuideForm* form = nullptr;  // never null once asked about
    const job::GuideBore* read = nullptr;  // null: not read
    double stop = 0;                       // s of the stop
    double depth = 0;                      // d, at least 0
    double rest = 0;                       // κ
    double approach = 1;
    double seat_angle = rad(45);
    std::optional<double> runout_max;
};

// How a pilot stands in a guide.
struct PilotStand {
    job::PilotUse use = job::PilotUse::carried;
    double clearance = 0;                           // diameter, by the least reading; 0 when locked
    std::optional<double> play;                     // radius, at the seat
    std::optional<double> lock, lock_u;             // ℓ, u_ℓ
    double to_guide = 0;                            // t'
    std::optional<double> slide_used;               // c
    std::optional<double> tip_past, tip_past_most;  // of the guide's far end
    std::optional<double> engaged;
    std::optional<double> clear_above_stop;  // gauge plane over the stop with the tip 5 over the mouth
    std::optional<double> top, top_most;     // planted: over the finished gauge plane
};

// Why it cannot.
struct Misfit {
    HeldCode code = HeldCode::no_pilot;
    Sentence reason;  // a sentence without the valve's name
    Sentence frees;
    bool fits_bore = false;  // only a window, a room or a figure stands against it
    // Then by how much it fails the worst of its windows, mm along the guide; 0: a figure alone is missing.
    double lacks = 0;
};

using Stand = tl::expected<PilotStand, Misfit>;

// `use` is not none. A figure the way needs and the shelf or drawing does not give: code missing, `frees` its
// key ("pilot.reach", "guide.intake.below").
Stand stand_of(job::PilotUse use, const job::Pilot& pilot, const job::Cutter& cutter,
               const GuideAtStop& guide);

// No pilot: the spindle alone gives the axis. Greatest runout by place and plumb together,
// 2·(q·sin α + D_g/2·ε·cos α), q the guide's place at k = 2 (largest standard deviation of any direction).
struct SpindleAxis {
    double place_sd = 0;
    double plumb_error = 0;
    double seat_angle = rad(45);
    double gauge_diameter = 0;
    std::optional<double> runout_max;
    job::Kind kind = job::Kind::intake;
};
double runout_without_pilot(const SpindleAxis& axis);
// Empty: no pilot is needed.
std::optional<Misfit> without_pilot(const SpindleAxis& axis);

}  // namespace seatwright::cut
