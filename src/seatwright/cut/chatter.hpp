// Regenerative chatter of one measured mode.
//
// The blade cuts the wave left one pass before: x'' + 2ζω₀x' + ω₀²x = −(ω₀²/k)·K_f·b·(x(t) − x(t − T)), with
// T = 60/(n·z). On the border of stability b_lim(ω) = −1/(2·K_f·Re G(ω)) with G = 1/(k·(1 − r² + 2iζr)),
// r = ω/ω₀, and the phase between waves is ε = 3π + 2·arg G, so that ω·T = 2πj + ε for lobe j = 0, 1, 2, …
// (Tobias and Fishwick 1958; Altintas, Manufacturing Automation, ch. 4). The least border is 2kζ(1+ζ)/K_f at
// r = √(1 + 2ζ). Derivation and limits: docs/cut-chatter.md. Lengths mm, N/mm, Hz, rpm in turns a minute.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/job/shop.hpp"

namespace seatwright::cut {

struct Lobes {
    job::Mode mode;
    double cutting_stiffness = 0;  // K_f, N/mm per mm of form width, all blades together
    int blades = 1;
};

// Border width at chatter frequency `ratio` = ω/ω₀ > 1.
double border_width(const Lobes& lobes, double ratio);

// Phase between the waves, rad, in (π, 2π), for ratio > 1.
double wave_phase(const Lobes& lobes, double ratio);

// Speed at which lobe `j` has its border at frequency `ratio`.
double lobe_rpm(const Lobes& lobes, double ratio, int j);

// Stable at any speed up to here.
double least_width(const Lobes& lobes);

// Largest width stable at `rpm` > 0: the lowest lobe there. Relative accuracy 1e-9.
double stable_width(const Lobes& lobes, double rpm);

// Fastest multiple of `step` in low..high at which `width` is stable, if there is one.
std::optional<double> fastest_stable(const Lobes& lobes, double width, double low, double high, double step);

struct WidestStable {
    double rpm = 0;
    double width = 0;
};
// Speed of a grid of multiples of `step` in low..high (at most 400 of them) with the greatest stable width;
// the faster one of equals. Falls back to `low` when no multiple lies inside.
WidestStable widest_stable(const Lobes& lobes, double low, double high, double step);

// Frequency that `marks` marks round the seat betray when it was cut at `rpm`.
double frequency_of_marks(int marks, double rpm);

// Speeds 60·f/(z·j), j = 1, 2, …, inside low..high, fastest first: each blade meets the last wave in step. At
// most 500.
std::vector<double> calm_speeds(double frequency, int blades, double low, double high);

}  // namespace seatwright::cut
