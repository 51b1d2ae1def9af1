#include "seatwright/find/square.hpp"

#include <cmath>

namespace seatwright::find {
namespace {

// A post tapped by hand lands no closer than this (mm; common practice), so a smaller move is not worth it.
constexpr double least_move = 0.05;
// Nor is one that the touches cannot tell from nothing.
constexpr double sure_in_sds = 2;

}  // namespace

std::optional<Square> square_up(const job::Job& job, const hold::Hold& hold, const hold::Setup& setup,
                                double yaw, double yaw_sd) {
    if (!hold.posts) return std::nullopt;
    const hold::Posts& posts = *hold.posts;
    const Vec2 apart = posts.b - posts.a;
    const Vec2 signs(job.machine.x_sign, job.machine.y_sign);
    const Vec2 a_to_b = signs.cwiseProduct((setup.rotation() * Vec3(apart.x(), apart.y(), 0)).head<2>());
    Square square;
    square.move = posts.span * std::sin(yaw);
    square.post = a_to_b.x() >= 0 ? 'a' : 'b';
    const Vec2 from_other = square.post == 'a' ? Vec2(-a_to_b) : a_to_b;
    square.shift = plane_rotation(-yaw) * from_other - from_other;
    square.worth_it = std::abs(square.move) >= least_move && std::abs(yaw) >= sure_in_sds * yaw_sd;
    return square;
}

}  // namespace seatwright::find
