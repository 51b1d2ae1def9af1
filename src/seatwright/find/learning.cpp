#include "seatwright/find/learning.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>

#include "seatwright/find/pattern.hpp"

namespace seatwright::find {
namespace {

constexpr std::size_t least_guides = 3;
// The learned pattern is redone when the record has grown by this share: the means move by less than their
// error.
constexpr double growth = 0.05;
// A guide or two of eight may have been repaired.
constexpr double most_repaired = 0.26;
// Pivots below this share of the largest mean that some guides were never touched together with the others.
constexpr double connected = 1e-9;

// Orthonormal rigid motions of the guides seen: what the means are not determined in.
Eigen::MatrixXd rigid_motions(const LearningSums& sums, const std::vector<Expected>& declared) {
    const auto n = static_cast<Eigen::Index>(sums.guide.size());
    Vec2 centre = Vec2::Zero();
    for (const std::size_t g : sums.guide) centre += declared[g].map / static_cast<double>(n);
    Eigen::MatrixXd motions = Eigen::MatrixXd::Zero(2 * n, 3);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2 arm = declared[sums.guide[static_cast<std::size_t>(i)]].map - centre;
        motions(2 * i, 0) = motions(2 * i + 1, 1) = 1;
        motions(2 * i, 2) = -arm.y();
        motions(2 * i + 1, 2) = arm.x();
    }
    for (Eigen::Index c = 0; c < 3; ++c) {
        const double length = motions.col(c).norm();
        if (length > 0) motions.col(c) /= length;
    }
    return motions;
}

// Residual squares and degrees of freedom guide by guide.
void own_scatter(LearnedPattern& learned, const LearningSums& sums, const std::vector<Expected>& declared) {
    std::vector<double> squares(declared.size(), 0), share(declared.size(), 0), touch(declared.size(), 0),
        count(declared.size(), 0);
    double shares = 0;
    for (const auto& [guides, own] : sums.own) {
        const Deviations alike{{}, guides, {}, {}};
        const Eigen::MatrixXd maker = without_pose(alike, declared);
        Eigen::VectorXd means(2 * static_cast<Eigen::Index>(guides.size()));
        for (std::size_t i = 0; i < guides.size(); ++i)
            means.segment<2>(2 * static_cast<Eigen::Index>(i)) = learned.guides[guides[i]].mean;
        const Eigen::VectorXd mean_left = maker * means;
        for (std::size_t i = 0; i < guides.size(); ++i) {
            const auto at = static_cast<Eigen::Index>(i), row = 2 * at;
            const double free = maker(row, row) + maker(row + 1, row + 1);
            const Vec2 mean = mean_left.segment<2>(row), sum = own.left.segment<2>(row);
            squares[guides[i]] += own.squares[at] - 2 * mean.dot(sum) + own.heads * mean.squaredNorm();
            share[guides[i]] += own.heads * free;
            touch[guides[i]] += own.touch_variance[at];
            count[guides[i]] += own.heads;
            shares += own.heads * free;
        }
    }
    for (std::size_t g = 0; g < declared.size(); ++g) {
        LearnedPattern::Guide& guide = learned.guides[g];
        if (!guide.seen) continue;
        guide.dof = shares > 0 ? learned.dof * share[g] / shares : 0;
        if (guide.dof > 0)
            guide.scatter = std::sqrt(std::max(0.0, squares[g] / guide.dof - touch[g] / count[g]));
    }
}

// A head's deviations as readings again, its own offset and yaw already taken out.
std::vector<Reading> readings_of(const Deviations& head, const std::vector<Expected>& declared) {
    std::vector<Reading> readings;
    for (std::size_t i = 0; i < head.guide.size(); ++i)
        readings.push_back({head.guide[i], declared[head.guide[i]].map + head.deviation[i],
                            std::sqrt(head.touch_variance[i]), std::nullopt});
    return readings;
}

void drop_suspects(Deviations& head, const Sorted& sorted) {
    Deviations kept{head.head, {}, {}, {}, head.from};
    for (std::size_t i = 0; i < head.guide.size(); ++i) {
        if (sorted.set_aside[i]) continue;
        kept.guide.push_back(head.guide[i]);
        kept.deviation.push_back(head.deviation[i]);
        kept.touch_variance.push_back(head.touch_variance[i]);
    }
    head = std::move(kept);
}

}  // namespace

