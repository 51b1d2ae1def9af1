#include "seatwright/forecast/group.hpp"

#include <cmath>
#include <limits>

#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/forecast/single.hpp"

namespace seatwright::forecast {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
// Of a pose's three numbers, where chances given it are smooth and where they are 0 or 1.
constexpr std::size_t smooth_points = 1024, sharp_points = 16384;

}  // namespace

Group::Group(Batch batch, const std::vector<double>& nodes, bool judged, std::uint64_t seed, Tables& tables)
    : batch_(std::move(batch)),
      nodes_(nodes),
      seed_(seed),
      judged_(judged),
      has_heights_(batch_.stem_spread.has_value() ||
                   std::any_of(batch_.seats.begin(), batch_.seats.end(),
                               [](const Seat& s) { return !s.height.open(); })),
      poses_(std::any_of(batch_.setups.begin(), batch_.setups.end(),
                         [](const Held& held) { return held.pose.trace() > 0; })),
      chances_(chances_of(tables)),
      apart_(std::all_of(chances_[0].begin(), chances_[0].end(),
                         [](const SeatChance& chance) { return chance.parts(); })),
      sharing_(batch_, {!apart_, has_heights_}),
      own_height_(std::hypot(batch_.height_sd, batch_.depth_sd)),
      means_(batch_.seats.size()),
      enter_(scrambles, -1) {
    for (std::size_t w = 0; !apart_ && w < (judged_ ? ways.size() : 1); ++w)
        for (std::size_t i = 0; i < batch_.seats.size(); ++i) {
            const auto [miss, lean] = furthest(w, i);
            tables_[w].push_back(tables.chances.of(chances_[w][i], miss, lean));
        }
    sharp_ = std::any_of(chances_[0].begin(), chances_[0].end(), [&](const SeatChance& chance) {
        return apart_ ? chance.lean_softness() <= 0 : chance.softness() <= 0;
    });
    if (apart_) make_enters();
}

// Seats of one form share a table, as far as the furthest of them reaches.
void Group::make_enters() {
    const auto& chances = chances_[0];
    enter_of_.assign(chances.size(), chances.size());
    for (std::size_t i = 0; i < chances.size(); ++i) {
        if (enter_of_[i] < chances.size()) continue;
        double miss = 0;
        for (std::size_t j = i; j < chances.size(); ++j)
            if (j == i || chances[j].same(chances[i])) {
                enter_of_[j] = enters_.size();
                miss = std::max(miss, furthest(0, j).first);
            }
        enters_.emplace_back(chances[i], miss);
    }
}

Group::Chances Group::chances_of(Tables& tables) const {
    Chances out;
    for (std::size_t w = 0; w < (judged_ ? ways.size() : 1); ++w)
        for (const Seat& seat : batch_.seats) out[w].emplace_back(batch_, seat, ways[w], tables.counts);
    return out;
}

// How far |μ| and |κ| of a seat reach: so many sd of what is shared; beyond, a table's edge stands.
std::pair<double, double> Group::furthest(std::size_t way, std::size_t i) const {
    constexpr double reach = 5.6;
    const Seat& seat = batch_.seats[i];
    const Held& held = batch_.setups[seat.setup];
    Eigen::Matrix<double, 2, 3> by;
    by << 1, 0, -seat.from_posts.y(), 0, 1, seat.from_posts.x();
    const Mat2 covariance = by * held.pose * by.transpose();
    return {batch_.gain(seat) * reach * std::sqrt(numerics::principal_axes(covariance).large),
            chances_[way][i].lean_per_rad() * (seat.residual.norm() + reach * held.level_sd)};
}

double Group::mean_height(const Seat& seat, const Shared& shared, double head) const {
    return seat.planned_height.value_or(0) + shared.zero[seat.zero] -
           shared.attitude[seat.setup].dot(seat.from_zero) + batch_.depth_wear * worn(seat, head);
}

