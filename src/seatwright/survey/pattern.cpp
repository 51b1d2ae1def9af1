#include "seatwright/survey/pattern.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/survey/contradictions.hpp"

namespace seatwright::survey {
namespace {

struct Placed {
    std::size_t guide;
    int cylinder;
    std::size_t letters;  // which of the names after the cylinder
    Vec2 at;
};

struct Fit {
    bool mirrored = false;
    double spacing = 0, total = 0;
    std::vector<Vec2> expected;  // of each placed guide
    std::vector<bool> stray;
    double residual = 0;                  // the largest |coordinate| off of those that are none
    std::size_t unknowns = 0, along = 0;  // along: of them in x
    std::size_t fitted = 0;               // guides it was fitted to
};

// x = x0 + (k−1)·spacing ± px of its letters, y = py.
class Fitting {
  public:
    Fitting(const std::vector<Placed>& placed, std::size_t letters, bool mirrored)
        : placed_(placed),
          mirrored_(mirrored),
          ax_(Matrix::Zero(rows(), columns(letters) + 1 + (mirrored ? 1 : 0))),
          ay_(Matrix::Zero(rows(), columns(letters))),
          x_(rows()),
          y_(rows()) {
        const auto m = columns(letters);
        for (Eigen::Index i = 0; i < rows(); ++i) {
            const auto& p = placed[static_cast<std::size_t>(i)];
            const auto l = static_cast<Eigen::Index>(p.letters);
            ax_(i, l) = mirrored && p.cylinder % 2 == 0 ? -1 : 1;
            ax_(i, m) = p.cylinder - 1;
            if (mirrored) ax_(i, m + 1) = 1;
            ay_(i, l) = 1;
            x_[i] = p.at.x();
            y_[i] = p.at.y();
        }
    }

    // Least squares without the strays.
    Fit without(const std::vector<bool>& stray) const {
        Eigen::VectorXd weight = Eigen::VectorXd::Ones(rows());
        for (Eigen::Index i = 0; i < rows(); ++i)
            if (stray[static_cast<std::size_t>(i)]) weight[i] = 0;
        return made(weighted(ax_, x_, weight), weighted(ay_, y_, weight), stray);
    }

    // Least absolute deviations, by iterated reweighting: strays draw it little.
    Fit least_absolute() const {
        return made(absolute(ax_, x_), absolute(ay_, y_), std::vector<bool>(placed_.size(), false));
    }

  private:
    using Matrix = Eigen::MatrixXd;
    Eigen::Index rows() const { return static_cast<Eigen::Index>(placed_.size()); }
    static Eigen::Index columns(std::size_t letters) { return static_cast<Eigen::Index>(letters); }

    static Eigen::VectorXd weighted(const Matrix& a, const Eigen::VectorXd& b,
                                    const Eigen::VectorXd& weight) {
        Matrix n = a.transpose() * weight.asDiagonal() * a;
        n.diagonal().array() += 1e-9;  // columns that say the same share
        return n.ldlt().solve(a.transpose() * (weight.array() * b.array()).matrix());
    }

    static Eigen::VectorXd absolute(const Matrix& a, const Eigen::VectorXd& b) {
        constexpr int rounds = 40;
        constexpr double floor = 1e-3;  // mm
        Eigen::VectorXd x = weighted(a, b, Eigen::VectorXd::Ones(b.size()));
        for (int i = 0; i < rounds; ++i)
            x = weighted(a, b, (b - a * x).cwiseAbs().cwiseMax(floor).cwiseInverse());
        return x;
    }

    Fit made(const Eigen::VectorXd& fx, const Eigen::VectorXd& fy, const std::vector<bool>& stray) const {
        const Eigen::VectorXd ex = ax_ * fx, ey = ay_ * fy;
        Fit out;
        out.mirrored = mirrored_;
        out.spacing = fx[ay_.cols()];
        out.unknowns = static_cast<std::size_t>(ax_.cols() + ay_.cols());
        out.along = static_cast<std::size_t>(ax_.cols());
        out.stray = stray;
        out.expected.reserve(placed_.size());
        for (Eigen::Index i = 0; i < rows(); ++i) {
            out.expected.emplace_back(ex[i], ey[i]);
            if (stray[static_cast<std::size_t>(i)]) continue;
            ++out.fitted;
            const double dx = std::abs(x_[i] - ex[i]), dy = std::abs(y_[i] - ey[i]);
            out.total += dx + dy;
            out.residual = std::max({out.residual, dx, dy});
        }
        return out;
    }

