#include "seatwright/prove/verdict.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "seatwright/prove/say.hpp"

namespace seatwright::prove {

namespace {

// What k = 2 covers of a normal.
constexpr double coverage_probability = 0.9545;
// More readings than this are no advice.
constexpr double most_readings = 100;

double distance_to_limit(const Judgement& j) {
    double least = std::numeric_limits<double>::infinity();
    if (j.limit_low) least = std::min(least, std::abs(*j.value - *j.limit_low));
    if (j.limit_high) least = std::min(least, std::abs(*j.value - *j.limit_high));
    return least;
}

}  // namespace

const char* word(Verdict verdict) {
    switch (verdict) {
        case Verdict::pass:
            return "pass";
        case Verdict::fail:
            return "fail";
        case Verdict::undecided:
            return "undecided";
        case Verdict::not_measured:
            return "not measured";
    }
    return "not measured";
}

double student_factor(double probability, double dof) {
    const boost::math::students_t t(dof);
    return boost::math::quantile(boost::math::complement(t, (1 - probability) / 2));
}

Uncertainty combine(const std::vector<BudgetLine>& lines) {
    Uncertainty out;
    double squares = 0, fourths = 0;
    for (const auto& line : lines) {
        squares += line.u * line.u;
        if (line.dof) fourths += std::pow(line.u, 4) / *line.dof;
    }
    out.u = std::sqrt(squares);
    if (fourths > 0) {
        out.dof = squares * squares / fourths;
        out.coverage = student_factor(coverage_probability, *out.dof);
    }
    out.expanded = out.coverage * out.u;
    return out;
}

double propagate(const Eigen::VectorXd& sensitivities, const Eigen::MatrixXd& covariance) {
    return std::sqrt(std::max(sensitivities.dot(covariance * sensitivities), 0.0));
}

Verdict decide(double value, std::optional<double> low, std::optional<double> high, double expanded) {
    const double e = decision_rounding;
    const bool inside = (!low || value >= *low + expanded - e) && (!high || value <= *high - expanded + e);
    if (inside) return Verdict::pass;
    const bool outside = (low && value <= *low - expanded + e) || (high && value >= *high + expanded - e);
    return outside ? Verdict::fail : Verdict::undecided;
}

Verdict worse(Verdict a, Verdict b) {
    const auto rank = [](Verdict v) {
        switch (v) {
            case Verdict::fail:
                return 3;
            case Verdict::undecided:
                return 2;
            case Verdict::not_measured:
                return 1;
            case Verdict::pass:
                return 0;
        }
        return 1;
    };
    return rank(a) >= rank(b) ? a : b;
}

std::string what_would_decide(const Judgement& judgement, std::size_t readings, LengthUnit unit) {
    const double margin = distance_to_limit(judgement);
    const double needed = margin / usual_coverage;
    if (margin <= decision_rounding)
        return "the value lies on the limit: no measurement will decide it, take the seat further inside";
    std::string words = fmt::format("a gauge with a standard uncertainty of at most {}", say(needed, unit));
    double fixed = 0, repeat = 0;
    for (const auto& line : judgement.budget) (line.dof ? repeat : fixed) += line.u * line.u;
    const double room = needed * needed - fixed;
    if (repeat > 0 && room > 0 && readings > 0) {
        const double all = std::ceil(repeat * static_cast<double>(readings) / room);
        const double more = all - static_cast<double>(readings);
        if (more >= 1 && all <= most_readings)
            words += fmt::format(", or {:.0f} more readings like these", more);
    }
    return words;
}

}  // namespace seatwright::prove
