#include "seatwright/cut/moves.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"

namespace seatwright::cut {

Drive drive_of(const job::Machine& machine) {
    Drive drive;
    if (machine.rapid && *machine.rapid > 0) drive.speed = *machine.rapid;
    if (machine.accel && *machine.accel > 0) drive.accel = *machine.accel;
    return drive;
}

double move_seconds(double distance, const Drive& drive, double speed) {
    require(distance >= 0 && speed > 0, "a move has a length and a speed");
    const double top = std::min(speed, drive.speed);
    // Too short to reach full speed: half the way up, half down.
    if (distance * drive.accel < top * top) return 2 * std::sqrt(distance / drive.accel);
    return distance / top + top / drive.accel;
}

double move_seconds(double distance, const Drive& drive) {
    return move_seconds(distance, drive, drive.speed);
}

}  // namespace seatwright::cut
