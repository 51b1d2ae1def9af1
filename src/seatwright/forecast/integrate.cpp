#include "seatwright/forecast/integrate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <map>
#include <numbers>
#include <numeric>
#include <tuple>

#include "seatwright/forecast/chebyshev.hpp"
#include "seatwright/forecast/group.hpp"
#include "seatwright/forecast/single.hpp"
#include "seatwright/job/kind_index.hpp"

namespace seatwright::forecast {
namespace {

// 95 % of a mean over scrambles; 0 of one.
double error_of_mean(const std::vector<double>& each, double mean) {
    constexpr double t_of_seven = 2.365;  // 97.5 % point of Student's t for 7 degrees of freedom
    const double n = static_cast<double>(each.size());
    if (each.size() < 2) return 0;
    double scatter = 0;
    for (const double p : each) scatter += (p - mean) * (p - mean);
    return t_of_seven * std::sqrt(scatter / (n * (n - 1)));
}

// A risk's mean over scrambles and its 95 %: what even sums are off by, as a share, besides.
std::pair<double, double> risk_of(const std::vector<double>& each) {
    constexpr double of_sums = 5e-3, least = 1e-8;
    double mean = 0;
    for (const double p : each) mean += p / static_cast<double>(each.size());
    return {std::max(0.0, mean), std::hypot(error_of_mean(each, mean), of_sums * mean) + least};
}

// A height so many standard deviations inside its limit never meets it.
constexpr double never = 6.5;

bool gauges_known(const Batch& batch) {
    for (const Seat& seat : batch.seats) {
        if (seat.runout_max && !batch.runout_u) return false;
        if (seat.width_tol && !batch.width_u) return false;
        if (!seat.height.open() && !batch.height_u) return false;
    }
    return !batch.stem_spread || batch.height_u.has_value();
}

// Takes out what changes nothing: limits of height that are never met, and Z zeros that then move all of a
// kind alike.
void simplify(Batch& batch, double life) {
    const double u = batch.height_u.value_or(0);
    std::array<bool, 2> met{};
    for (Seat& seat : batch.seats) {
        if (!seat.planned_height) seat.height = {};
        const double sd = std::sqrt(std::pow(batch.zeros[seat.zero], 2) + std::pow(batch.height_sd, 2) +
                                    std::pow(batch.depth_sd, 2) + u * u +
                                    std::pow(batch.setups[seat.setup].level_sd * seat.from_zero.norm(), 2));
        const double wear = batch.depth_wear * (life * seat.seats_of_cutter + seat.place);
        const double room = never * sd + 2 * u;
        const double low = seat.planned_height.value_or(0) + std::min(0.0, wear) - room,
                     high = seat.planned_height.value_or(0) + std::max(0.0, wear) + room;
        if ((seat.height.low && *seat.height.low >= low) || (seat.height.high && *seat.height.high <= high))
            met[index_of(seat.kind)] = true;
    }
    for (Seat& seat : batch.seats)
        if (!met[index_of(seat.kind)]) seat.height = {};
    for (std::size_t z = 0; z < batch.zeros.size(); ++z) {
        bool matters = false;
        for (const Seat& seat : batch.seats) {
            if (seat.zero != z) continue;
            matters = matters || !seat.height.open() ||
                      std::any_of(batch.seats.begin(), batch.seats.end(), [&](const Seat& other) {
                          return other.kind == seat.kind && other.zero != z;
                      });
        }
        if (!matters) batch.zeros[z] = 0;
    }
}

// The batch in parts that share nothing: setups belong together where the spread of a kind runs over them or
// a Z zero serves them both.
std::vector<Batch> parts_of(const Batch& batch) {
    std::vector<std::size_t> part(batch.setups.size());
    std::iota(part.begin(), part.end(), std::size_t{0});
    for (const Seat& a : batch.seats)
        for (const Seat& b : batch.seats)
            if (part[a.setup] != part[b.setup] &&
                ((batch.stem_spread && a.kind == b.kind) || a.zero == b.zero)) {
                const std::size_t from = part[b.setup], to = part[a.setup];
                std::replace(part.begin(), part.end(), from, to);
            }
    std::vector<Batch> out;
    for (std::size_t p = 0; p < part.size(); ++p) {
        Batch one = batch;
        std::erase_if(one.seats, [&](const Seat& seat) { return part[seat.setup] != p; });
        if (one.seats.empty()) continue;
        // Setups and zeros of the others stand still.
        std::vector<bool> held(batch.setups.size(), false), zeroed(batch.zeros.size(), false);
        for (const Seat& seat : one.seats) held[seat.setup] = zeroed[seat.zero] = true;
        for (std::size_t s = 0; s < held.size(); ++s)
            if (!held[s]) one.setups[s] = {};
        for (std::size_t z = 0; z < zeroed.size(); ++z)
            if (!zeroed[z]) one.zeros[z] = 0;
        out.push_back(std::move(one));
    }
    return out;
}

class Integrator {
  public:
    Integrator(const Batch& batch, const Effort& effort, Tables& tables)
        : batch_(batch), effort_(effort), judged_(effort.verdict_points > 0 && gauges_known(batch)) {
        life_ = std::max(1, std::min(batch.heads, batch.change_every.value_or(batch.heads)));
        Batch simple = batch;
        simplify(simple, life_);
        nodes_ = nodes();
        if (judged_) make_width_curves();
        weigh_heads();
        for (Batch& part : parts_of(simple)) {
            groups_.emplace_back(
                Group::Task{std::move(part), nodes_, judged_, groups_.size(), effort.fineness, tables});
            varies_ = varies_ || groups_.back().varies();
            risk_varies_ = risk_varies_ || groups_.back().risk_varies();
        }
    }