    const std::vector<Placed>& placed_;
    bool mirrored_;
    Matrix ax_, ay_;
    Eigen::VectorXd x_, y_;
};

// One or two guides without which all the others repeat: each that could be one of them as well is a stray.
// None if no one or two do.
std::optional<Fit> but_for_few(const std::vector<Placed>& placed, const std::array<Fitting, 2>& orders) {
    const std::size_t n = placed.size();
    constexpr std::size_t most = 40;  // guides of which every pair is tried
    std::vector<Fit> fits;
    const auto attempt = [&](std::size_t i, std::size_t j) {
        std::vector<bool> stray(n, false);
        stray[i] = stray[j] = true;
        for (const auto& order : orders) {
            Fit fit = order.without(stray);
            const std::size_t left = n - (i == j ? 1 : 2);
            // With nothing to spare along the head it fits whatever stands there.
            if (fit.residual > least_stray || 2 * left <= fit.unknowns + 1 || left <= fit.along) continue;
            fits.push_back(std::move(fit));
        }
    };
    for (std::size_t i = 0; i < n; ++i) attempt(i, i);
    if (fits.empty() && n <= most)
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = i + 1; j < n; ++j) attempt(i, j);
    if (fits.empty()) return std::nullopt;
    Fit best = *std::min_element(fits.begin(), fits.end(),
                                 [](const Fit& a, const Fit& b) { return a.residual < b.residual; });
    for (const auto& fit : fits)
        for (std::size_t i = 0; i < n && fit.residual < 2 * best.residual + 0.1; ++i)
            if (fit.stray[i]) best.stray[i] = true;
    return best;
}

}  // namespace

double robust_scatter(std::vector<double> off) {
    if (off.empty()) return 0;
    for (double& v : off) v = std::abs(v);
    return numerics::middle_one(std::move(off)) / 0.6745;  // of a normal law
}

double chance_of(double residual, double window, std::size_t spare) {
    if (spare == 0 || window <= 0) return 1;
    return std::pow(std::min(1.0, 2 * residual / window), static_cast<double>(spare));
}

std::optional<Pattern> pattern_of(const State& state) {
    const auto& layout = state.layout;
    std::map<std::string, std::size_t> letters;
    std::map<int, std::size_t> cylinders;
    std::vector<Placed> placed;
    for (std::size_t g = 0; g < layout.guides.size(); ++g) {
        if (!state.flat_closed(Row::Of::guide, g)) continue;
        const auto name = *guide_name(layout.guides[g]);
        const auto l = letters.emplace(name.letters, letters.size()).first->second;
        ++cylinders[name.cylinder];
        placed.push_back({g, name.cylinder, l, state.solution.unknowns.segment<2>(layout.guide(g))});
    }
    if (cylinders.size() < 2) return std::nullopt;
    const std::array orders{Fitting(placed, letters.size(), false), Fitting(placed, letters.size(), true)};
    const std::vector<bool> none(placed.size(), false);
    const Fit same = orders[0].without(none), mirror = orders[1].without(none);
    // A mirrored order has one unknown more: it must fit clearly better.
    const double usual = 0.02 * static_cast<double>(placed.size());
    const bool turned = mirror.total + usual < 0.5 * (same.total + usual);
    Fit best = turned ? mirror : same;
    bool decided = turned || same.total + usual < 0.5 * (mirror.total + usual);
    if (best.residual > least_stray) {
        if (auto few = but_for_few(placed, orders)) {
            best = std::move(*few);
            decided = false;
        } else {
            const Fit one = orders[0].least_absolute(), other = orders[1].least_absolute();
            best = other.total + usual < 0.5 * (one.total + usual) ? other : one;
            std::vector<double> sizes;
            for (std::size_t i = 0; i < placed.size(); ++i)
                for (int axis = 0; axis < 2; ++axis)
                    sizes.push_back(placed[i].at[axis] - best.expected[i][axis]);
            const double far = std::max(times_scatter * robust_scatter(std::move(sizes)), least_stray);
            for (std::size_t i = 0; i < placed.size(); ++i)
                best.stray[i] = (placed[i].at - best.expected[i]).cwiseAbs().maxCoeff() > far;
        }
    }
    Pattern out;
    out.mirrored = best.mirrored;
    out.decided = decided;
    out.spacing = best.spacing;
    out.expected.assign(layout.guides.size(), Vec2::Zero());
    out.off = out.expected;
    double squares = 0;
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const auto g = placed[i].guide;
        out.expected[g] = best.expected[i];
        out.off[g] = placed[i].at - best.expected[i];
        if (best.stray[i]) {
            out.strays.push_back(g);
            continue;
        }
        squares += out.off[g].squaredNorm();
        out.residual = std::max(out.residual, out.off[g].cwiseAbs().maxCoeff());
    }
    if (2 * best.fitted <= best.unknowns) return std::nullopt;
    out.spare = 2 * best.fitted - best.unknowns;
    const double reach = static_cast<double>(cylinders.rbegin()->first - cylinders.begin()->first);
    out.u_spacing = std::sqrt(squares / static_cast<double>(out.spare)) *
                    std::sqrt(2.0 / static_cast<double>(letters.size())) / reach;
    // Not better than what the readings could tell apart.
    double told_apart = 0;
    for (const auto& p : placed) told_apart = std::max(told_apart, 2 * state.u(layout.guide(p.guide)));
    out.chance = chance_of(std::max(out.residual, told_apart), std::abs(out.spacing), out.spare);
    if (out.chance > 1e-3) out.strays.clear();
    return out;
}

}  // namespace seatwright::survey
