#include "seatwright/forecast/integrate.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>

#include "seatwright/base/disc_probability.hpp"
#include "seatwright/forecast/chance_table.hpp"
#include "seatwright/forecast/heights.hpp"
#include "seatwright/forecast/points.hpp"
#include "seatwright/forecast/runout.hpp"
#include "seatwright/forecast/single.hpp"

namespace seatwright::forecast {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr std::array<Judged, 5> ways{Judged::good, Judged::passed, Judged::not_failed, Judged::good_passed,
                                     Judged::good_not_failed};

// What the seats of a head share, of one draw.
struct Shared {
    std::vector<Vec3> pose;      // a setup
    std::vector<Vec2> attitude;  // a setup
    std::vector<double> zero;    // a Z zero
};

// Turns standard normals into what the seats share; only what varies takes a dimension.
class Sharing {
  public:
    explicit Sharing(const Batch& batch) {
        for (std::size_t s = 0; s < batch.setups.size(); ++s) {
            const Eigen::SelfAdjointEigenSolver<Mat3> solver(batch.setups[s].pose);
            const double most = std::max(0.0, solver.eigenvalues()(2));
            for (int axis = 2; axis >= 0; --axis) {
                const double variance = solver.eigenvalues()(axis);
                if (variance > most * 1e-14 && variance > 0)
                    poses_.push_back({s, solver.eigenvectors().col(axis) * std::sqrt(variance)});
            }
            if (batch.setups[s].level_sd > 0) levels_.push_back({s, batch.setups[s].level_sd});
        }
        for (std::size_t z = 0; z < batch.zeros.size(); ++z)
            if (batch.zeros[z] > 0) zeros_.push_back({z, batch.zeros[z]});
        start_ = {std::vector<Vec3>(batch.setups.size(), Vec3::Zero()),
                  std::vector<Vec2>(batch.setups.size(), Vec2::Zero()),
                  std::vector<double>(batch.zeros.size(), 0.0)};
    }
    int dimensions() const { return static_cast<int>(poses_.size() + 2 * levels_.size() + zeros_.size()); }
    Shared of(const double* normal) const {
        Shared out = start_;
        for (const auto& [setup, along] : poses_) out.pose[setup] += along * *normal++;
        for (const auto& [setup, sd] : levels_) {
            out.attitude[setup] = sd * Vec2(normal[0], normal[1]);
            normal += 2;
        }
        for (const auto& [zero, sd] : zeros_) out.zero[zero] = sd * *normal++;
        return out;
    }

  private:
    struct Pose {
        std::size_t setup;
        Vec3 along;
    };
    struct Sd {
        std::size_t of;
        double sd;
    };
    std::vector<Pose> poses_;
    std::vector<Sd> levels_, zeros_;
    Shared start_;
};

// Displacement of a guide by a pose error.
Vec2 moved(const Vec3& pose, const Vec2& at) {
    return {pose.x() - pose.z() * at.y(), pose.y() + pose.z() * at.x()};
}

// One point where nothing varies.
template <class F>
void each_point(int dimensions, std::size_t count, int scramble, const F& f) {
    if (dimensions == 0) {
        constexpr double none = 0;
        f(&none);
        return;
    }
    const auto points = normal_points(dimensions, count, scramble);
    for (std::size_t i = 0; i < count; ++i) f(points.data() + i * static_cast<std::size_t>(dimensions));
}

class Integrator {
  public:
    Integrator(const Batch& batch, const Effort& effort) : batch_(batch), effort_(effort), sharing_(batch) {
        judged_ = effort.verdict_points > 0 && gauges_known();
        const std::size_t count = judged_ ? ways.size() : 1;
        CountTables tables;
        for (std::size_t w = 0; w < count; ++w)
            for (const Seat& seat : batch.seats) chances_[w].emplace_back(batch, seat, ways[w], tables);
        tables_[0] = tabled(chances_[0]);
        has_heights_ =
            batch.stem_spread.has_value() || std::any_of(batch.seats.begin(), batch.seats.end(),
                                                         [](const Seat& s) { return !s.height.open(); });
        sharp_ = std::all_of(batch.seats.begin(), batch.seats.end(), [&](const Seat& s) {
            return batch.positioning_sd <= 0 && batch.own_sd(s) <= 0 && s.play <= 0 && s.pilot_runout <= 0 &&
                   batch.guide_angle_sd <= 0;
        });
        own_height_ = std::hypot(batch.height_sd, batch.depth_sd);
        heads_of_a_blade_ = std::max(1, std::min(batch.heads, batch.change_every.value_or(batch.heads)));
        nodes_ = nodes();
        weigh_heads();
    }

    Rates run() const;

  private:
    struct Sums {
        std::vector<double> good;  // a node
        double pass = 0, not_failed = 0, consumer = 0, producer = 0, producer_fail = 0;
    };