    Rates good_heads() const;
    Rates with_told(Rates rates) const;

  private:
    using OfScrambles = std::vector<std::vector<NodeChances>>;  // scramble, node

    // Heads since the change of the blade (from 0) at which heights are worked out: all, or five
    // over the range, between which the chance is a smooth curve.
    std::vector<double> nodes() const {
        constexpr int most = 5;
        // Widths are worked out at every head.
        const bool wears = batch_.depth_wear != 0;
        const int n = !wears ? 1 : life_;
        std::vector<double> out;
        if (n <= most)
            for (int i = 0; i < n; ++i) out.push_back(i);
        else
            for (int i = 0; i < most; ++i)
                out.push_back((n - 1) / 2.0 * (1 - std::cos(std::numbers::pi * i / (most - 1))));
        return out;
    }

    double width_at(const Seat& seat, double head) const {  // its mean, less the drawing's
        return seat.width_off + batch_.width_wear * (head * seat.seats_of_cutter + seat.place);
    }
    double width_chance(double off, double tol, Judged judged) const {
        return single_chance(off, batch_.width_sd, {-tol, tol}, batch_.width_u, judged);
    }
    double widths(double head, Judged judged) const {
        double all = 1;
        for (const Seat& seat : batch_.seats)
            if (seat.width_tol) {
                const auto curve = width_curves_.find({*seat.width_tol, judged});
                const double off = width_at(seat, head);
                all *= curve != width_curves_.end() ? std::clamp(curve->second(off), 0.0, 1.0)
                                                    : width_chance(off, *seat.width_tol, judged);
            }
        return all;
    }
    void make_width_curves();

    OfScrambles good(std::size_t points) const;
    OfScrambles told() const;
    void add_told(Rates& out) const;
    Rates rates_of(const OfScrambles& all) const;
    std::vector<double> by_head(const std::vector<NodeChances>& at_nodes) const;
    std::vector<double> node_weights(double head) const;
    void weigh_heads();