bool mostly_suspect(const Sorted& sorted) {
    const auto aside = std::count(sorted.set_aside.begin(), sorted.set_aside.end(), true);
    return static_cast<double>(aside) > most_repaired * static_cast<double>(sorted.set_aside.size());
}

std::vector<Expected> expected_from(const LearnedPattern& learned, std::vector<Expected> declared) {
    for (std::size_t g = 0; g < declared.size(); ++g) {
        const LearnedPattern::Guide& guide = learned.guides[g];
        if (!guide.seen) continue;
        declared[g].map += guide.mean;
        const double error2 = 0.5 * guide.sd_of_mean.squaredNorm();
        declared[g].scatter = std::sqrt(learned.scatter * learned.scatter + error2);
    }
    return declared;
}

Deviations deviations_of(const std::string& head, std::span<const Expected> declared,
                         std::span<const Reading> kept, const Pose& pose) {
    Deviations all{head, {}, {}, {}};
    const std::vector<Combined> read = combine(declared.size(), kept);
    const Mat2 back = plane_rotation(-pose.yaw);
    for (std::size_t g = 0; g < declared.size(); ++g) {
        if (read[g].weight <= 0) continue;
        all.guide.push_back(g);
        all.deviation.push_back(back * (read[g].mean - pose.centroid_at) - (declared[g].map - pose.centroid));
        all.touch_variance.push_back(1 / read[g].weight);
    }
    return all;
}

PatternRecord::PatternRecord(std::vector<Expected> declared, int least_heads)
    : declared_(std::move(declared)), least_heads_(static_cast<std::size_t>(std::max(2, least_heads))) {}

std::optional<LearnedPattern> PatternRecord::learn(const LearningSums& sums) const {
    const auto size = sums.matrix.rows();
    const double dof = sums.dof - (static_cast<double>(size) - 3);
    if (sums.guide.size() < least_guides || dof < 1) return std::nullopt;
    const Eigen::MatrixXd motions = rigid_motions(sums, declared_);
    const Eigen::LDLT<Eigen::MatrixXd> factor(sums.matrix + motions * motions.transpose());
    const Eigen::VectorXd pivots = factor.vectorD();
    if (factor.info() != Eigen::Success || pivots.minCoeff() < connected * pivots.maxCoeff())
        return std::nullopt;
    const Eigen::MatrixXd inverse =
        factor.solve(Eigen::MatrixXd::Identity(size, size)) - motions * motions.transpose();
    const Eigen::VectorXd means = inverse * sums.right;

    LearnedPattern learned;
    learned.heads = sums.heads;
    learned.dof = dof;
    learned.guides.resize(declared_.size());
    const double variance = std::max(0.0, sums.squares - sums.right.dot(means)) / dof;
    learned.scatter = std::sqrt(std::max(0.0, variance - sums.touch_variance / sums.touched));
    for (std::size_t i = 0; i < sums.guide.size(); ++i) {
        const auto c = 2 * static_cast<Eigen::Index>(i);
        LearnedPattern::Guide& guide = learned.guides[sums.guide[i]];
        guide.seen = true;
        guide.mean = means.segment<2>(c);
        guide.sd_of_mean = Vec2(std::sqrt(std::max(0.0, variance * inverse(c, c))),
                                std::sqrt(std::max(0.0, variance * inverse(c + 1, c + 1))));
    }
    return learned;
}

std::optional<LearnedPattern> PatternRecord::learned_from_all() const {
    if (record_.empty()) return std::nullopt;
    const LearningSums sums = sums_.total();
    auto learned = learn(sums);
    if (learned) own_scatter(*learned, sums, declared_);
    return learned;
}

std::optional<LearnedPattern> PatternRecord::lesson_of_others(std::size_t than) const {
    numerics::OrderSums<LearningSums> others;
    for (std::size_t h = 0; h < record_.size(); ++h)
        if (h != than) others.push_back(sums_[h]);
    return others.size() > 0 ? learn(others.total()) : std::nullopt;
}

