#include "seatwright/hold/posts.hpp"

#include <cmath>

namespace seatwright::hold {

namespace {

// How much y may differ in one row along the head: half a hole.
double row_width(const job::Head& head) {
    return head.bolt_hole_diameter.value_or(usual_hole) / 2;
}

using Pair = std::array<std::size_t, 2>;

// The pair furthest apart of those that `counts` lets count; of equal ones the one that is `better`.
template <class Counts, class Better>
std::optional<Pair> furthest(const std::vector<Vec2>& holes, const Counts& counts, const Better& better) {
    std::optional<Pair> best;
    double most = 0;
    for (std::size_t i = 0; i < holes.size(); ++i)
        for (std::size_t j = i + 1; j < holes.size(); ++j) {
            if (!counts(i, j)) continue;
            const double span = (holes[j] - holes[i]).norm();
            const bool longer = !best || span > most + span_tie;
            if (!longer && !(span > most - span_tie && better(Pair{i, j}, *best))) continue;
            most = span;
            best = Pair{i, j};
        }
    return best;
}

// Posts on the far side of the head as it is lifted in: it is set against them.
Pair choose(const job::Head& head, const job::Fixture& fixture) {
    const auto& holes = head.bolt_holes;
    const auto in_row = [&](std::size_t i, std::size_t j) {
        return std::abs(holes[i].y() - holes[j].y()) <= row_width(head) + span_tie;
    };
    const auto away = [&](const Pair& pair, const Pair& best) {
        if (!fixture.load_from) return false;
        const double y = holes[pair[0]].y() + holes[pair[1]].y(),
                     other = holes[best[0]].y() + holes[best[1]].y();
        return *fixture.load_from == job::LoadSide::back ? y < other - span_tie : y > other + span_tie;
    };
    if (const auto row = furthest(holes, in_row, away)) return *row;
    const auto any = [](std::size_t, std::size_t) { return true; };
    const auto first = [](const Pair&, const Pair&) { return false; };
    return furthest(holes, any, first).value_or(Pair{0, 1});
}

}  // namespace

std::optional<Posts> posts_of(const job::Head& head, const job::Fixture& fixture) {
    const auto& holes = head.bolt_holes;
    if (holes.size() < 2) return std::nullopt;
    Posts posts;
    const bool named = head.posts && (*head.posts)[0] < holes.size() && (*head.posts)[1] < holes.size();
    posts.holes = named ? *head.posts : choose(head, fixture);
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

Vec2 midpoint_of(const Posts& posts, const job::Head& head, const Setup& setup) {
    const Vec2 middle = (posts.a + posts.b) / 2;
    const Vec3 from_datum = Vec3(middle.x(), middle.y(), 0) - head.valves.at(setup.datum).seat;
    return (setup.rotation() * from_datum).head<2>();
}

}  // namespace seatwright::hold