    const Batch& batch_;
    const Effort& effort_;
    bool judged_, varies_ = false, risk_varies_ = false;
    int life_ = 1;  // of a blade, heads
    std::vector<double> nodes_;
    std::vector<std::vector<double>> life_weights_;  // of the nodes at each head of a blade
    std::vector<double> life_widths_;                // chance of good widths there
    // What is told of a width while it is good is an integral, a smooth function of the mean: made once for a
    // tolerance and a way of judging.
    std::map<std::pair<double, Judged>, Chebyshev> width_curves_;
    // Mean over the batch of a node's weight times the widths' chance, each way.
    std::array<std::vector<double>, ways.size()> width_weights_;
    std::deque<Group> groups_;  // what they weave refers to them: they stay where they are
};

void Integrator::make_width_curves() {
    const double narrow = std::min(batch_.width_sd, batch_.width_u.value_or(0));
    if (narrow <= 0 || batch_.width_wear == 0) return;
    std::map<double, std::pair<double, double>> reach;  // of means, by tolerance
    double asked = 0;
    for (const Seat& seat : batch_.seats) {
        if (!seat.width_tol) continue;
        asked += life_;
        const auto [low, high] = std::minmax({width_at(seat, 0), width_at(seat, life_ - 1)});
        auto& [from, to] = reach.try_emplace(*seat.width_tol, low, high).first->second;
        from = std::min(from, low);
        to = std::max(to, high);
    }
    for (const auto& [tol, of] : reach) {
        const double wanted = 20 + 4 * (of.second - of.first) / narrow;
        if (!(wanted < asked / 2) || of.second <= of.first) continue;
        for (const Judged judged : {Judged::good_passed, Judged::good_not_failed}) {
            std::vector<double> values;
            for (const double off : Chebyshev::places(of.first, of.second, static_cast<std::size_t>(wanted)))
                values.push_back(width_chance(off, tol, judged));
            width_curves_.emplace(std::pair(tol, judged), Chebyshev(of.first, of.second, values));
        }
    }
}

void Integrator::weigh_heads() {
    for (auto& weights : width_weights_) weights.assign(nodes_.size(), 0);
    std::array<double, ways.size()> told{};  // of widths, each way
    for (int x = 0; x < life_; ++x) {
        life_weights_.push_back(node_weights(x));
        const bool same = x > 0 && batch_.width_wear == 0;
        life_widths_.push_back(same ? life_widths_.front() : widths(x, Judged::good));
        const int times = batch_.heads / life_ + (x < batch_.heads % life_ ? 1 : 0);
        const double part = static_cast<double>(times) / batch_.heads;
        for (std::size_t w = 0; w < (judged_ ? ways.size() : 0); ++w) {
            if (!same) told[w] = widths(x, ways[w]);
            for (std::size_t n = 0; n < nodes_.size(); ++n)
                width_weights_[w][n] += part * life_weights_.back()[n] * told[w];
        }
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

std::vector<double> Integrator::by_head(const std::vector<NodeChances>& at_nodes) const {
    std::vector<double> life;  // of a blade
    for (int x = 0; x < life_; ++x) {
        const auto& weights = life_weights_[static_cast<std::size_t>(x)];
        double sum = 0;
        for (std::size_t n = 0; n < weights.size(); ++n) sum += weights[n] * at_nodes[n].of[0];
        // Widths do not hang on what the seats share.
        life.push_back(std::clamp(sum, 0.0, 1.0) * life_widths_[static_cast<std::size_t>(x)]);
    }
    std::vector<double> out;
    out.reserve(static_cast<std::size_t>(batch_.heads));
    for (int h = 0; h < batch_.heads; ++h) out.push_back(life[static_cast<std::size_t>(h % life_)]);
    return out;
}

Integrator::OfScrambles Integrator::good(std::size_t points) const {
    OfScrambles out(varies_ ? scrambles : 1, std::vector<NodeChances>(nodes_.size()));
    std::vector<NodeChances> one(nodes_.size());
    for (std::size_t s = 0; s < out.size(); ++s) {
        for (NodeChances& node : out[s]) node.of[0] = 1;
        for (const Group& group : groups_) {
            group.good(static_cast<int>(s), points, one);
            for (std::size_t n = 0; n < one.size(); ++n) out[s][n].of[0] *= one[n].of[0];
        }
    }
    return out;
}

Integrator::OfScrambles Integrator::told() const {
    OfScrambles out(risk_varies_ ? scrambles : 1, std::vector<NodeChances>(nodes_.size()));
    std::vector<NodeChances> one(nodes_.size());
    for (std::size_t s = 0; s < out.size(); ++s) {
        for (NodeChances& node : out[s]) node.of.fill(1);
        for (const Group& group : groups_) {
            group.verdicts(static_cast<int>(s), effort_.verdict_points, one);
            for (std::size_t n = 0; n < one.size(); ++n)
                for (std::size_t w = 0; w < ways.size(); ++w) out[s][n].of[w] *= one[n].of[w];
        }
    }
    return out;
}

void Integrator::add_told(Rates& out) const {
    const auto all = told();
    const double count = static_cast<double>(all.size());
    double not_failed = 0, good = 0;
    std::vector<double> consumer, failed;
    for (const auto& scramble : all) {
        std::array<double, ways.size()> chance{};
        for (std::size_t n = 0; n < nodes_.size(); ++n)
            for (std::size_t w = 0; w < ways.size(); ++w)
                chance[w] += scramble[n].of[w] * width_weights_[w][n];
        out.passed_each.push_back(chance[1]);
        consumer.push_back(chance[1] - chance[3]);
        failed.push_back(chance[0] - chance[4]);
        good += chance[0] / count;
        out.pass += chance[1] / count;
        not_failed += chance[2] / count;
    }
    out.fail = std::max(0.0, 1 - not_failed);
    std::tie(out.consumer, out.consumer_error) = risk_of(consumer);
    std::tie(out.producer_fail, out.producer_fail_error) = risk_of(failed);
    // Good and not passed less bad and passed is good less passed, which needs no drawing.
    const double producer = good - out.pass + out.consumer;
    out.producer_undecided = std::max(0.0, producer - out.producer_fail);
}

Rates Integrator::rates_of(const OfScrambles& all) const {
    Rates out;
    std::vector<NodeChances> mean(nodes_.size());
    const double count = static_cast<double>(all.size());
    for (const auto& scramble : all) {
        const auto curve = by_head(scramble);
        double sum = 0;
        for (const double p : curve) sum += p;
        out.each.push_back(sum / static_cast<double>(curve.size()));
        for (std::size_t n = 0; n < mean.size(); ++n) mean[n].of[0] += scramble[n].of[0] / count;
    }
    out.by_head = by_head(mean);
    for (const double p : out.by_head) out.good += p / static_cast<double>(out.by_head.size());
    out.error = error_of_mean(out.each, out.good);
    return out;
}

Rates Integrator::good_heads() const {
    for (std::size_t points = std::min(effort_.points, effort_.most_points);; points *= 2) {
        Rates out = rates_of(good(points));
        for (const Group& group : groups_) out.error = std::max(out.error, group.least_error(points));
        // Twice the points until they agree well enough.
        if (!varies_ || out.error <= effort_.enough || points >= effort_.most_points) return out;
    }
}

Rates Integrator::with_told(Rates rates) const {
    rates.judged = judged_;
    if (judged_) add_told(rates);
    return rates;
}

}  // namespace

namespace {

// Whether a pose and an attitude move the same runouts.
bool coupled(const Batch& batch) {
    return std::any_of(batch.seats.begin(), batch.seats.end(), [&](const Seat& seat) {
        const Held& held = batch.setups[seat.setup];
        return seat.runout_max && seat.bend > 0 && held.level_sd > 0 && held.pose.trace() > 0;
    });
}

}  // namespace

Rates integrated(const Batch& batch, const Effort& effort, Tables* tables) {
    Tables own;
    Tables& kept = tables ? *tables : own;
    // Sums over pose and attitude at once: to 3e-5 of all heads, unless as few as that fail.
    constexpr double rougher = 1.2, rare = 0.999;
    if (effort.fineness < rougher && coupled(batch)) {
        Effort rough = effort;
        rough.fineness = rougher;
        const Integrator integrator(batch, rough, kept);
        Rates out = integrator.good_heads();
        if (out.good < rare) return integrator.with_told(std::move(out));
    }
    const Integrator integrator(batch, effort, kept);
    return integrator.with_told(integrator.good_heads());
}

}  // namespace seatwright::forecast