    bool gauges_known() const {
        for (const Seat& seat : batch_.seats) {
            if (seat.runout_max && !batch_.runout_u) return false;
            if (seat.width_tol && !batch_.width_u) return false;
            if (!seat.height.open() && !batch_.height_u) return false;
        }
        return !batch_.stem_spread || batch_.height_u.has_value();
    }

    // Tables that seats with the same chance share, as far as what is shared reaches.
    std::vector<std::shared_ptr<const ChanceTable>> tabled(const std::vector<SeatChance>& chances) const {
        constexpr double reach = 5.6;  // sd of what is shared; beyond, the table's edge stands
        const auto furthest = [&](std::size_t i) {
            const Seat& seat = batch_.seats[i];
            const Held& held = batch_.setups[seat.setup];
            Eigen::Matrix<double, 2, 3> by;
            by << 1, 0, -seat.from_posts.y(), 0, 1, seat.from_posts.x();
            const Mat2 covariance = by * held.pose * by.transpose();
            return std::pair(batch_.gain(seat) * reach * std::sqrt(principal_axes(covariance).large),
                             chances[i].lean_per_rad() * (seat.residual.norm() + reach * held.level_sd));
        };
        std::vector<std::shared_ptr<const ChanceTable>> out(chances.size());
        std::vector<bool> done(chances.size(), false);
        for (std::size_t i = 0; i < chances.size(); ++i) {
            if (done[i]) continue;
            auto [miss, lean] = furthest(i);
            for (std::size_t j = i + 1; j < chances.size(); ++j)
                if (chances[j].same(chances[i])) {
                    miss = std::max(miss, furthest(j).first);
                    lean = std::max(lean, furthest(j).second);
                }
            auto table = std::make_shared<ChanceTable>(chances[i], miss, lean);
            for (std::size_t j = i; j < chances.size(); ++j)
                if (j == i || chances[j].same(chances[i])) {
                    done[j] = true;
                    if (table->good()) out[j] = table;
                }
        }
        return out;
    }

    // Heads since the change of the blade (from 0) at which heights and widths are worked out: all, or five
    // over the range, between which the chance is a smooth curve.
    std::vector<double> nodes() const {
        constexpr int most = 5;
        const bool wears = batch_.depth_wear != 0 || batch_.width_wear != 0;
        const int n = !wears ? 1 : heads_of_a_blade_;
        std::vector<double> out;
        if (n <= most)
            for (int i = 0; i < n; ++i) out.push_back(i);
        else
            for (int i = 0; i < most; ++i)
                out.push_back((n - 1) / 2.0 * (1 - std::cos(std::numbers::pi * i / (most - 1))));
        return out;
    }

    double worn(const Seat& seat, double head) const { return head * seat.seats_of_cutter + seat.place; }

    double widths(double head, Judged judged) const {
        double all = 1;
        for (const Seat& seat : batch_.seats)
            if (seat.width_tol)
                all *= single_chance(batch_.width_wear * worn(seat, head), batch_.width_sd,
                                     {-*seat.width_tol, *seat.width_tol}, batch_.width_u, judged);
        return all;
    }

    double mean_height(const Seat& seat, const Shared& shared, double head) const {
        return seat.planned_height.value_or(0) + shared.zero[seat.zero] -
               shared.attitude[seat.setup].dot(seat.from_zero) + batch_.depth_wear * worn(seat, head);
    }

    // Of both kinds; `means` and `sd` of the heights judged, the limits narrower by `by` and the spread by
    // √2·by.
    double heights(const std::vector<double>& means, double sd, double by) const {
        double all = 1;
        for (const auto kind : {job::Kind::intake, job::Kind::exhaust}) {
            stems_.clear();
            for (std::size_t i = 0; i < batch_.seats.size(); ++i) {
                const Seat& seat = batch_.seats[i];
                if (seat.kind != kind) continue;
                const Window window = seat.planned_height ? narrowed(seat.height, by) : Window{};
                stems_.push_back(
                    {means[i], sd, window.low.value_or(-infinite), window.high.value_or(infinite)});
            }
            if (stems_.empty()) continue;
            const double spread =
                batch_.stem_spread ? *batch_.stem_spread - std::numbers::sqrt2 * by : infinite;
            all *= spread < 0 ? 0 : heights_good(stems_, spread);
        }
        return all;
    }

    double seats_chance(std::size_t way, const Shared& shared) const;
    void add_good(const Shared& shared, std::vector<double>& good) const;
    void add_verdict(const Shared& shared, const double* own, Sums& sums) const;
    Rates rates_of(const std::vector<Sums>& sums) const;
    std::vector<double> by_head(const std::vector<double>& at_nodes) const;
    std::vector<double> node_weights(double head) const;
    void weigh_heads();

