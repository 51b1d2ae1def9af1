#include "seatwright/hold/posts.hpp"

#include <cmath>

namespace seatwright::hold {

namespace {

std::array<std::size_t, 2> furthest(const std::vector<Vec2>& holes) {
    std::array<std::size_t, 2> best{0, 1};
    double most = (holes[1] - holes[0]).norm();
    for (std::size_t i = 0; i < holes.size(); ++i)
        for (std::size_t j = i + 1; j < holes.size(); ++j) {
            const double span = (holes[j] - holes[i]).norm();
            if (span > most + span_tie) {
                most = span;
                best = {i, j};
            }
        }
    return best;
}

}  // namespace

std::optional<Posts> posts_of(const job::Head& head, const job::Fixture& fixture) {
    const auto& holes = head.bolt_holes;
    if (holes.size() < 2) return std::nullopt;
    Posts posts;
    const bool named = head.posts && (*head.posts)[0] < holes.size() && (*head.posts)[1] < holes.size();
    posts.holes = named ? *head.posts : furthest(holes);
    posts.a = holes[posts.holes[0]];
    posts.b = holes[posts.holes[1]];
    posts.span = (posts.b - posts.a).norm();
    if (!head.bolt_hole_diameter || !fixture.post_diameter) return posts;
    posts.clearance = *head.bolt_hole_diameter - *fixture.post_diameter;
    if (*posts.clearance < 0) return posts;  // the posts do not enter: nothing to say of where the head sits
    posts.position_sd = *posts.clearance / 4;
    if (posts.span > span_tie) posts.yaw_sd = std::sqrt(2.0) * *posts.clearance / (4 * posts.span);
    return posts;
}

}  // namespace seatwright::hold
