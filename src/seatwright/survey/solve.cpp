#include "seatwright/survey/solve.hpp"

#include <Eigen/Cholesky>
#include <cmath>

namespace seatwright::survey {
namespace {

struct Normal {
    Eigen::MatrixXd matrix;
    Eigen::VectorXd right;
    double chi2 = 0;
};

Normal normal_of(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& u) {
    Normal out{Eigen::MatrixXd::Zero(u.size(), u.size()), Eigen::VectorXd::Zero(u.size()), 0};
    Gradient g;
    for (const auto& row : rows) {
        if (row.aside) continue;
        const double v = (row.value - model(layout, row, u, g)) / row.sd;
        out.chi2 += v * v;
        for (const auto& [i, a] : g) {
            out.right[i] += a * v / row.sd;
            for (const auto& [j, b] : g) out.matrix(i, j) += a * b / (row.sd * row.sd);
        }
    }
    return out;
}

// The precisions of priors so wide that they weigh nothing beside a reading.
Eigen::VectorXd wide(const Layout& layout) {
    Eigen::VectorXd out(layout.size());
    for (Eigen::Index i = 0; i < out.size(); ++i) {
        const double sd = layout.is_angle(i) ? open_angle : open_length;
        out[i] = 1 / (sd * sd);
    }
    return out;
}

// A guide never lies flat: leans stay where tangents are tame.
void keep_tame(const Layout& layout, Eigen::VectorXd& u) {
    constexpr double most = 85 * rad_per_deg;
    for (std::size_t g = 0; g < layout.guides.size(); ++g)
        for (int k = 3; k < 5; ++k) {
            double& lean = u[layout.guide(g) + k];
            lean = std::clamp(lean, -most, most);
        }
}

Eigen::LLT<Eigen::MatrixXd> damped(Eigen::MatrixXd normal, const Eigen::VectorXd& by) {
    normal.diagonal() += by;
    return Eigen::LLT<Eigen::MatrixXd>(normal);
}

// Least squares with priors about a place, as precisions; stepped until it stands still.
class Descent {
  public:
    Descent(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& start)
        : layout_(layout), rows_(rows), at_(start), about_(start), prior_(wide(layout)), now_(normal(at_)) {}

    bool settle(int most_steps) {
        constexpr double settled = 1e-9;  // of chi2: with a bad reading among them it shrinks slowly
        double damping = 0;
        for (int step = 0; step < most_steps; ++step) {
            const auto llt = damped(now_.matrix, prior_ * damping);
            const Eigen::VectorXd move = llt.solve(now_.right);
            if (llt.info() != Eigen::Success || !move.allFinite()) return false;
            const bool done = damping == 0 && move.dot(now_.right) < settled * std::max(1.0, now_.chi2);
            Eigen::VectorXd there = at_ + move;
            keep_tame(layout_, there);
            Normal next = normal(there);
            if (done || next.chi2 <= now_.chi2) {
                at_ = std::move(there);
                now_ = std::move(next);
                damping = damping > 1 ? damping / 10 : 0;
            } else {
                damping =
                    std::max(1.0, 10 * damping);  // it went round a bend: shorter along what is hardly known
            }
            if (done) return true;
        }
        return false;
    }

    // What is hardly known can wander long after the rest has settled: it is held where it is.
    void hold_open() {
        constexpr double known_length = 0.5, known_angle = 0.5 * rad_per_deg, held = 1e-3;
        const Eigen::MatrixXd c = covariance();
        for (Eigen::Index i = 0; i < prior_.size(); ++i)
            if (const double known = layout_.is_angle(i) ? known_angle : known_length;
                c(i, i) > known * known)
                prior_[i] = 1 / std::pow(held * known, 2);
        about_ = at_;
        now_ = normal(at_);
    }

    const Eigen::VectorXd& unknowns() const { return at_; }
    double chi2() const { return now_.chi2; }

    Eigen::MatrixXd covariance() const {
        const auto llt = damped(normal_of(layout_, rows_, at_).matrix, wide(layout_));
        return llt.solve(Eigen::MatrixXd::Identity(at_.size(), at_.size()));
    }

  private:
    Normal normal(const Eigen::VectorXd& u) const {
        Normal out = normal_of(layout_, rows_, u);
        const Eigen::VectorXd off = u - about_;
        out.chi2 += off.dot(prior_.asDiagonal() * off);
        out.right -= prior_.asDiagonal() * off;
        out.matrix.diagonal() += prior_;
        return out;
    }

    const Layout& layout_;
    const std::vector<Row>& rows_;
    Eigen::VectorXd at_, about_, prior_;
    Normal now_;
};

// What each row shows at a solution `moved` from where it is linear.
Solution judged(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& at,
                Eigen::MatrixXd covariance, const Eigen::VectorXd& moved) {
    Solution out;
    out.unknowns = at;
    out.covariance = std::move(covariance);
    Gradient g;
    double spent = 0;
    for (const auto& row : rows) {
        double off = row.value - model(layout, row, at, g);
        for (const auto& [i, a] : g) off -= a * moved[i];
        const double v = off / row.sd;
        const double share = variance_of(g, out.covariance) / (row.sd * row.sd);
        out.residual.push_back(v);
        out.redundancy.push_back(row.aside ? 1 + share : std::max(0.0, 1 - share));
        if (row.aside || !row.read) continue;
        out.chi2 += v * v;
        spent += std::min(1.0, share);
        out.dof += 1;
    }
    out.dof -= spent;
    return out;
}

}  // namespace

double variance_of(const Gradient& gradient, const Eigen::MatrixXd& covariance) {
    double out = 0;
    for (const auto& [i, a] : gradient)
        for (const auto& [j, b] : gradient) out += a * b * covariance(i, j);
    return out;
}

Solved<Solution> solve(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& start) {
    constexpr int most_steps = 30;
    Descent descent(layout, rows, start);
    if (!descent.settle(most_steps)) {
        descent.hold_open();
        if (!descent.settle(most_steps))
            return tl::unexpected(SolverError{"Gauss-Newton", 2 * most_steps, descent.chi2(),
                                              "the readings do not settle on one head"});
    }
    return judged(layout, rows, descent.unknowns(), descent.covariance(),
                  Eigen::VectorXd::Zero(layout.size()));
}

Solution linearized(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& at) {
    const Normal normal = normal_of(layout, rows, at);
    const auto llt = damped(normal.matrix, wide(layout));
    return judged(layout, rows, at, llt.solve(Eigen::MatrixXd::Identity(at.size(), at.size())),
                  llt.solve(normal.right));
}

}  // namespace seatwright::survey