    const Batch& batch_;
    const Effort& effort_;
    Sharing sharing_;
    bool judged_ = false, has_heights_ = false, sharp_ = false;
    double own_height_ = 0;
    int heads_of_a_blade_ = 1;
    std::vector<double> nodes_;
    std::vector<std::vector<double>> life_weights_;  // of the nodes at each head of a blade
    std::vector<double> life_widths_;                // chance of good widths there
    // Mean over the batch of a node's weight times the widths' chance, each way.
    std::array<std::vector<double>, ways.size()> width_weights_;
    std::array<std::vector<SeatChance>, ways.size()> chances_;
    std::array<std::vector<std::shared_ptr<const ChanceTable>>, ways.size()>
        tables_;  // none: the chance itself
    mutable std::vector<Stem> stems_;
};

void Integrator::weigh_heads() {
    for (auto& weights : width_weights_) weights.assign(nodes_.size(), 0);
    for (int x = 0; x < heads_of_a_blade_; ++x) {
        life_weights_.push_back(node_weights(x));
        life_widths_.push_back(widths(x, Judged::good));
        const int times = batch_.heads / heads_of_a_blade_ + (x < batch_.heads % heads_of_a_blade_ ? 1 : 0);
        const double part = static_cast<double>(times) / batch_.heads;
        for (std::size_t w = 0; w < (judged_ ? ways.size() : 0); ++w) {
            const double width = widths(x, ways[w]);
            for (std::size_t n = 0; n < nodes_.size(); ++n)
                width_weights_[w][n] += part * life_weights_.back()[n] * width;
        }
    }
}

double Integrator::seats_chance(std::size_t way, const Shared& shared) const {
    double all = 1;
    for (std::size_t i = 0; i < batch_.seats.size() && all > 0; ++i) {
        const Seat& seat = batch_.seats[i];
        const SeatChance& chance = chances_[way][i];
        const Vec2 miss = batch_.gain(seat) * moved(shared.pose[seat.setup], seat.from_posts);
        const Vec2 lean = chance.lean_of(shared.attitude[seat.setup]);
        const ChanceTable* table = tables_[way].empty() ? nullptr : tables_[way][i].get();
        all *= table != nullptr ? (*table)(miss, lean) : chance(miss, lean);
    }
    return all;
}

void Integrator::add_good(const Shared& shared, std::vector<double>& good) const {
    const double seats = seats_chance(0, shared);
    std::vector<double> means(batch_.seats.size());
    for (std::size_t n = 0; n < nodes_.size(); ++n) {
        double chance = seats;
        if (has_heights_ && chance > 0) {
            for (std::size_t i = 0; i < means.size(); ++i)
                means[i] = mean_height(batch_.seats[i], shared, nodes_[n]);
            chance *= heights(means, own_height_, 0);
        }
        good[n] += chance;
    }
}

void Integrator::add_verdict(const Shared& shared, const double* own, Sums& sums) const {
    std::array<double, ways.size()> seats{};
    for (std::size_t w = 0; w < ways.size(); ++w) seats[w] = seats_chance(w, shared);
    const double u = batch_.height_u.value_or(0);
    for (std::size_t n = 0; n < nodes_.size(); ++n) {
        std::array<double, ways.size()> height{1, 1, 1, 1, 1};
        double pass_height = 1, not_failed_height = 1;
        if (has_heights_) {
            std::vector<double> means(batch_.seats.size()), drawn(batch_.seats.size());
            for (std::size_t i = 0; i < means.size(); ++i) {
                means[i] = mean_height(batch_.seats[i], shared, nodes_[n]);
                drawn[i] = means[i] + own_height_ * own[i];
            }
            pass_height = heights(means, std::hypot(own_height_, u), 2 * u);
            not_failed_height = heights(means, std::hypot(own_height_, u), -2 * u);
            // True heights drawn, measured ones integrated: what is good and what is told stay together.
            height[0] = heights(drawn, 0, 0);
            height[1] = heights(drawn, u, 2 * u);
            height[2] = heights(drawn, u, -2 * u);
            height[3] = height[0] * height[1];
            height[4] = height[0] * height[2];
        }
        const auto& width = width_weights_;
        sums.pass += seats[1] * width[1][n] * pass_height;
        sums.not_failed += seats[2] * width[2][n] * not_failed_height;
        const double passed = seats[1] * width[1][n] * height[1], good = seats[0] * width[0][n] * height[0],
                     both = seats[3] * width[3][n] * height[3];
        sums.consumer += passed - both;
        sums.producer += good - both;
        sums.producer_fail += good - seats[4] * width[4][n] * height[4];
    }
}

// How much each node counts at a head: barycentric weights of Chebyshev's points of the second kind, or of
// whatever few there are.
std::vector<double> Integrator::node_weights(double head) const {
    std::vector<double> out(nodes_.size(), 0);
    double below = 0;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        if (nodes_.size() == 1 || std::abs(head - nodes_[i]) < 1e-12) {
            out.assign(nodes_.size(), 0);
            out[i] = 1;
            return out;
        }
        double weight = 1;
        for (std::size_t j = 0; j < nodes_.size(); ++j)
            if (j != i) weight /= (nodes_[i] - nodes_[j]) / std::max(1.0, nodes_.back());
        out[i] = weight / (head - nodes_[i]);
        below += out[i];
    }
    for (double& w : out) w /= below;
    return out;
}

