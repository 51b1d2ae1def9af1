#include "seatwright/papers/page/scale.hpp"

#include <fmt/format.h>

#include <array>

namespace seatwright::papers {

namespace {

// ISO 5455 scales and the halves shops use between them.
constexpr std::array<double, 29> reductions{0.05, 0.1, 0.125, 1.0 / 6, 0.2, 0.25, 0.4, 0.5, 1,  1.5,
                                            2,    2.5, 3,     3.5,     4,   5,    6,   8,   10, 12,
                                            15,   20,  25,    30,      40,  50,   75,  100, 200};

double cross(const Vec2& o, const Vec2& a, const Vec2& b) {
    return (a.x() - o.x()) * (b.y() - o.y()) - (a.y() - o.y()) * (b.x() - o.x());
}

}  // namespace

Scale::Scale(const Extent2& extent, const Frame& frame) {
    const Vec2 size = extent.empty() ? Vec2::Ones() : extent.size();
    double reduction = std::max({size.x() / frame.width, size.y() / frame.height, reductions.front()});
    for (const double r : reductions)
        if (size.x() / r <= frame.width && size.y() / r <= frame.height) {
            reduction = r;
            break;
        }
    ratio_ = 1 / reduction;
    const Vec2 middle = extent.empty() ? Vec2::Zero() : extent.middle();
    origin_ = {frame.corner.x() + frame.width / 2 - middle.x() * ratio_,
               frame.corner.y() + frame.height / 2 + middle.y() * ratio_};
    words_ = reduction < 1 ? fmt::format("{:.3g} : 1", ratio_) : fmt::format("1 : {:.3g}", reduction);
}

std::vector<Vec2> convex_outline(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(),
              [](const Vec2& a, const Vec2& b) { return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y(); });
    if (points.size() < 3) return points;
    std::vector<Vec2> outline;
    for (int pass = 0; pass < 2; ++pass) {  // lower chain, then upper chain backwards
        const std::size_t base = outline.size();
        for (const auto& p : points) {
            while (outline.size() >= base + 2 && cross(outline[outline.size() - 2], outline.back(), p) <= 0)
                outline.pop_back();
            outline.push_back(p);
        }
        outline.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return outline;
}

}  // namespace seatwright::papers
