#include "seatwright/cut/expect.hpp"
#include "seatwright/cut/zeros.hpp"

namespace seatwright::cut {

Expected expected_in(const Known& known, const hold::Setup& setup) {
    ExpectedFor what;
    what.head = known.shape.head;
    if (const auto* found = found_setup(known.find, what.head, setup.id)) {
        what.set_aside = found->set_aside;
        if (found->learned_from > 0) what.learned = known.find.learned;
    }
    if (known.hold.posts) what.posts_yaw_sd = known.hold.posts->yaw_sd;
    what.seats.resize(known.job.head.valves.size());
    for (const shape::Seat& seat : known.shape.seats) {
        const SeatHeights heights = heights_of(known, seat);
        what.seats[seat.valve] = {heights.stop, heights.recession};
    }
    return expect(known.job, setup, what);
}

}  // namespace seatwright::cut
