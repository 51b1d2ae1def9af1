#include "seatwright/find/learning_sums.hpp"

#include <algorithm>
#include <iterator>
#include <numeric>

#include "seatwright/find/learning.hpp"

namespace seatwright::find {

namespace {

using Eigen::Index;

Index row_of(const std::vector<std::size_t>& guides, std::size_t guide) {
    return 2 * (std::lower_bound(guides.begin(), guides.end(), guide) - guides.begin());
}

// Adds equations whose i-th guide is `guide[i]`.
void add_guides(LearningSums& into, const std::vector<std::size_t>& guide, const Eigen::MatrixXd& matrix,
                const Eigen::VectorXd& right) {
    for (std::size_t i = 0; i < guide.size(); ++i) {
        const Index row = row_of(into.guide, guide[i]), from = 2 * static_cast<Index>(i);
        into.right.segment<2>(row) += right.segment<2>(from);
        for (std::size_t k = 0; k < guide.size(); ++k)
            into.matrix.block<2, 2>(row, row_of(into.guide, guide[k])) +=
                matrix.block<2, 2>(from, 2 * static_cast<Index>(k));
    }
}

LearningSums nothing_of(std::vector<std::size_t> guides) {
    LearningSums out;
    out.guide = std::move(guides);
    const auto size = 2 * static_cast<Index>(out.guide.size());
    out.matrix = Eigen::MatrixXd::Zero(size, size);
    out.right = Eigen::VectorXd::Zero(size);
    return out;
}

}  // namespace

Eigen::MatrixXd without_pose(const Deviations& head, const std::vector<Expected>& declared) {
    const auto n = static_cast<Eigen::Index>(head.guide.size());
    Vec2 centre = Vec2::Zero();
    for (const std::size_t g : head.guide) centre += declared[g].map / static_cast<double>(n);
    Eigen::VectorXd swing(2 * n);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2 arm = declared[head.guide[static_cast<std::size_t>(i)]].map - centre;
        swing(2 * i) = -arm.y();
        swing(2 * i + 1) = arm.x();
    }
    Eigen::MatrixXd maker = Eigen::MatrixXd::Identity(2 * n, 2 * n);
    const double length2 = swing.squaredNorm();
    if (length2 > 0) maker -= swing * swing.transpose() / length2;
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index k = 0; k < n; ++k) {
            maker(2 * i, 2 * k) -= 1.0 / static_cast<double>(n);
            maker(2 * i + 1, 2 * k + 1) -= 1.0 / static_cast<double>(n);
        }
    return maker;
}

Eigen::VectorXd stacked(const Deviations& head) {
    Eigen::VectorXd y(2 * static_cast<Eigen::Index>(head.guide.size()));
    for (std::size_t i = 0; i < head.guide.size(); ++i)
        y.segment<2>(2 * static_cast<Eigen::Index>(i)) = head.deviation[i];
    return y;
}

LearningSums operator+(const LearningSums& a, const LearningSums& b) {
    LearningSums out;
    if (a.guide == b.guide) {
        out.guide = a.guide;
        out.matrix = a.matrix + b.matrix;
        out.right = a.right + b.right;
    } else {
        std::vector<std::size_t> both;
        std::set_union(a.guide.begin(), a.guide.end(), b.guide.begin(), b.guide.end(),
                       std::back_inserter(both));
        out = nothing_of(std::move(both));
        add_guides(out, a.guide, a.matrix, a.right);
        add_guides(out, b.guide, b.matrix, b.right);
    }
    out.squares = a.squares + b.squares;
    out.touch_variance = a.touch_variance + b.touch_variance;
    out.touched = a.touched + b.touched;
    out.dof = a.dof + b.dof;
    out.heads = a.heads + b.heads;
    out.own = a.own;
    for (const auto& [guides, own] : b.own) {
        const auto [at, fresh] = out.own.try_emplace(guides, own);
        if (fresh) continue;
        at->second.left += own.left;
        at->second.squares += own.squares;
        at->second.touch_variance += own.touch_variance;
        at->second.heads += own.heads;
    }
    out.moments = a.moments;
    for (const auto& [guide, of] : b.moments) {
        const auto [at, fresh] = out.moments.try_emplace(guide, of);
        if (!fresh) at->second = {at->second[0] + of[0], at->second[1] + of[1]};
    }
    return out;
}

LearningSums learning_sums(const Deviations& head, const std::vector<Expected>& declared) {
    std::vector<std::size_t> guides = head.guide;
    std::sort(guides.begin(), guides.end());
    LearningSums out = nothing_of(std::move(guides));
    const Eigen::MatrixXd maker = without_pose(head, declared);
    const Eigen::VectorXd y = stacked(head), left = maker * y;
    add_guides(out, head.guide, maker, left);
    out.squares = y.dot(left);
    out.touch_variance = std::accumulate(head.touch_variance.begin(), head.touch_variance.end(), 0.0);
    out.touched = static_cast<double>(head.guide.size());
    out.dof = 2 * out.touched - 3;
    out.heads = 1;
    LearningSums::Own own;
    own.left = left;
    own.squares.resize(static_cast<Index>(head.guide.size()));
    own.touch_variance.resize(own.squares.size());
    own.heads = 1;
    for (std::size_t i = 0; i < head.guide.size(); ++i) {
        const auto row = static_cast<Index>(i);
        own.squares[row] = left.segment<2>(2 * row).squaredNorm();
        own.touch_variance[row] = head.touch_variance[i];
        out.moments[head.guide[i]] = {Moments{1, head.deviation[i].x(), 0},
                                      Moments{1, head.deviation[i].y(), 0}};
    }
    out.own.emplace(head.guide, std::move(own));
    return out;
}

}  // namespace seatwright::find
