#include "seatwright/forecast/attitudes.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

namespace seatwright::forecast {
namespace {

constexpr std::size_t most_attitudes = 8000, most_poses = 16000;
constexpr double furthest_lean = 5.7;   // sd: 9e-8 of all attitudes lie beyond
constexpr double furthest_rough = 5.0;  // 4e-6
// From one to the next, of the width of a normal times what is asked; errors go as e^(−2π²/h²).
constexpr double node_distance = 1.1;

}  // namespace

EvenPlaces EvenPlaces::over(const std::vector<double>& sharpness, double fineness, std::size_t most) {
    EvenPlaces out;
    out.dimensions = sharpness.size();
    const double reach = fineness > 1 ? furthest_rough : furthest_lean;
    // Steps by powers of 2^(1/4): what changes a little keeps its places.
    std::vector<double> step;
    std::size_t checked = 0;  // the dimension in which what is asked changes most from place to place
    double volume = out.dimensions == 3 ? 4.2 : out.dimensions == 2 ? 3.2 : 2;
    for (const double sharp : sharpness) {
        const double wanted = fineness * node_distance / std::hypot(1, sharp);
        step.push_back(std::exp2(std::floor(4 * std::log2(wanted)) / 4));
        volume *= reach / step.back();
        if (std::hypot(1, sharp) * step.back() > std::hypot(1, sharpness[checked]) * step[checked])
            checked = step.size() - 1;
    }
    if (!(volume < static_cast<double>(most))) return {};
    std::vector<long> last, at;
    for (const double s : step) last.push_back(static_cast<long>(reach / s));
    for (const long n : last) at.push_back(-n);
    double sum = 0, even = 0;
    while (true) {
        double square = 0;
        for (std::size_t d = 0; d < at.size(); ++d)
            square += std::pow(step[d] * static_cast<double>(at[d]), 2);
        if (square <= reach * reach) {
            for (std::size_t d = 0; d < at.size(); ++d)
                out.normal.push_back(step[d] * static_cast<double>(at[d]));
            out.weight.push_back(std::exp(-0.5 * square));
            out.odd.push_back(!at.empty() && (at[checked] & 1) != 0);
            sum += out.weight.back();
            even += out.odd.back() ? 0 : out.weight.back();
        }
        std::size_t d = 0;
        while (d < at.size() && at[d] == last[d]) {
            at[d] = -last[d];
            ++d;
        }
        if (d == at.size()) break;
        ++at[d];
    }
    for (double& weight : out.weight) weight /= sum;
    out.even_share = even / sum;
    return out;
}

Attitudes Attitudes::spread(double level_sd, const Vec2& along,
                            const std::function<double(const Vec2&)>& sharpness, double fineness) {
    Attitudes out;
    const Vec2 first = along.norm() > 0 ? Vec2(along.normalized()) : Vec2(1, 0),
               second(-first.y(), first.x());
    std::vector<double> sharp;
    if (level_sd > 0) sharp = {sharpness(first) * level_sd, sharpness(second) * level_sd};
    out.places = EvenPlaces::over(sharp, fineness, most_attitudes);
    for (std::size_t i = 0; i < out.places.size(); ++i) {
        const double* normal = out.places.normal.data() + 2 * i;
        out.at.push_back(sharp.empty() ? Vec2(Vec2::Zero())
                                       : Vec2(level_sd * (normal[0] * first + normal[1] * second)));
    }
    return out;
}

std::vector<Vec3> pose_axes(const Mat3& covariance) {
    std::vector<Vec3> out;
    const Eigen::SelfAdjointEigenSolver<Mat3> solver(covariance);
    const double most = std::max(0.0, solver.eigenvalues()(2));
    for (int axis = 2; axis >= 0; --axis) {
        const double variance = solver.eigenvalues()(axis);
        if (variance > most * 1e-14 && variance > 0)
            out.emplace_back(solver.eigenvectors().col(axis) * std::sqrt(variance));
    }
    return out;
}

Poses Poses::spread(const Mat3& covariance, const std::function<double(const Vec3&)>& sharpness,
                    double fineness) {
    Poses out;
    const auto axes = pose_axes(covariance);
    std::vector<double> sharp;
    sharp.reserve(axes.size());
    for (const Vec3& axis : axes) sharp.push_back(sharpness(axis));
    out.places = EvenPlaces::over(sharp, fineness, most_poses);
    for (std::size_t i = 0; i < out.places.size(); ++i) {
        Vec3 pose = Vec3::Zero();
        for (std::size_t d = 0; d < axes.size(); ++d)
            pose += out.places.normal[i * axes.size() + d] * axes[d];
        out.at.push_back(pose);
    }
    return out;
}

}  // namespace seatwright::forecast
