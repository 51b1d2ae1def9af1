#include "seatwright/prove/verdict.hpp"
#include "seatwright/words/english_prove.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <string>
#include <vector>

namespace seatwright::prove {

namespace {

// What k = 2 covers of a normal.
constexpr double coverage_probability = 0.9545;
// More readings than this are no advice.
constexpr double most_readings = 100;
constexpr int halvings = 60;

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

Sentence what_would_decide(const Judgement& judgement) {
    const double margin = distance_to_limit(judgement);
    if (margin <= decision_rounding) return sentence<"on-the-limit">();
    double gauge = 0;  // what does not shrink with more readings
    const BudgetLine* repeat = nullptr;
    for (const auto& line : judgement.budget)
        if (line.dof)
            repeat = &line;
        else
            gauge = std::hypot(gauge, line.u);
    // U with another gauge and another number of readings that scatter as those at hand do.
    const auto reach = [&](double u, double readings) {
        if (!repeat) return usual_coverage * u;
        const double now = *repeat->dof + 1;
        return combine({{"", u, std::nullopt}, {"", repeat->u * std::sqrt(now / readings), readings - 1}})
            .expanded;
    };
    const double readings = repeat ? *repeat->dof + 1 : 1;
    std::vector<Sentence> ways;
    if (reach(0, readings) <= margin) {
        double low = 0, high = gauge;
        for (int i = 0; i < halvings; ++i) {
            const double middle = (low + high) / 2;
            (reach(middle, readings) <= margin ? low : high) = middle;
        }
        ways.push_back(sentence<"better-gauge">("least"_is = as_length_below(low)));
    }
    for (double more = 1; repeat && more <= most_readings; ++more)
        if (reach(gauge, readings + more) <= margin) {
            ways.push_back(sentence<"more-readings">("more"_is = as_number(more, 0)));
            break;
        }
    if (ways.empty() && gauge == 0) return sentence<"scatter-less">();
    if (ways.empty()) return sentence<"gauge-and-readings">();
    return sentence<"ways">("ways"_is = list_of(ways, Join::either));
}

}  // namespace seatwright::prove