void Group::set_means(const Shared& shared, double head) const {
    for (std::size_t i = 0; i < means_.size(); ++i) means_[i] = mean_height(batch_.seats[i], shared, head);
}

// Of both kinds at means_; `sd` of the heights judged, the limits narrower by `by` and the spread by √2·by.
double Group::heights(double sd, double by) const {
    double all = 1;
    for (const auto kind : {job::Kind::intake, job::Kind::exhaust}) {
        stems_.clear();
        for (std::size_t i = 0; i < batch_.seats.size(); ++i) {
            const Seat& seat = batch_.seats[i];
            if (seat.kind != kind) continue;
            const Window window = seat.planned_height ? narrowed(seat.height, by) : Window{};
            stems_.push_back({means_[i], sd, window.low.value_or(-infinite), window.high.value_or(infinite)});
        }
        if (stems_.empty()) continue;
        const double spread = batch_.stem_spread ? *batch_.stem_spread - std::numbers::sqrt2 * by : infinite;
        all *= spread < 0 ? 0 : heights_good(stems_, spread);
    }
    return all;
}

double Group::each_height(Judged way) const {
    double all = 1;
    for (std::size_t i = 0; i < means_.size(); ++i)
        if (const Seat& seat = batch_.seats[i]; seat.planned_height)
            all *= single_chance(means_[i], own_height_, seat.height, batch_.height_u, way);
    return all;
}

double Group::seats_chance(std::size_t way, const Shared& shared) const {
    double all = 1;
    for (std::size_t i = 0; i < batch_.seats.size() && all > 0; ++i) {
        const Seat& seat = batch_.seats[i];
        const SeatChance& chance = chances_[way][i];
        if (apart_) {
            all *= chance.running(chance.lean_of(shared.attitude[seat.setup]).norm());
            continue;
        }
        const Vec2 miss = batch_.gain(seat) * moved(shared.pose[seat.setup], seat.from_posts);
        const Vec2 lean = chance.lean_of(shared.attitude[seat.setup]);
        const ChanceTable* table = tables_[way].empty() ? nullptr : tables_[way][i].get();
        all *= table != nullptr ? (*table)(miss, lean) : chance(miss, lean);
    }
    return all;
}

// Where the float is free: the chance that every pilot enters, over the poses, which nothing else hangs on.
double Group::all_enter(int scramble) const {
    double& known = enter_[static_cast<std::size_t>(scramble)];
    if (known >= 0) return known;
    double all = 1;
    for (std::size_t s = 0; s < batch_.setups.size(); ++s) {
        Batch one;
        one.setups = {batch_.setups[s]};
        one.setups.front().level_sd = 0;
        const Sharing sharing(one, {true, false});
        std::vector<std::size_t> seats;
        for (std::size_t i = 0; i < batch_.seats.size(); ++i)
            if (batch_.seats[i].setup == s && batch_.seats[i].room) seats.push_back(i);
        if (seats.empty()) continue;
        double sum = 0, n = 0;
        each_point(sharing.dimensions(), enter_points(), scramble, seed_, [&](const double* normal) {
            const Vec3 pose = sharing.of(normal).pose.front();
            double every = 1;
            for (std::size_t k = 0; k < seats.size() && every > 0; ++k) {
                const Seat& seat = batch_.seats[seats[k]];
                const double miss = batch_.gain(seat) * moved(pose, seat.from_posts).norm();
                const SeatChance& chance = chances_[0][seats[k]];
                every *= chance.softness() > 0 ? enters_[enter_of_[seats[k]]](miss) : chance.entering(miss);
            }
            sum += every;
            n += 1;
        });
        all *= sum / n;
    }
    known = all;
    return all;
}

std::size_t Group::enter_points() const {
    const auto sharp = [](const SeatChance& chance) { return chance.softness() <= 0; };
    return std::any_of(chances_[0].begin(), chances_[0].end(), sharp) ? sharp_points : smooth_points;
}

