#include "seatwright/forecast/group.hpp"

#include <cmath>
#include <limits>

#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/forecast/over_poses.hpp"
#include "seatwright/forecast/single.hpp"

namespace seatwright::forecast {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
// Seats good and passed go with heights passed, seats good and not failed with heights good: what is left of
// the joint chances hangs on heights next to their limits alone (group_told.cpp).
constexpr std::array<std::size_t, ways.size()> heights_of{0, 1, 2, 1, 0};

// Of a pose's three numbers, where chances given it are 0 or 1.
constexpr std::size_t sharp_points = 16384;

// Errors of an even sum go as e^(−c/h²) with the distance h: those of every other place alone, which are
// seen, are the fourth root of its own. The third power is what is said.
double error_of(double all, double even, double fineness) {
    const double off = std::abs(all - even);
    return std::min(off, 3 * off * off * off) + (fineness > 1 ? 3e-5 : 1e-6);
}

}  // namespace

Group::Group(Task task)
    : batch_(std::move(task.batch)),
      nodes_(task.nodes),
      seed_(task.seed),
      judged_(task.judged),
      has_heights_(batch_.stem_spread.has_value() ||
                   std::any_of(batch_.seats.begin(), batch_.seats.end(),
                               [](const Seat& s) { return !s.height.open(); })),
      poses_(std::any_of(batch_.setups.begin(), batch_.setups.end(),
                         [](const Held& held) { return held.pose.trace() > 0; })),
      kept_(task.tables),
      chances_(chances_of(task.tables)),
      apart_(std::all_of(chances_[0].begin(), chances_[0].end(),
                         [](const SeatChance& chance) { return chance.parts(); })),
      sharing_(batch_, {!apart_, has_heights_}),
      fineness_(task.fineness),
      own_height_(std::hypot(batch_.height_sd, batch_.depth_sd)),
      seats_of_(batch_.setups.size()),
      means_(batch_.seats.size()) {
    for (std::size_t i = 0; i < batch_.seats.size(); ++i) seats_of_[batch_.seats[i].setup].push_back(i);
    for (std::size_t w = 0; !apart_ && w < (judged_ ? ways.size() : 1); ++w)
        for (std::size_t i = 0; i < batch_.seats.size(); ++i) {
            const auto [miss, lean] = furthest(w, i);
            tables_[w].push_back(kept_.chances.of(chances_[w][i], miss, lean, w == 0 || !tables_[0][i]));
        }
    sharp_ = std::any_of(chances_[0].begin(), chances_[0].end(), [&](const SeatChance& chance) {
        return apart_ ? chance.lean_softness() <= 0 : chance.softness() <= 0;
    });
    if (apart_) make_enters();
    make_poses(task.fineness);
    make_weaves(task.fineness);
}

bool Group::varies() const {
    if (weaves_.empty()) return sharing_.dimensions() > 0 || (apart_ && poses_);
    return pose_points_;
}

