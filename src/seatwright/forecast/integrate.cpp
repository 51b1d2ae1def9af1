#include "seatwright/forecast/integrate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

#include "seatwright/forecast/group.hpp"
#include "seatwright/forecast/single.hpp"

namespace seatwright::forecast {
namespace {

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
            met[seat.kind == job::Kind::intake ? 0 : 1] = true;
    }
    for (Seat& seat : batch.seats)
        if (!met[seat.kind == job::Kind::intake ? 0 : 1]) seat.height = {};
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
        weigh_heads();
        for (Batch& part : parts_of(simple)) {
            groups_.emplace_back(
                Group::Task{std::move(part), nodes_, judged_, groups_.size(), effort.fineness, tables});
            varies_ = varies_ || groups_.back().varies();
            risk_varies_ = risk_varies_ || groups_.back().risk_varies();
        }
    }

    Rates run() const;

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

    double widths(double head, Judged judged) const {
        double all = 1;
        for (const Seat& seat : batch_.seats)
            if (seat.width_tol)
                all *= single_chance(
                    seat.width_off + batch_.width_wear * (head * seat.seats_of_cutter + seat.place),
                    batch_.width_sd, {-*seat.width_tol, *seat.width_tol}, batch_.width_u, judged);
        return all;
    }

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
    // Mean over the batch of a node's weight times the widths' chance, each way.
    std::array<std::vector<double>, ways.size()> width_weights_;
    std::vector<Group> groups_;
};

void Integrator::weigh_heads() {
    for (auto& weights : width_weights_) weights.assign(nodes_.size(), 0);
    for (int x = 0; x < life_; ++x) {
        life_weights_.push_back(node_weights(x));
        life_widths_.push_back(widths(x, Judged::good));
        const int times = batch_.heads / life_ + (x < batch_.heads % life_ ? 1 : 0);
        const double part = static_cast<double>(times) / batch_.heads;
        for (std::size_t w = 0; w < (judged_ ? ways.size() : 0); ++w) {
            const double width = widths(x, ways[w]);
            for (std::size_t n = 0; n < nodes_.size(); ++n)
                width_weights_[w][n] += part * life_weights_.back()[n] * width;
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
        for (std::size_t n = 0; n < weights.size(); ++n) sum += weights[n] * at_nodes[n].good;
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
        for (NodeChances& node : out[s]) node.good = 1;
        for (const Group& group : groups_) {
            group.good(static_cast<int>(s), points, one);
            for (std::size_t n = 0; n < one.size(); ++n) out[s][n].good *= one[n].good;
        }
    }
    return out;
}

Integrator::OfScrambles Integrator::told() const {
    OfScrambles out(risk_varies_ ? scrambles : 1, std::vector<NodeChances>(nodes_.size()));
    std::vector<NodeChances> one(nodes_.size());
    for (std::size_t s = 0; s < out.size(); ++s) {
        for (NodeChances& node : out[s]) {
            node.good = node.pass = node.not_failed = 1;
            node.together.fill(1);
        }
        for (const Group& group : groups_) {
            group.verdicts(static_cast<int>(s), effort_.verdict_points, one);
            for (std::size_t n = 0; n < one.size(); ++n) {
                out[s][n].good *= one[n].good;
                out[s][n].pass *= one[n].pass;
                out[s][n].not_failed *= one[n].not_failed;
                for (std::size_t w = 0; w < ways.size(); ++w) out[s][n].together[w] *= one[n].together[w];
            }
        }
    }
    return out;
}

void Integrator::add_told(Rates& out) const {
    const auto all = told();
    const double count = static_cast<double>(all.size());
    double not_failed = 0, good = 0;
    for (const auto& scramble : all) {
        double passed = 0;
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            std::array<double, ways.size()> chance{};
            for (std::size_t w = 0; w < ways.size(); ++w)
                chance[w] = scramble[n].together[w] * width_weights_[w][n] / count;
            good += scramble[n].good * width_weights_[0][n] / count;
            passed += scramble[n].pass * width_weights_[1][n];
            not_failed += scramble[n].not_failed * width_weights_[2][n] / count;
            out.consumer += chance[1] - chance[3];
            out.producer_fail += chance[0] - chance[4];
        }
        out.passed_each.push_back(passed);
        out.pass += passed / count;
    }
    out.fail = std::max(0.0, 1 - not_failed);
    out.consumer = std::max(0.0, out.consumer);
    out.producer_fail = std::max(0.0, out.producer_fail);
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
        for (std::size_t n = 0; n < mean.size(); ++n) mean[n].good += scramble[n].good / count;
    }
    out.by_head = by_head(mean);
    for (const double p : out.by_head) out.good += p / static_cast<double>(out.by_head.size());
    double scatter = 0;
    for (const double p : out.each) scatter += (p - out.good) * (p - out.good);
    constexpr double t_of_seven = 2.365;  // 97.5 % point of Student's t for 7 degrees of freedom
    if (count > 1) out.error = t_of_seven * std::sqrt(scatter / (count * (count - 1)));
    return out;
}

Rates Integrator::run() const {
    for (std::size_t points = std::min(effort_.points, effort_.most_points);; points *= 2) {
        Rates out = rates_of(good(points));
        for (const Group& group : groups_) out.error = std::max(out.error, group.least_error(points));
        // Twice the points until they agree well enough.
        if (varies_ && out.error > effort_.enough && points < effort_.most_points) continue;
        out.judged = judged_;
        if (judged_) add_told(out);
        return out;
    }
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
        rough.verdict_points = 0;
        Rates out = Integrator(batch, rough, kept).run();
        rough.verdict_points = effort.verdict_points;
        if (out.good < rare) return effort.verdict_points == 0 ? out : Integrator(batch, rough, kept).run();
    }
    return Integrator(batch, effort, kept).run();
}

}  // namespace seatwright::forecast