double Group::least_error(std::size_t points) const {
    double out = 0;
    if (sharp_ && sharing_.dimensions() > 0) out = 3 / static_cast<double>(points * scrambles);
    if (apart_ && poses_ && enter_points() == sharp_points)
        out = std::max(out, 3 / static_cast<double>(sharp_points * scrambles));
    return out;
}

void Group::good(int scramble, std::size_t points, std::vector<NodeChances>& out) const {
    for (NodeChances& node : out) node.good = 0;
    each_point(sharing_.dimensions(), points, scramble, seed_, [&](const double* normal) {
        const Shared shared = sharing_.of(normal);
        const double seats = seats_chance(0, shared);
        for (std::size_t n = 0; n < nodes_.size() && seats > 0; ++n) {
            double chance = seats;
            if (has_heights_) {
                set_means(shared, nodes_[n]);
                chance *= heights(own_height_, 0);
            }
            out[n].good += chance;
        }
    });
    const double enter = apart_ ? all_enter(scramble) : 1;
    for (NodeChances& node : out)
        node.good *= enter / (sharing_.dimensions() == 0 ? 1 : static_cast<double>(points));
}

void Group::verdicts(int scramble, std::size_t points, std::vector<NodeChances>& out) const {
    const double u = batch_.height_u.value_or(0), enter = apart_ ? all_enter(scramble) : 1;
    for (NodeChances& node : out) {
        node.good = node.pass = node.not_failed = 0;
        node.together.fill(0);
    }
    const int shared_numbers = sharing_.dimensions();
    each_point(shared_numbers, points, scramble, seed_, [&](const double* normal) {
        const Shared shared = sharing_.of(normal);
        const double good = seats_chance(0, shared), pass = seats_chance(1, shared),
                     not_failed = seats_chance(2, shared);
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            if (has_heights_) set_means(shared, nodes_[n]);
            const double sd = std::hypot(own_height_, u);
            out[n].good += good * (has_heights_ ? heights(own_height_, 0) : 1);
            out[n].pass += pass * (has_heights_ ? heights(sd, 2 * u) : 1);
            out[n].not_failed += not_failed * (has_heights_ ? heights(sd, -2 * u) : 1);
        }
    });
    const int drawn = batch_.stem_spread ? static_cast<int>(batch_.seats.size()) : 0;
    each_point(shared_numbers + drawn, points, scramble, seed_, [&](const double* normal) {
        const Shared shared = sharing_.of(normal);
        const double* own = normal + shared_numbers;
        std::array<double, ways.size()> seats{};
        for (std::size_t w = 0; w < ways.size(); ++w) seats[w] = seats_chance(w, shared);
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            std::array<double, ways.size()> height{1, 1, 1, 1, 1};
            if (has_heights_) {
                set_means(shared, nodes_[n]);
                if (batch_.stem_spread) {
                    for (std::size_t i = 0; i < means_.size(); ++i) means_[i] += own_height_ * own[i];
                    height[0] = heights(0, 0);
                    height[1] = heights(u, 2 * u);
                    height[2] = heights(u, -2 * u);
                    height[3] = height[0] * height[1];
                    height[4] = height[0] * height[2];
                } else {
                    for (std::size_t w = 0; w < ways.size(); ++w) height[w] = each_height(ways[w]);
                }
            }
            for (std::size_t w = 0; w < ways.size(); ++w) out[n].together[w] += seats[w] * height[w];
        }
    });
    const double n = shared_numbers == 0 ? 1 : static_cast<double>(points);
    const double m = shared_numbers + drawn == 0 ? 1 : static_cast<double>(points);
    for (NodeChances& node : out) {
        node.good *= enter / n;
        node.pass *= enter / n;
        node.not_failed *= enter / n;
        for (double& chance : node.together) chance *= enter / m;
    }
}

}  // namespace seatwright::forecast
