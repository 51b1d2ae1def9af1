#include "seatwright/cut/chatter.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::cut {

namespace {

// Newton steps guarded by bisection settle in about six; the cap is for bisection alone.
constexpr int root_steps = 80;
constexpr double root_tolerance = 1e-12;
constexpr int widest_candidates = 400;
constexpr int most_calm_speeds = 500;
// Jumps from lobe to lobe while looking for a stable speed; each lowers the speed by a step or more.
constexpr int most_jumps = 100'000;

// Frequencies in turns of one blade pass: ω·T/2π at ω = ω₀.
double natural_waves(const Lobes& lobes, double rpm) {
    return 60 * lobes.mode.frequency / (rpm * lobes.blades);
}

// Lobe number as a real function of frequency at a given speed, and its slope: increasing in ratio.
struct LobeNumber {
    double value = 0, slope = 0;
};
LobeNumber lobe_number(const Lobes& lobes, double waves, double ratio) {
    const double zeta = lobes.mode.damping;
    const double gap = ratio * ratio - 1;
    const double spread = gap * gap + 4 * zeta * zeta * ratio * ratio;
    const double phase_slope = -4 * zeta * (ratio * ratio + 1) / spread;
    return {waves * ratio - wave_phase(lobes, ratio) / (2 * pi), waves - phase_slope / (2 * pi)};
}

// Frequency ratio in low..high at which the lobe number is `j`.
double ratio_on_lobe(const Lobes& lobes, double waves, double j, double low, double high) {
    double ratio = 0.5 * (low + high);
    for (int i = 0; i < root_steps; ++i) {
        const LobeNumber at = lobe_number(lobes, waves, ratio);
        (at.value < j ? low : high) = ratio;
        double next = ratio + (j - at.value) / at.slope;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - ratio) <= root_tolerance * ratio) return next;
        ratio = next;
    }
    return ratio;
}

double floor_to(double value, double step) {
    // A speed that is a multiple up to rounding stays where it is.
    return std::floor(value / step * (1 + 1e-12)) * step;
}

}  // namespace

double border_width(const Lobes& lobes, double ratio) {
    const double zeta = lobes.mode.damping;
    const double gap = ratio * ratio - 1;
    require(gap > 0, "chatter is faster than the mode");
    const double spread = gap * gap + 4 * zeta * zeta * ratio * ratio;
    return lobes.mode.stiffness * spread / (2 * lobes.cutting_stiffness * gap);
}

double wave_phase(const Lobes& lobes, double ratio) {
    // 3π + 2·atan2(Im G, Re G) written so that it stays exact as ratio nears 1.
    return pi + 2 * std::atan2(2 * lobes.mode.damping * ratio, ratio * ratio - 1);
}

double lobe_rpm(const Lobes& lobes, double ratio, int j) {
    return 60 * lobes.mode.frequency * ratio / (lobes.blades * (j + wave_phase(lobes, ratio) / (2 * pi)));
}

double least_width(const Lobes& lobes) {
    const job::Mode& mode = lobes.mode;
    return 2 * mode.stiffness * mode.damping * (1 + mode.damping) / lobes.cutting_stiffness;
}

double stable_width(const Lobes& lobes, double rpm) {
    require(rpm > 0, "the spindle turns");
    const double waves = natural_waves(lobes, rpm);
    const double bottom = std::sqrt(1 + 2 * lobes.mode.damping);
    // b_lim falls up to `bottom` and rises after it: only the lobes on either side of it can be the lowest.
    const double before = std::floor(lobe_number(lobes, waves, bottom).value);
    double width = std::numeric_limits<double>::infinity();
    if (before >= 0 && before > waves - 1)
        width = border_width(lobes, ratio_on_lobe(lobes, waves, before, 1, bottom));
    const double after = std::max(0.0, before + 1);
    const double reach = (after + 1) / waves;  // ε <= 2π
    if (reach > bottom)
        width = std::min(width, border_width(lobes, ratio_on_lobe(lobes, waves, after, bottom, reach)));
    return width;
}

std::optional<double> fastest_stable(const Lobes& lobes, double width, double low, double high, double step) {
    const double zeta = lobes.mode.damping;
    double rpm = floor_to(high, step);
    if (rpm < low || rpm <= 0) return std::nullopt;
    // b_lim(r) = width: t² + (4ζ² − q)·t + 4ζ² = 0 in t = r² − 1, q = 2·K_f·width/k.
    const double linear = 2 * lobes.cutting_stiffness * width / lobes.mode.stiffness - 4 * zeta * zeta;
    const double square = linear * linear - 16 * zeta * zeta;
    if (linear <= 0 || square <= 0) return rpm;  // below the least border
    const double far = 0.5 * (linear + std::sqrt(square));
    const double r1 = std::sqrt(1 + 4 * zeta * zeta / far), r2 = std::sqrt(1 + far);
    const double e1 = wave_phase(lobes, r1) / (2 * pi), e2 = wave_phase(lobes, r2) / (2 * pi);
    for (int jump = 0; jump < most_jumps && rpm >= low && rpm > 0; ++jump) {
        const double waves = natural_waves(lobes, rpm);
        const double first = waves * r1 - e1, last = waves * r2 - e2;  // unstable lobe numbers lie between
        const double lobe = std::ceil(last) - 1;
        if (lobe <= first || lobe < 0) return rpm;
        // Neighbouring lobes overlap here, and the more so the slower the spindle turns.
        if (last - first > 1 && first > -1) return std::nullopt;
        rpm = std::min(floor_to(lobe_rpm(lobes, r1, static_cast<int>(lobe)), step), rpm - step);
    }
    return std::nullopt;
}

WidestStable widest_stable(const Lobes& lobes, double low, double high, double step) {
    const double top = floor_to(high, step);
    const double count = std::floor((top - low) / step);
    const double stride = step * std::max(1.0, std::ceil(count / widest_candidates));
    WidestStable best;
    for (int i = 0; i <= widest_candidates + 1; ++i) {
        const double rpm = top - i * stride;
        if (rpm < low || rpm <= 0) break;
        const double width = stable_width(lobes, rpm);
        if (width > best.width * (1 + root_tolerance)) best = {rpm, width};
    }
    if (best.rpm <= 0 && low > 0) best = {low, stable_width(lobes, low)};
    return best;
}

double frequency_of_marks(int marks, double rpm) {
    return marks * rpm / 60;
}

std::vector<double> calm_speeds(double frequency, int blades, double low, double high) {
    std::vector<double> speeds;
    if (!(frequency > 0) || blades < 1 || high < low) return speeds;
    const double fastest = 60 * frequency / blades;
    const double first = std::max(1.0, std::ceil(fastest / high * (1 - 1e-12)));
    for (double j = first; speeds.size() < most_calm_speeds && fastest / j >= low; ++j)
        speeds.push_back(fastest / j);
    return speeds;
}

}  // namespace seatwright::cut
