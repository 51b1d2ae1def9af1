// What earlier heads of the same casting say of the pattern.
//
// Deviations of head h, turned back by its own fit, obey  y_hv = μ_v + η_hv − a_h − θ_h·J·m_v:  a deviation
// common to all heads, this casting's own scatter (with the touch error), and what is left of the head's
// offset and yaw. Least squares over all of it, the a_h and θ_h eliminated head by head; the μ are fixed up
// to a rigid motion, which is taken out (Σμ_v = 0, Σ(m_v − m̄)×μ_v = 0 over the guides seen). Degrees of
// freedom: 2·touched guides − 3 a head, less 2·guides − 3. The casting scatter is the residual variance less
// the touches'. As a prior, a guide is expected at m_v + μ_v, with the scatter and the mean's own error.
// See docs/learning.md.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/fingerprint.hpp"
#include "seatwright/base/numerics/order_sums.hpp"
#include "seatwright/find/learning_sums.hpp"
#include "seatwright/find/pose.hpp"
#include "seatwright/find/suspects.hpp"
#include "seatwright/find/variance.hpp"

namespace seatwright::find {

// Chance that an honest head is called foreign.
inline constexpr double foreign_below = 1e-4;

struct LearnedPattern {
    struct Guide {
        bool seen = false;
        Vec2 mean = Vec2::Zero();
        Vec2 sd_of_mean = Vec2::Zero();
        double scatter = 0;  // this guide's own casting scatter, per axis
        double dof = 0;      // of it
    };
    std::vector<Guide> guides;
    double scatter = 0;  // casting scatter pooled over guides, per axis
    double dof = 0;
    std::size_t heads = 0;
};

template <class Visit>
void fields(const LearnedPattern::Guide& of, Visit&& visit) {
    const auto& [seen, mean, sd_of_mean, scatter, dof] = of;
    visit(seen, mean, sd_of_mean, scatter, dof);
}
template <class Visit>
void fields(const LearnedPattern& of, Visit&& visit) {
    const auto& [guides, scatter, dof, heads] = of;
    visit(guides, scatter, dof, heads);
}

// The pattern as the next head is expected to show it.
std::vector<Expected> expected_from(const LearnedPattern& learned, std::vector<Expected> declared);

// One head's deviations in one setup.
struct Deviations {
    std::string head;
    std::vector<std::size_t> guide;
    std::vector<Vec2> deviation;         // pattern frame
    std::vector<double> touch_variance;  // per axis
    std::string from{};                  // the job a past head was read in; empty: this one
};
Deviations deviations_of(const std::string& head, std::span<const Expected> declared,
                         std::span<const Reading> kept, const Pose& pose);

// So many of a head's touches are suspect that it is foreign, rather than a guide of it repaired.
bool mostly_suspect(const Sorted& sorted);

// The record of one setup, filled head by head.
class PatternRecord {
  public:
    // `least_heads`: a pattern is learned from this many on (never fewer than two).
    PatternRecord(std::vector<Expected> declared, int least_heads);

    // Takes a head in; fewer than three guides say nothing of the pattern and are passed over. When the
    // record first suffices to learn, single touches that disagree with the other heads are dropped from
    // it, and heads that do not belong are left out of it and named.
    // `undo`, if any, is noted for take_back.
    struct Undo;
    std::vector<std::string> take(Deviations head, Undo* undo = nullptr);
    // The record as it was before the head taken last.
    void take_back(Undo undo);

    // From the heads taken in so far, without scatter guide by guide; brought up to date when the record has
    // grown by a twentieth.
    const std::optional<LearnedPattern>& learned() const { return lesson_.pattern; }
    // Of that pattern; zeros while there is none.
    const Fingerprint& learned_print() const { return lesson_.print; }
    std::size_t heads() const { return record_.size(); }
    const std::vector<Deviations>& all() const { return record_; }
    // How much of the deviations is common to the heads on record; guides and axes are the groups.
    std::optional<OneWay> repeatability() const;
    // From all of them.
    std::optional<LearnedPattern> learned_from_all() const;

  private:
    std::optional<LearnedPattern> learn(const LearningSums& sums) const;
    std::optional<LearnedPattern> lesson_of_others(std::size_t than) const;
    void leave_out(std::size_t head);
    std::vector<std::string> screen();

    std::vector<Expected> declared_;
    std::size_t least_heads_;
    std::vector<Deviations> record_;
    numerics::OrderSums<LearningSums> sums_;  // of the record
    struct Lesson {
        std::optional<LearnedPattern> pattern;
        Fingerprint print{};    // of it
        std::size_t heads = 0;  // on record when it was learned
        bool screened = false;
    };
    Lesson lesson_;
};

struct PatternRecord::Undo {
    bool taken = false;
    std::optional<Lesson> lesson;                   // before, where another was learned
    std::optional<std::vector<Deviations>> record;  // before, where heads were screened
};

// Chance of a misfit at least this large between a head and a learned pattern whose scatter is itself
// estimated (F with dof and learned.dof degrees of freedom).
double misfit_p(double chi2, int dof, const LearnedPattern& learned);

}  // namespace seatwright::find
