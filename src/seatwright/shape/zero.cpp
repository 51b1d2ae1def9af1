#include "seatwright/shape/zero.hpp"

#include <cmath>

namespace seatwright::shape {

std::string_view word_of(ZeroOn on) {
    switch (on) {
        case ZeroOn::old_seat:
            return "old seat";
        case ZeroOn::finished_seat:
            return "finished seat";
        case ZeroOn::deck_point:
            return "deck point";
        case ZeroOn::block:
            break;
    }
    return "block";
}

double zeta_of(const OldSeatTouch& touch) {
    return touch.m - touch.recession + touch.rest + touch.feeler / std::cos(touch.angle);
}

double zeta_of(const FinishedSeatTouch& touch) {
    return touch.m + touch.height + touch.feeler / std::cos(touch.angle);
}

double ball_over_metal(const BallTouch& touch) {
    return touch.radius * (1 / touch.normal.z() - 1);
}

double zeta_of(const BallTouch& touch) {
    return touch.under.z() + ball_over_metal(touch) + touch.lowest;
}

double zeta_of(const BlockTouch& touch) {
    return touch.deck + touch.block + touch.lowest;
}

Vec3 deck_place(const Mat3& rotation, const Vec3& datum, const Vec2& at, double deck_cut) {
    return rotation * (Vec3(at.x(), at.y(), -deck_cut) - datum);
}

double stop_z(double m, double s, double zeta) {
    return m + s - zeta;
}

double deck_to_stop(double seat_z, double deck_cut, double axis_z, double s) {
    return (seat_z + deck_cut) / axis_z + s;
}

double u_of_seat_zero(const SeatZeroU& of, const ZeroSds& sds) {
    const double taking = of.on == ZeroOn::finished_seat ? sds.finished : sds.touch;
    if (of.to == job::DepthTo::height)
        return of.on == ZeroOn::finished_seat ? taking : std::hypot(taking, of.height_u);
    if (of.the_touched) return taking;
    return std::hypot(taking, of.height_u, of.height_v);
}

double u_of_deck_zero(const DeckZeroU& of, const ZeroSds& sds) {
    const double slope = std::hypot(of.normal.x(), of.normal.y()) / of.normal.z();
    const double height = of.to == job::DepthTo::height ? 0 : of.height_v;
    return std::hypot(std::hypot(sds.ball, slope * sds.place), of.lever * sds.tilt, height);
}

}  // namespace seatwright::shape
