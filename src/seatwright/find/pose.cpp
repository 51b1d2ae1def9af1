#include "seatwright/find/pose.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace seatwright::find {
namespace {

// Yaw of which nothing is known: uniform on the circle, standard deviation π/√3.
constexpr double vague_yaw_sd = std::numbers::pi / std::numbers::sqrt3;
// Guides closer together in plan than this (mm) say nothing of yaw.
constexpr double least_lever = 1e-6;
// Gauss-Newton here gains a factor residual/pattern a step, 1e-3 or better; 100 steps mean something is
// wrong.
constexpr int most_steps = 100;
// At this change of yaw (rad) a guide a metre off moves by 1e-10 mm.
constexpr double settled = 1e-13;

struct YawFit {
    double yaw = 0;
    double cost = 0;  // of the part that depends on yaw
};

// Minimises −2(dot·cos θ + cross·sin θ) + (θ − θ₀)²/s² over θ from `start`; sums are about the centroids.
Solved<YawFit> refine(const PairSums& sums, const Prior& prior, double start) {
    const double prior_weight = prior.yaw_sd ? 1 / (*prior.yaw_sd * *prior.yaw_sd) : 0;
    const double curvature = sums.map2 + prior_weight;
    double yaw = start, step = 0;
    for (int i = 0; i < most_steps; ++i) {
        const double pull = sums.cross * std::cos(yaw) - sums.dot * std::sin(yaw);
        step = (pull + prior_weight * (prior.yaw - yaw)) / curvature;
        yaw += step;
        if (std::abs(step) <= settled) {
            const double turn = yaw - prior.yaw;
            return YawFit{yaw, -2 * (sums.dot * std::cos(yaw) + sums.cross * std::sin(yaw)) +
                                   prior_weight * turn * turn};
        }
    }
    return tl::unexpected(
        SolverError{"Gauss-Newton on yaw", most_steps, std::abs(step), "the yaw did not settle"});
}

double sum_of_squares(std::span<const Expected> guides, std::span<const Combined> read, const Pose& pose,
                      const Prior& prior) {
    const Mat2 turn = plane_rotation(pose.yaw);
    double sum = 0;
    for (std::size_t v = 0; v < guides.size(); ++v) {
        if (read[v].weight <= 0) continue;
        const double variance = guides[v].scatter * guides[v].scatter + 1 / read[v].weight;
        const Vec2 miss = read[v].mean - pose.centroid_at - turn * (guides[v].map - pose.centroid);
        sum += miss.squaredNorm() / variance + read[v].spread;
    }
    if (prior.offset_sd) {
        const double sd = std::max(*prior.offset_sd, least_sd);
        sum += (pose.offset() - prior.offset).squaredNorm() / (sd * sd);
    }
    if (prior.yaw_sd) {
        const double turns = (pose.yaw - prior.yaw) / *prior.yaw_sd;
        sum += turns * turns;
    }
    return sum;
}

}  // namespace

std::vector<Combined> combine(std::size_t guides, std::span<const Reading> readings) {
    std::vector<Combined> all(guides);
    for (const Reading& reading : readings) {
        const double sd = std::max(reading.sd, least_sd);
        const double weight = 1 / (sd * sd);
        all[reading.guide].weight += weight;
        all[reading.guide].mean += weight * reading.at;
    }
    for (Combined& one : all)
        if (one.weight > 0) one.mean /= one.weight;
    for (const Reading& reading : readings) {
        const double sd = std::max(reading.sd, least_sd);
        all[reading.guide].spread += (reading.at - all[reading.guide].mean).squaredNorm() / (sd * sd);
    }
    return all;
}

Mat2 Pose::covariance(const Vec2& m) const {
    const Vec2 arm = plane_rotation(yaw) * (m - centroid);
    const Vec2 swing(-arm.y(), arm.x());
    return Mat2::Identity() / weight + yaw_variance * swing * swing.transpose();
}

void PairSums::add(const Vec2& m, const Vec2& r, double w) {
    weight += w;
    map += w * m;
    read += w * r;
    map2 += w * m.squaredNorm();
    read2 += w * r.squaredNorm();
    dot += w * m.dot(r);
    cross += w * (m.x() * r.y() - m.y() * r.x());
}

PairSums PairSums::centred() const {
    PairSums c;
    c.weight = weight;
    c.map2 = std::max(0.0, map2 - map.squaredNorm() / weight);
    c.read2 = std::max(0.0, read2 - read.squaredNorm() / weight);
    c.dot = dot - map.dot(read) / weight;
    c.cross = cross - (map.x() * read.y() - map.y() * read.x()) / weight;
    return c;
}

Solved<Pose> fit_pose(std::span<const Expected> guides, std::span<const Reading> readings,
                      const Prior& given) {
    Prior prior = given;
    if (prior.yaw_sd) prior.yaw_sd = std::max(*prior.yaw_sd, 1e-12);
    const std::vector<Combined> read = combine(guides.size(), readings);
    struct Pair {
        Vec2 map, read;
        double weight;
    };
    std::vector<Pair> pairs;
    pairs.reserve(guides.size() + 1);
    for (std::size_t v = 0; v < guides.size(); ++v)
        if (read[v].weight > 0)
            pairs.push_back({guides[v].map, read[v].mean,
                             1 / (guides[v].scatter * guides[v].scatter + 1 / read[v].weight)});
    if (prior.offset_sd) {
        const double sd = std::max(*prior.offset_sd, least_sd);
        pairs.push_back({Vec2::Zero(), prior.offset, 1 / (sd * sd)});
    }
    if (pairs.empty())
        return tl::unexpected(SolverError{"pose", 0, 0, "no touch and no prior say where the setup lies"});

    Pose pose;
    Vec2 read_centroid = Vec2::Zero();
    for (const Pair& pair : pairs) {
        pose.weight += pair.weight;
        pose.centroid += pair.weight * pair.map;
        read_centroid += pair.weight * pair.read;
    }
    pose.centroid /= pose.weight;
    read_centroid /= pose.weight;
    // About the centroids from the start: no cancellation however far the readout's zero lies.
    PairSums sums;
    for (const Pair& pair : pairs) sums.add(pair.map - pose.centroid, pair.read - read_centroid, pair.weight);
    pose.yaw_known = prior.yaw_sd.has_value() || sums.map2 > least_lever * least_lever * pose.weight;

    const double rigid = std::hypot(sums.dot, sums.cross) > 0 ? std::atan2(sums.cross, sums.dot) : prior.yaw;
    if (pose.yaw_known) {
        auto best = refine(sums, prior, rigid);
        if (prior.yaw_sd) {
            // Wrong labels can send the rigid fit far from the prior; the nearer valley may be the deeper.
            const auto other = refine(sums, prior, prior.yaw);
            if (other && (!best || other->cost < best->cost)) best = other;
        }
        if (!best) return tl::unexpected(best.error());
        pose.yaw = best->yaw;
    } else {
        pose.yaw = prior.yaw;
    }
    const double prior_sd = prior.yaw_sd.value_or(vague_yaw_sd);
    const bool use_prior = prior.yaw_sd || !pose.yaw_known;
    pose.yaw_variance = 1 / (sums.map2 + (use_prior ? 1 / (prior_sd * prior_sd) : 0));
    pose.centroid_at = read_centroid;
    pose.chi2 = sum_of_squares(guides, read, pose, prior);
    return pose;
}

}  // namespace seatwright::find
