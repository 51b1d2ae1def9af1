#include "seatwright/survey/frame.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "seatwright/base/numerics/median.hpp"

namespace seatwright::survey {
namespace {

// A condition is kept to this, mm: far below any reading, far above rounding.
constexpr double kept_to = 1e-3;
// Holes nearer than this say nothing of a direction.
constexpr double far_enough = 40;
constexpr double near_row_of_guides = 1.5 * rad_per_deg, near_readout = 3 * rad_per_deg;

Vec2 place(Eigen::Index at, const Eigen::VectorXd& u) {
    return u.segment<2>(at);
}

// From one cylinder to the next: vectors between like guides, a cylinder apart.
std::vector<Vec2> steps_along(const Layout& layout, const std::vector<bool>& guides,
                              const Eigen::VectorXd& u) {
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < layout.guides.size(); ++i)
        for (std::size_t j = 0; j < layout.guides.size(); ++j) {
            if (!guides[i] || !guides[j]) continue;
            const auto a = *guide_name(layout.guides[i]), b = *guide_name(layout.guides[j]);
            if (a.letters != b.letters || b.cylinder <= a.cylinder) continue;
            out.push_back((place(layout.guide(j), u) - place(layout.guide(i), u)) /
                          (b.cylinder - a.cylinder));
        }
    return out;
}

// Things that stand in one row: indices into a list of places (first) of unknowns at (second).
using Group = std::vector<Eigen::Index>;

std::vector<Group> rows_of_holes(const Layout& layout, const FrameParts& parts, const Eigen::VectorXd& u,
                                 double yaw, double near) {
    std::vector<std::size_t> row(layout.holes.size());
    for (std::size_t i = 0; i < row.size(); ++i) row[i] = i;
    for (std::size_t i = 0; i < row.size(); ++i)
        for (std::size_t j = i + 1; j < row.size(); ++j) {
            if (!parts.holes[i] || !parts.holes[j]) continue;
            const Vec2 d = plane_rotation(-yaw) * (place(layout.hole(j), u) - place(layout.hole(i), u));
            if (d.norm() < far_enough || std::abs(d.y()) > std::tan(near) * std::abs(d.x())) continue;
            const std::size_t from = std::max(row[i], row[j]), to = std::min(row[i], row[j]);
            std::replace(row.begin(), row.end(), from, to);
        }
    std::map<std::size_t, Group> groups;
    for (std::size_t i = 0; i < row.size(); ++i)
        if (parts.holes[i]) groups[row[i]].push_back(layout.hole(i));
    std::vector<Group> out;
    for (auto& [name, group] : groups)
        if (group.size() > 1) out.push_back(std::move(group));
    return out;
}

std::vector<Group> rows_of_guides(const Layout& layout, const FrameParts& parts) {
    std::map<std::string, Group> groups;
    for (std::size_t g = 0; g < layout.guides.size(); ++g)
        if (parts.guides[g]) groups[guide_name(layout.guides[g])->letters].push_back(layout.guide(g));
    std::vector<Group> out;
    for (auto& [letters, group] : groups)
        if (group.size() > 1) out.push_back(std::move(group));
    return out;
}

struct LayoutLine {
    Along along = Along::readout;
    std::vector<Group> groups;
    double yaw = 0;  // of the row against the present X
};

// The common slope of rows that each have a height of their own.
double slope(const std::vector<Group>& groups, const Eigen::VectorXd& u, double yaw) {
    double up = 0, along = 0;
    for (const auto& group : groups) {
        Vec2 mean = Vec2::Zero();
        for (const auto at : group) mean += place(at, u) / static_cast<double>(group.size());
        for (const auto at : group) {
            const Vec2 d = plane_rotation(-yaw) * (place(at, u) - mean);
            up += d.x() * d.y();
            along += d.x() * d.x();
        }
    }
    return along > 0 ? std::atan(up / along) : 0;
}

LayoutLine layout_line(const Layout& layout, const FrameParts& parts, const Eigen::VectorXd& u) {
    LayoutLine out;
    const auto steps = steps_along(layout, parts.guides, u);
    std::vector<double> angles;
    for (const auto& step : steps)
        if (step.norm() > 1) angles.push_back(std::atan2(step.y(), step.x()));
    const bool rows = !angles.empty();
    if (rows) out.yaw = numerics::middle_one(angles);
    out.groups = rows_of_holes(layout, parts, u, out.yaw, rows ? near_row_of_guides : near_readout);
    out.along = Along::holes;
    if (out.groups.empty()) {
        out.groups = rows_of_guides(layout, parts);
        out.along = rows && !out.groups.empty() ? Along::guides : Along::readout;
    }
    if (out.along != Along::readout) out.yaw += slope(out.groups, u, out.yaw);
    return out;
}

struct Origin {
    std::vector<Eigen::Index> of;  // places whose mean it is
    int cylinder = 0;
    bool whole = true;
};

Origin origin_of(const Layout& layout, const FrameParts& parts, std::size_t axis) {
    Origin out;
    for (std::size_t g = 0; g < layout.guides.size(); ++g) {
        const int cylinder = guide_name(layout.guides[g])->cylinder;
        if (parts.guides_along[axis][g] && (out.cylinder == 0 || cylinder < out.cylinder))
            out.cylinder = cylinder;
    }
    for (std::size_t g = 0; g < layout.guides.size() && out.cylinder > 0; ++g) {
        if (guide_name(layout.guides[g])->cylinder != out.cylinder) continue;
        if (parts.guides_along[axis][g]) {
            out.of.push_back(layout.guide(g));
        } else {
            out.whole = false;
        }
    }
    for (std::size_t h = 0; h < layout.holes.size() && out.of.empty(); ++h)
        if (parts.holes[h]) out.of.push_back(layout.hole(h));
    return out;
}

Row condition() {
    Row row;
    row.says = Row::Says::sum;
    row.sd = kept_to;
    return row;
}

}  // namespace

