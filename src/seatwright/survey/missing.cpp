#include "seatwright/survey/missing.hpp"

#include <Eigen/Cholesky>

#include <cmath>
#include <map>

#include "seatwright/survey/candidates.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

constexpr std::array figure_names{"x", "y", "z", "incline", "cant"};

// sd of every unknown, as a column of variances.
using Variances = Eigen::VectorXd;

class Standing {
  public:
    explicit Standing(const State& state) : state_(state), covariance_(state.solution.covariance) {}

    double relative(std::size_t g, int k, const Variances& v) const {
        const auto at = state_.layout.guide(g);
        const double u = std::sqrt(std::max(0.0, v[at + k]));
        const double most = k < 3 ? state_.open_at(Row::Of::guide, g) : open_lean;
        // As State::closed has it.
        if (const auto s = state_.over_in(g); s && k < 3) {
            const auto attitude = state_.layout.setup(*s);
            for (int i = 0; i < 3; ++i)
                if (v[attitude + i] > open_attitude * open_attitude) return open_counts;
        }
        if (k < 2) {
            const Vec3 a = state_.axis(g);
            if (std::abs(a[k] / a.z()) * std::sqrt(std::max(0.0, v[at + 2])) > most) return open_counts;
        }
        return u > most ? open_counts : std::min(open_counts, u / (k < 3 ? aim_place : aim_lean));
    }

    double worst(std::size_t g, const Variances& v) const {
        double out = 0;
        for (int k = 0; k < 5; ++k) out = std::max(out, relative(g, k, v));
        return out;
    }

    double mean_worst(const Variances& v) const {
        double sum = 0;
        for (std::size_t g = 0; g < state_.layout.guides.size(); ++g) sum += worst(g, v);
        return sum / static_cast<double>(std::max<std::size_t>(1, state_.layout.guides.size()));
    }

    double worst_of_all(const Variances& v) const {
        double out = 0;
        for (std::size_t g = 0; g < state_.layout.guides.size(); ++g) out = std::max(out, worst(g, v));
        return out;
    }

    // A share of the mean over all figures decides where no reading by itself helps the worst.
    double mean_all(const Variances& v) const {
        double sum = 0;
        for (std::size_t g = 0; g < state_.layout.guides.size(); ++g)
            for (int k = 0; k < 5; ++k) sum += relative(g, k, v);
        return sum / static_cast<double>(std::max<std::size_t>(1, 5 * state_.layout.guides.size()));
    }

    double score(const Variances& v) const { return mean_worst(v) + mean_all(v) / 10; }

    // Gain of those rows: covariance·Cᵀ and the matrix it is divided by.
    struct Gain {
        Eigen::MatrixXd right, divisor;
    };
    Gain gain(const std::vector<Row>& rows) const {
        const auto n = static_cast<Eigen::Index>(rows.size());
        Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, state_.layout.size());
        Gradient g;
        for (Eigen::Index i = 0; i < n; ++i) {
            model(state_.layout, rows[static_cast<std::size_t>(i)], state_.solution.unknowns, g);
            for (const auto& [k, a] : g) c(i, k) += a;
        }
        Gain out{covariance_ * c.transpose(), {}};
        out.divisor = c * out.right;
        for (Eigen::Index i = 0; i < n; ++i)
            out.divisor(i, i) += std::pow(rows[static_cast<std::size_t>(i)].sd, 2);
        return out;
    }

    Variances with(const Gain& gain) const {
        const Eigen::MatrixXd half = gain.divisor.llt().matrixL().solve(gain.right.transpose());
        return covariance_.diagonal() - half.colwise().squaredNorm().transpose();
    }

    Variances now() const { return covariance_.diagonal(); }

    void take(const Gain& gain) {
        covariance_ -= gain.right * gain.divisor.llt().solve(gain.right.transpose());
    }

  private:
    const State& state_;
    Eigen::MatrixXd covariance_;
};

// What of the valves they leave open that this one closes, or how much surer the worst becomes.
Sentence why(const State& state, const Standing& standing, const Variances& before, const Variances& after) {
    std::map<std::vector<std::string>, std::vector<std::string>> open;  // figures → guides
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g) {
        std::vector<std::string> figures;
        for (int k = 0; k < 5; ++k)
            if (standing.relative(g, k, before) >= open_counts &&
                standing.relative(g, k, after) < open_counts)
                figures.emplace_back(figure_names[static_cast<std::size_t>(k)]);
        if (!figures.empty()) open[figures].push_back(state.layout.guides[g]);
    }
    std::vector<Sentence> left;
    left.reserve(open.size());
    for (const auto& [figures, guides] : open)
        left.push_back(sentence<"figures-of">("figures"_is = list_of(figures, Join::commas),
                                              "guides"_is = list_of(guides, Join::commas)));
    if (!left.empty()) return sentence<"leave-open">("open"_is = list_of(left, Join::semicolons));
    return sentence<"surer">("before"_is = as_number(standing.mean_worst(before), 2),
                             "after"_is = as_number(standing.mean_worst(after), 2));
}

}  // namespace

Wanted missing_of(const State& state) {
    constexpr std::size_t most = 12;
    constexpr double worth_telling = 0.1;
    Wanted out;
    Standing standing(state);
    auto candidates = candidates_of(state);
    while (out.missing.size() < most && !candidates.empty()) {
        const Variances before = standing.now();
        const double now = standing.score(before);
        if (standing.worst_of_all(before) <= 1) break;
        std::size_t best = candidates.size();
        double help = 0;
        Variances after;
        for (std::size_t i = 0; i < candidates.size(); ++i) {
            const Variances then = standing.with(standing.gain(candidates[i].rows));
            // Of two that help alike the one with fewer readings.
            const double gained =
                now - standing.mean_worst(then) - 0.001 * static_cast<double>(candidates[i].rows.size());
            if (gained <= help) continue;
            help = gained;
            best = i;
            after = then;
        }
        if (best == candidates.size() || help < worth_telling) break;
        auto& chosen = candidates[best];
        out.missing.push_back({chosen.what, why(state, standing, before, after), chosen.next,
                               now - standing.mean_worst(after)});
        out.asks.push_back(std::move(chosen.asks));
        standing.take(standing.gain(chosen.rows));
        candidates.erase(candidates.begin() + static_cast<std::ptrdiff_t>(best));
    }
    return out;
}

}  // namespace seatwright::survey