std::vector<double> Integrator::by_head(const std::vector<double>& at_nodes) const {
    std::vector<double> life;  // of a blade
    for (int x = 0; x < heads_of_a_blade_; ++x) {
        const auto& weights = life_weights_[static_cast<std::size_t>(x)];
        double sum = 0;
        for (std::size_t n = 0; n < weights.size(); ++n) sum += weights[n] * at_nodes[n];
        // Widths do not hang on what the seats share.
        life.push_back(std::clamp(sum, 0.0, 1.0) * life_widths_[static_cast<std::size_t>(x)]);
    }
    std::vector<double> out;
    out.reserve(static_cast<std::size_t>(batch_.heads));
    for (int h = 0; h < batch_.heads; ++h)
        out.push_back(life[static_cast<std::size_t>(h % heads_of_a_blade_)]);
    return out;
}

Rates Integrator::rates_of(const std::vector<Sums>& sums) const {
    Rates out;
    std::vector<double> each;
    std::vector<double> mean(nodes_.size(), 0);
    for (const Sums& s : sums) {
        const auto curve = by_head(s.good);
        double all = 0;
        for (const double p : curve) all += p;
        each.push_back(all / static_cast<double>(curve.size()));
        for (std::size_t n = 0; n < mean.size(); ++n) mean[n] += s.good[n] / static_cast<double>(sums.size());
    }
    out.by_head = by_head(mean);
    for (const double p : out.by_head) out.good += p / static_cast<double>(out.by_head.size());
    double scatter = 0;
    for (const double p : each) scatter += (p - out.good) * (p - out.good);
    const double count = static_cast<double>(each.size());
    constexpr double t_of_seven = 2.365;  // 97.5 % point of Student's t for 7 degrees of freedom
    if (count > 1) out.error = t_of_seven * std::sqrt(scatter / (count * (count - 1)));
    out.judged = judged_;
    for (const Sums& s : sums) {
        out.pass += s.pass / count;
        out.fail += (1 - s.not_failed) / count;
        out.consumer += s.consumer / count;
        out.producer_fail += s.producer_fail / count;
        out.producer_undecided += (s.producer - s.producer_fail) / count;
    }
    if (!judged_) out.pass = out.fail = 0;
    for (double* risk : {&out.consumer, &out.producer_fail, &out.producer_undecided})
        *risk = std::max(0.0, *risk);
    out.each = std::move(each);
    return out;
}

Rates Integrator::run() const {
    const int shared = sharing_.dimensions();
    const int with_heights = shared + (has_heights_ ? static_cast<int>(batch_.seats.size()) : 0);
    std::vector<Sums> all(with_heights == 0 ? 1 : scrambles);
    for (int s = 0; s < static_cast<int>(all.size()) && judged_; ++s) {
        Sums& sums = all[static_cast<std::size_t>(s)];
        each_point(with_heights, effort_.verdict_points, s,
                   [&](const double* normal) { add_verdict(sharing_.of(normal), normal + shared, sums); });
        const double m = with_heights == 0 ? 1 : static_cast<double>(effort_.verdict_points);
        for (double* one :
             {&sums.pass, &sums.not_failed, &sums.consumer, &sums.producer, &sums.producer_fail})
            *one /= m;
    }
    // Twice the points until they agree well enough.
    for (std::size_t points = std::min(effort_.points, effort_.most_points);; points *= 2) {
        for (int s = 0; s < static_cast<int>(all.size()); ++s) {
            auto& good = all[static_cast<std::size_t>(s)].good;
            good.assign(nodes_.size(), 0);
            each_point(shared, points, s, [&](const double* normal) { add_good(sharing_.of(normal), good); });
            for (double& g : good) g /= shared == 0 ? 1 : static_cast<double>(points);
        }
        Rates out = rates_of(all);
        // Where chances are 0 or 1 given what is shared, points that all say the same prove no more than
        // this.
        if (sharp_ && shared > 0)
            out.error = std::max(out.error, 3.0 / static_cast<double>(points * all.size()));
        if (shared == 0 || out.error <= effort_.enough || points >= effort_.most_points) return out;
    }
}

}  // namespace

Rates integrated(const Batch& batch, const Effort& effort) {
    return Integrator(batch, effort).run();
}

}  // namespace seatwright::forecast