void PatternRecord::leave_out(std::size_t head) {
    record_.erase(record_.begin() + static_cast<std::ptrdiff_t>(head));
    while (sums_.size() > head) sums_.pop_back();
    while (sums_.size() < record_.size()) sums_.push_back(learning_sums(record_[sums_.size()], declared_));
}

// Each head against what the others say: the one that fits worst loses the touches that disagree, or goes
// altogether; again until all belong.
std::vector<std::string> PatternRecord::screen() {
    std::vector<std::string> foreign;
    const std::size_t most_rounds = 2 * record_.size();
    for (std::size_t round = 0; round < most_rounds && record_.size() >= least_heads_; ++round) {
        double least = foreign_below;
        std::size_t worst = record_.size();
        std::optional<LearnedPattern> others_of_worst;
        for (std::size_t h = 0; h < record_.size(); ++h) {
            auto others = lesson_of_others(h);
            if (!others) continue;
            const auto readings = readings_of(record_[h], declared_);
            const auto pose = fit_pose(expected_from(*others, declared_), readings, {});
            if (!pose) continue;
            const double p = misfit_p(pose->chi2, degrees_of_freedom(readings.size(), {}), *others);
            if (p < least) {
                least = p;
                worst = h;
                others_of_worst = std::move(others);
            }
        }
        if (worst == record_.size()) break;
        const auto readings = readings_of(record_[worst], declared_);
        const Sorted sorted = sort_out(expected_from(*others_of_worst, declared_), readings, {});
        if (!mostly_suspect(sorted) && sorted.kept.size() < readings.size() &&
            sorted.kept.size() >= least_guides) {
            drop_suspects(record_[worst], sorted);
            sums_.replace(worst, learning_sums(record_[worst], declared_));
            continue;
        }
        foreign.push_back(record_[worst].head);
        leave_out(worst);
    }
    return foreign;
}

std::vector<std::string> PatternRecord::take(Deviations head, Undo* undo) {
    if (head.guide.size() < least_guides) return {};
    if (undo != nullptr) undo->taken = true;
    sums_.push_back(learning_sums(head, declared_));
    record_.push_back(std::move(head));
    if (record_.size() < least_heads_) return {};
    if (lesson_.pattern &&
        static_cast<double>(record_.size()) < (1 + growth) * static_cast<double>(lesson_.heads))
        return {};
    if (undo != nullptr) undo->lesson = lesson_;
    std::vector<std::string> foreign;
    if (!lesson_.screened) {
        if (undo != nullptr) undo->record = record_;
        foreign = screen();
        lesson_.screened = record_.size() >= least_heads_;
    }
    if (record_.size() >= least_heads_) {
        lesson_.pattern = learn(sums_.total());
        lesson_.print = lesson_.pattern ? FingerprintOf().add(*lesson_.pattern).end() : Fingerprint{};
        lesson_.heads = record_.size();
    }
    return foreign;
}

void PatternRecord::take_back(Undo undo) {
    if (!undo.taken) return;
    if (undo.record) {
        record_ = std::move(*undo.record);
        while (sums_.size() > 0) sums_.pop_back();
        for (const Deviations& head : record_) sums_.push_back(learning_sums(head, declared_));
    }
    record_.pop_back();
    sums_.pop_back();
    if (undo.lesson) lesson_ = std::move(*undo.lesson);
}

std::optional<OneWay> PatternRecord::repeatability() const {
    if (record_.empty()) return std::nullopt;
    std::vector<Moments> groups;
    for (const auto& [guide, axes] : sums_.total().moments)
        groups.insert(groups.end(), axes.begin(), axes.end());
    return one_way(groups);
}

double misfit_p(double chi2, int dof, const LearnedPattern& learned) {
    if (dof < 1 || learned.dof < 1 || !std::isfinite(chi2)) return 1;
    const boost::math::fisher_f law(dof, learned.dof);
    return cdf(complement(law, std::max(0.0, chi2) / dof));
}

}  // namespace seatwright::find
