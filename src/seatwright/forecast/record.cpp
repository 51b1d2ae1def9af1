#include "seatwright/forecast/record.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "seatwright/base/numerics/statistics.hpp"

namespace seatwright::forecast {
namespace {

// Heads with level readings from which on the scatter from head to head is told from that within a head.
constexpr std::size_t least_level_heads = 3;
// A drift this unlikely to be chance is one.
constexpr double drift_is_real = 0.05;

void casting(FromRecord& out, const find::Find& find) {
    double squares = 0, dof = 0;
    for (const find::Learned& guide : find.learned) {
        squares += guide.dof * guide.scatter * guide.scatter;
        dof += guide.dof;
    }
    if (dof > 0) out.casting_sd = Estimate{std::sqrt(squares / dof), dof, 0};
}

// Leans as read, the sensor's own zero taken out where it was turned round; by head and axis.
std::map<std::string, std::array<std::vector<double>, 2>> leans_of(const job::Job& job) {
    std::map<std::string, std::array<std::vector<double>, 2>> out;
    for (const job::Level& level : job.readings.levels) {
        const double lean = level.second ? (level.first - *level.second) / 2 : level.first;
        out[level.head][level.across == job::Across::incline ? 0 : 1].push_back(lean);
    }
    return out;
}

struct Pooled {
    double squares = 0, dof = 0;
    void take(const std::vector<double>& values) {
        if (values.size() < 2) return;
        const auto of = numerics::summary(values);
        const double freedom = static_cast<double>(of.n) - 1;
        squares += of.sd * of.sd * freedom;
        dof += freedom;
    }
    double variance() const { return dof > 0 ? squares / dof : 0; }
};

void levels(FromRecord& out, const job::Job& job, const hold::Hold& hold) {
    const auto heads = leans_of(job);
    Pooled between, within;
    double per_head = 0, rows = 0;  // mean of 1/readings of a head
    for (const std::size_t axis : {0U, 1U}) {
        std::vector<double> means;
        for (const auto& [head, axes] : heads) {
            const auto& values = axes[axis];
            if (values.empty()) continue;
            within.take(values);
            means.push_back(numerics::summary(values).mean);
            per_head += 1 / static_cast<double>(values.size());
            ++rows;
        }
        between.take(means);
    }
    if (heads.size() >= least_level_heads && between.dof >= 2) {
        const double own = within.variance();
        out.level_sd = left_of(between.variance(), rows > 0 ? own * per_head / rows : 0, between.dof);
        if (within.dof >= 2) out.guide_angle_sd = Estimate{std::sqrt(own), within.dof, 0};
    } else if (hold.level && hold.level->scatter && within.dof >= 1) {
        out.level_sd = Estimate{*hold.level->scatter, within.dof, 0};
    }
}

// Standard uncertainty the gauge brought to a characteristic, root mean square over the seats; 0 where none
// was stated.
double gauge_u(const prove::Proof& proof, const std::string& what) {
    double squares = 0, n = 0;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements)
            if (j.what == what && j.value && j.u && j.coverage > 0) {
                squares += std::pow(*j.u / j.coverage, 2);
                ++n;
            }
    return n > 0 ? std::sqrt(squares / n) : 0;
}

// Spread about the mean and drift of a characteristic, both kinds pooled.
void series(const prove::Proof& proof, const std::string& what, std::optional<Estimate>& sd,
            std::optional<Estimate>& wear) {
    double squares = 0, dof = 0, drift = 0, error = 0, kinds = 0;
    for (const auto& s : proof.batch) {
        if (s.what != what || s.n < 3) continue;
        const double n = static_cast<double>(s.n);
        double heads = static_cast<double>(s.heads.size());
        const bool real = s.drift_per_head && s.drift_p && *s.drift_p < drift_is_real;
        // What a straight drift over the heads brings to the spread of all values.
        const double of_drift = real ? std::pow(*s.drift_per_head, 2) * (heads * heads - 1) / 12 : 0;
        squares += (n - 1) * std::max(0.0, s.sigma_overall * s.sigma_overall - of_drift);
        dof += n - 1 - (real ? 1 : 0);
        if (real) drift += *s.drift_per_head;
        if (heads > 1) error += std::pow(s.sigma_overall, 2) * 12 / (n * std::max(1.0, heads * heads - 1));
        ++kinds;
    }
    if (dof < 2) return;
    const double u = gauge_u(proof, what);
    sd = left_of(squares / dof, u * u, dof);
    wear = Estimate{drift / kinds, dof, std::sqrt(error) / kinds};
}

// Of stem heights what is left once head and position are taken out: the head's part is its Z zero's.
void depths(FromRecord& out, const prove::Proof& proof) {
    double squares = 0, dof = 0;
    for (const auto& c : proof.components) {
        if (c.what != "stem height" || (c.factor != "rest" && c.factor != "pilot")) continue;
        if (c.factor == "pilot") {
            squares += c.sd * c.sd;
            continue;
        }
        double heads = 0, positions = 0;
        for (const auto& s : proof.batch)
            if (s.what == c.what && s.kind == c.kind) heads = static_cast<double>(s.heads.size());
        for (const auto& p : proof.positions) positions += p.what == c.what ? 0.5 : 0;
        squares += c.sd * c.sd;
        dof += std::max(1.0, heads - 1) * std::max(1.0, positions - 1);
    }
    double kinds = 0;
    for (const auto& c : proof.components) kinds += c.what == "stem height" && c.factor == "rest" ? 1 : 0;
    if (kinds == 0) return;
    const double u = gauge_u(proof, "stem height");
    out.depth_sd = left_of(squares / kinds, u * u, dof);
}

int touches_of(const job::Job& job, const hold::Hold& hold) {
    const std::string& last = job.readings.touches.back().head;
    std::size_t most = 0;
    for (const hold::Setup& setup : hold.setups) {
        std::set<std::string> ids;
        for (const job::Touch& touch : job.readings.touches)
            for (const hold::Held& held : setup.valves)
                if (touch.head == last && job.head.valves[held.valve].id == touch.valve)
                    ids.insert(touch.valve);
        most = std::max(most, ids.size());
    }
    return static_cast<int>(most);
}

void runouts(FromRecord& out, const prove::Proof& proof) {
    double squares = 0, n = 0;
    std::set<std::string> heads;
    for (const auto& seat : proof.seats)
        if (seat.runout) {
            squares += *seat.runout * *seat.runout;
            ++n;
            heads.insert(seat.head);
        }
    if (heads.size() < 2) return;
    const double u = gauge_u(proof, "runout");
    out.runout_square = Estimate{std::max(0.0, squares / n - u * u), n, 0, 0, static_cast<int>(heads.size())};
}

}  // namespace

FromRecord read_record(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof) {
    FromRecord out;
    casting(out, plan.find);
    levels(out, job, plan.hold);
    series(proof, "width", out.width_sd, out.width_wear_head);
    if (job.depth.to == job::DepthTo::height) {
        std::optional<Estimate> all;
        series(proof, "stem height", all, out.depth_wear_head);
        depths(out, proof);
    }
    runouts(out, proof);
    std::set<std::string> heads;
    for (const job::Touch& touch : job.readings.touches) heads.insert(touch.head);
    out.touched_heads = static_cast<int>(heads.size());
    if (!job.readings.touches.empty()) out.touches = touches_of(job, plan.hold);
    return out;
}

}  // namespace seatwright::forecast