// A sum over attitudes for each setup, and over it the heights of each way judged.
void Group::make_weaves(double fineness) {
    const double u = batch_.height_u.value_or(0);
    for (std::size_t w = 0; w < (judged_ ? 3 : 1); ++w) {
        const bool measured = w > 0;
        const double by = !measured ? 0 : ways[w] == Judged::passed ? 2 * u : -2 * u;
        auto terms = woven_of(
            {batch_, nodes_, measured ? std::hypot(own_height_, u) : own_height_, by, fineness, &kept_.rows});
        if (terms.empty()) {
            weaves_.clear();
            return;
        }
        weaves_.push_back(std::move(terms));
    }
    std::vector<Attitudes> attitudes(batch_.setups.size());
    for (std::size_t s = 0; s < attitudes.size(); ++s) {
        if (seats_of_[s].empty()) continue;
        double round = 0;  // runouts hang on attitudes of any direction alike
        for (const std::size_t i : seats_of_[s]) round = std::max(round, chances_[0][i].lean_sharpness());
        attitudes[s] = Attitudes::spread(
            batch_.setups[s].level_sd, weaves_[0].front().weave->along(s),
            [&](const Vec2& way) {
                double most = round;
                for (const WeaveTerm& term : weaves_[0]) most = std::max(most, term.weave->sharpness(s, way));
                return most;
            },
            fineness);
        if (attitudes[s].at.empty()) {
            weaves_.clear();
            return;
        }
    }
    for (const auto& terms : weaves_)
        for (const WeaveTerm& term : terms) term.weave->take(attitudes);
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

double Group::seat_chance(std::size_t way, std::size_t i, const Vec3& pose, const Vec2& attitude) const {
    const Seat& seat = batch_.seats[i];
    const SeatChance& chance = chances_[way][i];
    const Vec2 miss = batch_.gain(seat) * moved(pose, seat.from_posts), lean = chance.lean_of(attitude);
    const ChanceTable* table = tables_[way].empty() ? nullptr : tables_[way][i].get();
    return table != nullptr ? (*table)(miss, lean) : chance(miss, lean);
}

double Group::seats_chance(std::size_t way, const Shared& shared) const {
    double all = 1;
    for (std::size_t i = 0; i < batch_.seats.size() && all > 0; ++i) {
        const std::size_t setup = batch_.seats[i].setup;
        const SeatChance& chance = chances_[way][i];
        all *= apart_ ? chance.running(chance.lean_of(shared.attitude[setup]).norm())
                      : seat_chance(way, i, shared.pose[setup], shared.attitude[setup]);
    }
    return all;
}

// Where the float is free: the chance that every pilot of a setup enters, over the poses, which nothing else
// hangs on; by scramble, and last by how much an even sum is off.
std::vector<double> Group::enter_of_setup(std::size_t s, std::size_t points) const {
    struct Entering {
        const EnterTable* table;
        const SeatChance* chance;
        double gain;
        Vec2 at;
    };
    std::vector<Entering> seats;
    for (const std::size_t i : seats_of_[s]) {
        const Seat& seat = batch_.seats[i];
        if (!seat.room) continue;
        const SeatChance& chance = chances_[0][i];
        seats.push_back({chance.softness() > 0 ? &enters_[enter_of_[i]] : nullptr, &chance, batch_.gain(seat),
                         seat.from_posts});
    }
    const auto all_at = [&](const Vec3& pose) {
        double every = 1;
        for (const Entering& seat : seats) {
            const double miss = seat.gain * moved(pose, seat.at).norm();
            every *= seat.table != nullptr ? (*seat.table)(miss) : seat.chance->entering(miss);
            if (every <= 0) break;
        }
        return every;
    };
    std::vector<double> out;
    if (const Poses& even = even_poses_[s]; !even.at.empty()) {
        double all = 0, some = 0;
        for (std::size_t p = 0; p < even.at.size(); ++p) {
            const double one = even.places.weight[p] * all_at(even.at[p]);
            all += one;
            some += even.places.odd[p] ? 0 : one / even.places.even_share;
        }
        out.assign(scrambles, all);
        out.push_back(error_of(all, some, fineness_));
        return out;
    }
    for (int scramble = 0; scramble < scrambles; ++scramble) {
        double sum = 0;
        for (const Vec3& pose : points_of(s, scramble, points)) sum += all_at(pose);
        out.push_back(sum / static_cast<double>(points));
    }
    out.push_back(0);
    return out;
}

std::vector<Vec3> Group::points_of(std::size_t s, int scramble, std::size_t points) const {
    const auto axes = pose_axes(batch_.setups[s].pose);
    const auto normals = normal_points(static_cast<int>(axes.size()), points, scramble, seed_ + 77 * s);
    std::vector<Vec3> out;
    out.reserve(points);
    for (std::size_t p = 0; p < points; ++p) {
        Vec3 pose = Vec3::Zero();
        for (std::size_t d = 0; d < axes.size(); ++d) pose += normals[p * axes.size() + d] * axes[d];
        out.push_back(pose);
    }
    return out;
}

// Even sums over the poses of each setup where chances change smoothly with them.
void Group::make_poses(double fineness) {
    even_poses_.assign(batch_.setups.size(), {});
    for (std::size_t s = 0; s < batch_.setups.size(); ++s) {
        if (seats_of_[s].empty()) continue;
        bool steps = false;
        for (const std::size_t i : seats_of_[s])
            steps = steps || (chances_[0][i].softness() <= 0 && (!apart_ || batch_.seats[i].room));
        if (steps && batch_.setups[s].pose.trace() > 0) {
            pose_points_ = true;
            continue;
        }
        even_poses_[s] = Poses::spread(
            batch_.setups[s].pose,
            [&](const Vec3& axis) {
                double most = 0;
                for (const std::size_t i : seats_of_[s]) {
                    const Seat& seat = batch_.seats[i];
                    if (apart_ && !seat.room) continue;
                    if (const double wide = chances_[0][i].softness(); wide > 0)
                        most = std::max(most, batch_.gain(seat) * moved(axis, seat.from_posts).norm() / wide);
                }
                return most;
            },
            fineness);
        pose_points_ = pose_points_ || even_poses_[s].at.empty();
    }
}

double Group::all_enter(int scramble, std::size_t points) const {
    double all = 1;
    for (std::size_t s = 0; s < batch_.setups.size(); ++s) {
        if (seats_of_[s].empty()) continue;
        const Mat3& pose = batch_.setups[s].pose;
        std::vector<double> key{-1, static_cast<double>(even_poses_[s].at.empty() ? points : 0),
                                static_cast<double>(even_poses_[s].at.size()), static_cast<double>(seed_)};
        key.insert(key.end(), pose.data(), pose.data() + pose.size());
        for (const std::size_t i : seats_of_[s]) {
            const Seat& seat = batch_.seats[i];
            const std::array<double, 5> own{batch_.gain(seat), chances_[0][i].softness(),
                                            seat.room.value_or(-1), seat.from_posts.x(), seat.from_posts.y()};
            key.insert(key.end(), own.begin(), own.end());
        }
        const auto row = kept_.rows.of(key, [&] { return enter_of_setup(s, points); });
        all *= (*row)[static_cast<std::size_t>(scramble)];
        enter_error_ = std::max(enter_error_, row->back());
    }
    return all;
}

std::size_t Group::enter_points(std::size_t points) const {
    const auto sharp = [](const SeatChance& chance) { return chance.softness() <= 0; };
    return std::any_of(chances_[0].begin(), chances_[0].end(), sharp) ? sharp_points : points;
}

double Group::least_error(std::size_t points) const {
    double out = std::max(weave_error_, enter_error_);
    if (sharp_ && (weaves_.empty() ? sharing_.dimensions() > 0 : pose_points_ && !apart_))
        out = std::max(out, 3 / static_cast<double>(points * scrambles));
    if (apart_ && pose_points_ && enter_points(points) == sharp_points)
        out = std::max(out, 3 / static_cast<double>(sharp_points * scrambles));
    return out;
}

// At each attitude of each setup, of the ways first … many − 1: that every runout is good, where poses move
// none.
std::vector<Group::BySetup> Group::running(std::size_t first, std::size_t many) const {
    std::vector<BySetup> out(many, BySetup(batch_.setups.size()));
    for (std::size_t w = first; w < many; ++w)
        for (std::size_t s = 0; s < batch_.setups.size(); ++s) {
            const auto& at = weaves_[0].front().weave->attitudes(s).at;
            out[w][s].assign(at.size(), 1);
            for (const std::size_t i : seats_of_[s]) {
                const SeatChance& chance = chances_[w][i];
                for (std::size_t k = 0; k < at.size(); ++k)
                    out[w][s][k] *= chance.running(chance.lean_of(at[k]).norm());
            }
        }
    return out;
}

// The same over poses. Chances given an attitude are smooth in it: they are worked out at Chebyshev's points
// and read from the polynomial, where that takes fewer.
std::vector<Group::BySetup> Group::over_poses(std::size_t first, std::size_t many, int scramble,
                                              std::size_t points) const {
    std::vector<BySetup> out(many, BySetup(batch_.setups.size()));
    for (std::size_t s = 0; s < batch_.setups.size(); ++s) {
        const Attitudes& attitudes = weaves_[0].front().weave->attitudes(s);
        if (attitudes.at.empty()) continue;
        double sharp = 0;
        for (const std::size_t i : seats_of_[s]) sharp = std::max(sharp, chances_[0][i].lean_sharpness());
        const SmoothOver smooth(attitudes.at, sharp, fineness_);
        const Poses& even = even_poses_[s];
        const auto at = even.at.empty() ? points_of(s, scramble, points) : even.at;
        const double each = 1 / static_cast<double>(at.size());
        for (std::size_t w = first; w < many; ++w) {
            std::vector<double> all(smooth.wanted().size(), 0), some = all;
            OverPoses over(batch_, seats_of_[s], smooth.wanted());
            over.prepare(chances_[w], tables_[w], at.size());
            for (std::size_t p = 0; p < at.size(); ++p) {
                const auto& chance = over.at(at[p]);
                const double weight = even.at.empty() ? each : even.places.weight[p];
                add_weighed(all.size(), weight, chance.data(), all.data());
                if (w == 0 && !even.at.empty() && !even.places.odd[p])
                    add_weighed(all.size(), weight / even.places.even_share, chance.data(), some.data());
            }
            if (w == 0 && !even.at.empty()) {
                // Where the attitude is least off.
                const auto& at_attitude = smooth.wanted();
                const auto least =
                    std::min_element(at_attitude.begin(), at_attitude.end(),
                                     [](const Vec2& a, const Vec2& b) { return a.norm() < b.norm(); });
                const auto k = static_cast<std::size_t>(least - at_attitude.begin());
                weave_error_ = std::max(weave_error_, error_of(all[k], some[k], fineness_));
            }
            out[w][s] = smooth.all(all);
        }
    }
    return out;
}

std::vector<std::vector<double>> Group::woven(std::size_t many, int scramble, std::size_t points) const {
    if (woven_.size() >= many) return woven_;
    const bool keeps = apart_ || !pose_points_;
    const std::size_t first = woven_.size();
    const auto seats = apart_ ? running(first, many) : over_poses(first, many, scramble, points);
    std::vector<std::vector<double>> out = woven_;
    out.resize(many);
    for (std::size_t w = first; w < many; ++w) {
        std::vector<Weave::Sum> sums(nodes_.size());
        for (const WeaveTerm& term : weaves_[heights_of[w]]) {
            const auto of_term = term.weave->chance(seats[w]);
            for (std::size_t n = 0; n < sums.size(); ++n) {
                sums[n].all += term.weight * of_term[n].all;
                sums[n].even += term.weight * of_term[n].even;
            }
        }
        for (const Weave::Sum& sum : sums) {
            out[w].push_back(std::clamp(sum.all, 0.0, 1.0));
            if (w == 0 && !(pose_points_ && !apart_))
                weave_error_ = std::max(weave_error_, error_of(sum.all, sum.even, fineness_));
        }
    }
    if (keeps) woven_ = out;
    return out;
}

void Group::by_points(int scramble, std::size_t points, std::size_t many,
                      std::vector<std::vector<double>>& out) const {
    const double u = batch_.height_u.value_or(0);
    out.assign(many, std::vector<double>(nodes_.size(), 0));
    each_point(sharing_.dimensions(), points, scramble, seed_, [&](const double* normal) {
        const Shared shared = sharing_.of(normal);
        std::array<double, ways.size()> seats{};
        for (std::size_t w = 0; w < many; ++w) seats[w] = seats_chance(w, shared);
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            std::array<double, 3> of_heights{1, 1, 1};
            if (has_heights_) {
                set_means(shared, nodes_[n]);
                for (std::size_t w = 0; w < std::min<std::size_t>(many, 3); ++w)
                    of_heights[w] = w == 0 ? heights(own_height_, 0)
                                           : heights(std::hypot(own_height_, u), w == 1 ? 2 * u : -2 * u);
            }
            for (std::size_t w = 0; w < many; ++w) out[w][n] += seats[w] * of_heights[heights_of[w]];
        }
    });
    const double n = sharing_.dimensions() == 0 ? 1 : static_cast<double>(points);
    for (auto& way : out)
        for (double& chance : way) chance /= n;
}

void Group::good(int scramble, std::size_t points, std::vector<NodeChances>& out) const {
    std::vector<std::vector<double>> rates;
    if (weaves_.empty())
        by_points(scramble, points, 1, rates);
    else
        rates = woven(1, scramble, points);
    const double enter = apart_ ? all_enter(scramble, enter_points(points)) : 1;
    for (std::size_t n = 0; n < out.size(); ++n) out[n].of[0] = rates[0][n] * enter;
}

}  // namespace seatwright::forecast