Frame frame_of(const Layout& layout, const FrameParts& parts, const Eigen::VectorXd& u) {
    Frame out;
    const LayoutLine line = layout_line(layout, parts, u);
    out.along = line.along;
    Row slope_row = condition();
    if (line.along == Along::readout) {
        slope_row.weights = {{layout.setup(parts.setup) + 2, 1}};
        slope_row.sd = 1e-6;
    } else {
        double squares = 0;
        for (const auto& group : line.groups) {
            double mean = 0;
            for (const auto at : group) mean += u[at] / static_cast<double>(group.size());
            for (const auto at : group) {
                slope_row.weights.emplace_back(at + 1, u[at] - mean);
                squares += (u[at] - mean) * (u[at] - mean);
            }
        }
        for (auto& [at, w] : slope_row.weights) w /= std::sqrt(squares);
    }
    out.rows.push_back(slope_row);
    for (int axis = 0; axis < 2; ++axis) {
        const Origin origin = origin_of(layout, parts, static_cast<std::size_t>(axis));
        out.cylinder = std::max(out.cylinder, origin.cylinder);
        out.whole_cylinder = out.whole_cylinder && origin.whole;
        Row row = condition();
        for (const auto at : origin.of)
            row.weights.emplace_back(at + axis, 1.0 / static_cast<double>(origin.of.size()));
        if (origin.of.empty()) row.weights = {{layout.setup(parts.setup) + 3 + axis, 1}};
        out.rows.push_back(row);
    }
    return out;
}

void turn_into(const Layout& layout, const FrameParts& parts, Eigen::VectorXd& u) {
    const LayoutLine line = layout_line(layout, parts, u);
    const double yaw = line.along == Along::readout ? -u[layout.setup(parts.setup) + 2] : line.yaw;
    Vec3 from = Vec3::Zero();
    for (int axis = 0; axis < 2; ++axis) {
        const Origin origin = origin_of(layout, parts, static_cast<std::size_t>(axis));
        for (const auto at : origin.of) from[axis] += u[at + axis] / static_cast<double>(origin.of.size());
    }
    for (std::size_t s = 0; s < layout.setups.size(); ++s) {
        const auto at = layout.setup(s);
        u.segment<3>(at + 3) += turn_of(layout, s, u) * from;
        u[at + 2] += yaw;
    }
    const Mat2 back = plane_rotation(-yaw);
    for (std::size_t h = 0; h < layout.holes.size(); ++h) {
        const auto at = layout.hole(h);
        u.segment<2>(at) = (back * (place(at, u) - from.head<2>())).eval();
    }
    for (std::size_t g = 0; g < layout.guides.size(); ++g) {
        const auto at = layout.guide(g);
        u.segment<2>(at) = (back * (place(at, u) - from.head<2>())).eval();
        const Vec2 lean = back * Vec2(std::tan(u[at + 4]), std::tan(u[at + 3]));
        u[at + 3] = std::atan(lean.y());
        u[at + 4] = std::atan(lean.x());
    }
}

bool numbered_backwards(const Layout& layout, const std::vector<bool>& guides, const Eigen::VectorXd& u) {
    // By most of them: two guides swapped turn the steps to and from both.
    std::size_t back = 0;
    const auto steps = steps_along(layout, guides, u);
    for (const auto& step : steps) back += step.x() < 0 ? 1 : 0;
    return 4 * back > 3 * steps.size();
}

}  // namespace seatwright::survey
