// Of a group: verdicts and risks, what is told of its heads beside what they are.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "seatwright/forecast/good_stretch.hpp"
#include "seatwright/forecast/group.hpp"
#include "seatwright/forecast/quadrature.hpp"

namespace seatwright::forecast {
namespace {

constexpr double nothing = 1e-12;

}  // namespace

// e^(−r²/2)·|r|^(D−1)/(2^(D/2)·Γ(D/2)).
Group::Distance::Distance(int dimensions)
    : power_(dimensions - 1), furthest_(std::sqrt(static_cast<double>(dimensions)) + 5) {
    // ln Γ(D/2) from Γ(1/2) or Γ(1) up.
    double gamma = dimensions % 2 == 0 ? 0 : std::log(std::numbers::pi) / 2;
    for (int k = dimensions - 2; k > 0; k -= 2) gamma += std::log(k / 2.0);
    scale_ = -dimensions / 2.0 * std::numbers::ln2 - gamma;
}

// It rises up to √(D − 1) and falls from there.
double Group::Distance::most(double from, double to) const {
    const double peak = std::sqrt(std::max(0.0, power_));
    const double near = from <= 0 && to >= 0 ? 0 : std::min(std::abs(from), std::abs(to));
    return (*this)(std::clamp(peak, near, std::max(std::abs(from), std::abs(to))));
}

double Group::Distance::operator()(double r) const {
    const double far = std::abs(r);
    if (power_ <= 0) return std::exp(scale_ - 0.5 * far * far);
    return far > 0 ? std::exp(scale_ + power_ * std::log(far) - 0.5 * far * far) : 0;
}

// What is told of heights at odds with what they are: that they are bad and passed, and that they are good
// and failed, with runouts that agree, over one line through all that moves heights. Heads next to a limit
// are few, but every line meets its limits somewhere, and there the sum along it is fine.
Group::AtOdds Group::along_line(const Shared& shared, const std::vector<double>& moves,
                                const Distance& density, double head) const {
    const double u = batch_.height_u.value_or(0);
    Shared here = shared;
    std::vector<double> rest(means_.size());
    for (std::size_t i = 0; i < rest.size(); ++i) {
        const Seat& seat = batch_.seats[i];
        rest[i] = seat.planned_height.value_or(0) + batch_.depth_wear * worn(seat, head);
    }
    const double furthest = density.furthest();
    const auto passed = [&] { return heights(u, 2 * u); };
    const auto failed = [&] { return 1 - heights(u, -2 * u); };
    // Runouts change slowly along it: they are asked for once a panel, where most of it lies.
    constexpr double a_panel = 3;  // widths of the reading
    // What lies just at a limit is read 2 standard uncertainties off it with this chance.
    constexpr double at_the_limit = 0.0228, too_little = 1e-9;
    const auto& rule = Legendre<4>::rule();
    const auto sum = [&](double from, double to, double wide, double most, std::size_t way, const auto& of) {
        from = std::max(from, -furthest);
        to = std::min(to, furthest);
        if (!(to > from)) return 0.0;
        const double panels = std::clamp(std::ceil((to - from) / (a_panel * wide)), 1.0, most);
        const double half = (to - from) / panels / 2;
        double all = 0;
        for (double p = 0; p < panels; ++p) {
            if (2 * half * density.most(from + 2 * half * p, from + 2 * half * (p + 1)) * at_the_limit <
                too_little)
                continue;
            double one = 0, where = 0;
            for (std::size_t k = 0; k < rule.x.size(); ++k) {
                const double r = from + half * (2 * p + 1 + rule.x[k]),
                             weight = half * rule.w[k] * density(r);
                if (weight < nothing) continue;
                for (std::size_t i = 0; i < rest.size(); ++i) means_[i] = rest[i] + r * moves[i];
                const double chance = weight * of();
                one += chance;
                where += chance * r;
            }
            if (one < nothing) continue;
            for (std::size_t s = 0; s < here.attitude.size(); ++s)
                here.attitude[s] = where / one * shared.attitude[s];
            all += one * seats_chance(way, here);
        }
        return all;
    };
    const GoodStretch good = good_stretch(batch_, rest, moves, u);
    if (good.none) return {sum(-furthest, furthest, 1.0 / 3, 16, 3, passed), 0};
    const GoodEnd &low = good.low, &high = good.high;
    const double middle =
        std::clamp((std::max(low.at, -furthest) + std::min(high.at, furthest)) / 2, -furthest, furthest);
    AtOdds out;
    out.bad_passed = sum(high.at, high.at + a_panel * high.wide, high.wide, 1, 3, passed) +
                     sum(low.at - a_panel * low.wide, low.at, low.wide, 1, 3, passed);
    constexpr double most = 3, least = 1e-9;
    out.good_failed =
        sum(std::max({high.near, middle, low.at}), high.at, std::max(high.wide, least), most, 4, failed) +
        sum(low.at, std::min({low.near, middle, high.at}), std::max(low.wide, least), most, 4, failed);
    return out;
}

// Over one point: a line through it, where anything moves heights.
Group::AtOdds Group::at_odds(const double* normal, const Distance& density, double head) const {
    const double u = batch_.height_u.value_or(0);
    if (u <= 0) return {};
    const int of_heights = sharing_.of_heights(), shared_numbers = sharing_.dimensions();
    Shared shared = sharing_.of(normal);
    const double* own = own_height_ > 0 ? normal + shared_numbers : nullptr;
    double square = 0;
    for (int k = 0; k < of_heights; ++k) square += normal[k] * normal[k];
    for (std::size_t i = 0; own != nullptr && i < means_.size(); ++i) square += own[i] * own[i];
    if (square <= 0) {
        set_means(shared, head);
        if (heights(0, 0) > 0) return {0, (1 - heights(u, -2 * u)) * seats_chance(4, shared)};
        return {heights(u, 2 * u) * seats_chance(3, shared), 0};
    }
    const double length = std::sqrt(square);
    for (Vec2& attitude : shared.attitude) attitude /= length;
    std::vector<double> moves(means_.size());
    for (std::size_t i = 0; i < moves.size(); ++i) {
        const Seat& seat = batch_.seats[i];
        moves[i] = (shared.zero[seat.zero] + (own != nullptr ? own_height_ * own[i] : 0)) / length -
                   shared.attitude[seat.setup].dot(seat.from_zero);
    }
    return along_line(shared, moves, density, head);
}

// The mean of that. A node after the other takes its part of the points.
std::vector<Group::AtOdds> Group::odds(int scramble, std::size_t points) const {
    std::vector<AtOdds> out(nodes_.size());
    if (!has_heights_) return out;
    const int own = own_height_ > 0 ? static_cast<int>(batch_.seats.size()) : 0;
    const int numbers = sharing_.dimensions() + own;
    const Distance density(sharing_.of_heights() + own);
    const std::size_t all = numbers == 0 ? 1 : points;
    std::vector<double> count(nodes_.size(), 0);
    std::size_t p = 0;
    each_point(numbers, points, scramble, seed_, [&](const double* normal) {
        const bool few = all < nodes_.size();
        const std::size_t first = few ? 0 : p * nodes_.size() / all, last = few ? nodes_.size() : first + 1;
        ++p;
        for (std::size_t n = first; n < last; ++n) {
            ++count[n];
            const AtOdds at = at_odds(normal, density, nodes_[n]);
            out[n].bad_passed += at.bad_passed;
            out[n].good_failed += at.good_failed;
        }
    });
    for (std::size_t n = 0; n < out.size(); ++n) {
        out[n].bad_passed /= std::max(1.0, count[n]);
        out[n].good_failed /= std::max(1.0, count[n]);
    }
    return out;
}

void Group::verdicts(int scramble, std::size_t lines, std::vector<NodeChances>& out) const {
    constexpr std::size_t points_a_line = 8;
    const std::size_t points = points_a_line * lines;
    std::vector<std::vector<double>> rates;
    if (weaves_.empty())
        by_points(scramble, points, ways.size(), rates);
    else
        rates = woven(ways.size(), scramble, points);
    const auto at_odds = odds(scramble, lines);
    const double enter = apart_ ? all_enter(scramble, enter_points(points)) : 1;
    for (std::size_t n = 0; n < out.size(); ++n) {
        for (std::size_t w = 0; w < ways.size(); ++w) out[n].of[w] = rates[w][n] * enter;
        out[n].of[3] -= at_odds[n].bad_passed * enter;
        out[n].of[4] -= at_odds[n].good_failed * enter;
    }
}

}  // namespace seatwright::forecast
