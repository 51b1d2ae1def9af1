#include "seatwright/forecast/spread.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/forecast/quadrature.hpp"
#include "seatwright/forecast/runout.hpp"

namespace seatwright::forecast {
namespace {

constexpr double spread_tail = 7;
constexpr int directions = 48;
constexpr int panel_nodes = 16;
constexpr double panel_phase = 18;  // that one panel of nodes takes
constexpr double most_nodes = 6000;

double bisect(double low, double high, double p, const auto& below) {
    for (int i = 0; i < 60 && high - low > 1e-12; ++i) {
        const double middle = (low + high) / 2;
        (below(middle) < p ? low : high) = middle;
    }
    return (low + high) / 2;
}

// Mean over directions of the characteristic function of one of them.
class Wave {
  public:
    explicit Wave(const Displaced& part) : part_(part) {
        const auto axes = numerics::principal_axes(part.covariance);
        round_ = axes.large - axes.small <= 1e-9 * axes.large;
        square_ = axes.large;
        for (int i = 0; i < directions && !round_; ++i) {
            const double turn = pi * i / directions;
            const Vec2 n(std::cos(turn), std::sin(turn));
            ways_.push_back({n.dot(part.centre), n.dot(part.covariance * n)});
        }
    }
    double operator()(double k) const {
        double out = 0;
        if (round_) out = ::j0(k * part_.centre.norm()) * std::exp(-0.5 * k * k * square_);
        for (const auto& [centre, square] : ways_)
            out += std::cos(k * centre) * std::exp(-0.5 * k * k * square) / directions;
        if (part_.ring > 0) out *= ::j0(part_.ring * k);
        if (part_.disc > 0) out *= k > 0 ? 2 * ::j1(part_.disc * k) / (part_.disc * k) : 1;
        return out;
    }

  private:
    struct Way {
        double centre, square;
    };
    const Displaced& part_;
    bool round_ = true;
    double square_ = 0;
    std::vector<Way> ways_;
};

}  // namespace

LengthSpread::LengthSpread(std::vector<Displaced> parts) : parts_(std::move(parts)) {
    double least = std::numeric_limits<double>::infinity();
    for (const Displaced& part : parts_) {
        const auto axes = numerics::principal_axes(part.covariance);
        const double most = std::sqrt(std::max(0.0, axes.large));
        least = std::min(least, std::sqrt(std::max(0.0, axes.small)));
        longest_ = std::max(longest_, part.centre.norm() + part.disc + part.ring + 7 * most);
        for (const double at : {part.centre.norm(), part.ring, part.disc, part.disc + part.ring,
                                std::abs(part.disc - part.ring)})
            cuts_.push_back(at);
    }
    if (parts_.empty() || longest_ <= 0) return;
    const double furthest = spread_tail / least;
    const double panels = least > 0 ? std::ceil(furthest * 2 * longest_ / panel_phase) + 1 : most_nodes;
    if (panels * panel_nodes > most_nodes) return;
    const std::vector<Wave> of(parts_.begin(), parts_.end());
    const auto& rule = Legendre<panel_nodes>::rule();
    k_.reserve(static_cast<std::size_t>(panels) * panel_nodes);
    weight_.reserve(k_.capacity());
    for (int p = 0; p < static_cast<int>(panels); ++p)
        for (std::size_t j = 0; j < panel_nodes; ++j) {
            const double half = furthest / panels / 2, k = half * (2 * p + 1 + rule.x[j]);
            double sum = 0;
            for (const Wave& one : of) sum += one(k);
            sum /= static_cast<double>(parts_.size());
            if (std::abs(sum) < 1e-16) continue;
            k_.push_back(k);
            weight_.push_back(half * rule.w[j] * sum);
        }
    // A smooth curve: known at few places it is known everywhere.
    const auto n = static_cast<std::size_t>(std::min(32 + 3.4 * longest_ / least, 600.0));
    std::vector<double> values;
    values.reserve(n);
    for (const double length : Chebyshev::places(0, longest_, n)) {
        double sum = 0;
        for (std::size_t i = 0; i < k_.size(); ++i) sum += weight_[i] * ::j1(length * k_[i]);
        values.push_back(sum * length);
    }
    curve_ = Chebyshev(0, longest_, values);
}

// The lesser axis does not vary, or hardly: its part goes into the blur, the other is integrated.
double LengthSpread::sharp_below(const Displaced& part, double length) const {
    const auto axes = numerics::principal_axes(part.covariance);
    const double small = std::sqrt(std::max(0.0, axes.small));
    const double along = std::sqrt(std::max(0.0, axes.large - axes.small));
    const Blur blur{part.disc, part.ring, small};
    if (along <= 0) return chance_within(part.centre.norm(), length, blur);
    const Vec2 way(std::cos(axes.turn), std::sin(axes.turn));
    return integral<64>(-6.5, 6.5, [&](double z) {
        return std::exp(-0.5 * z * z) / std::sqrt(2 * pi) *
               chance_within((part.centre + along * z * way).norm(), length, blur);
    });
}

double LengthSpread::below(double length) const {
    if (length <= 0 || parts_.empty()) return 0;
    if (length >= longest_) return 1;
    double sum = 0;
    if (!k_.empty()) return std::clamp(curve_(length), 0.0, 1.0);
    for (const Displaced& part : parts_) sum += sharp_below(part, length);
    return std::clamp(sum / static_cast<double>(parts_.size()), 0.0, 1.0);
}

double LengthSpread::square() const {
    double sum = 0;
    for (const Displaced& part : parts_)
        sum += part.centre.squaredNorm() + part.covariance.trace() + part.disc * part.disc / 2 +
               part.ring * part.ring;
    return parts_.empty() ? 0 : sum / static_cast<double>(parts_.size());
}

double LengthSpread::mean() const {
    if (longest_ <= 0) return 0;
    std::vector<double> cuts{0, longest_};
    constexpr int panels = 8;
    for (int i = 1; i < panels; ++i) cuts.push_back(longest_ * i / panels);
    if (k_.empty()) cuts.insert(cuts.end(), cuts_.begin(), cuts_.end());
    std::sort(cuts.begin(), cuts.end());
    double sum = 0;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
        if (cuts[i + 1] > cuts[i])
            sum += integral<8>(cuts[i], cuts[i + 1], [&](double l) { return 1 - below(l); });
    return sum;
}

double LengthSpread::quantile(double p) const {
    return bisect(0, longest_, p, [&](double l) { return below(l); });
}

double NormalMix::below(double x) const {
    const NormalTable& normal = normal_table();
    double sum = 0;
    for (const Part& part : parts_)
        sum += part.weight * (part.sd > 0 ? normal((x - part.mean) / part.sd) : (x >= part.mean ? 1.0 : 0.0));
    return total_ > 0 ? sum / total_ : 0;
}

double NormalMix::mean() const {
    double sum = 0;
    for (const Part& part : parts_) sum += part.weight * part.mean;
    return total_ > 0 ? sum / total_ : 0;
}

double NormalMix::sd() const {
    const double middle = mean();
    double sum = 0;
    for (const Part& part : parts_)
        sum += part.weight * (part.sd * part.sd + (part.mean - middle) * (part.mean - middle));
    return total_ > 0 ? std::sqrt(sum / total_) : 0;
}

double NormalMix::quantile(double p) const {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Part& part : parts_) {
        low = std::min(low, part.mean - 9 * part.sd);
        high = std::max(high, part.mean + 9 * part.sd);
    }
    return parts_.empty() ? 0 : bisect(low, high, p, [&](double x) { return below(x); });
}

}  // namespace seatwright::forecast
