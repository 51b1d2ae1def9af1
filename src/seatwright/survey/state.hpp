// A survey being worked out: rows, solution, frame, and which places are closed. The rooms that look for
// contradictions, repeats and gaps read and change this.
#pragma once

#include <vector>

#include "seatwright/survey/frame.hpp"
#include "seatwright/survey/outliers.hpp"
#include "seatwright/survey/rows.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

// A setup whose tilt, swing or yaw is known no better than this has no attitude.
inline constexpr double open_attitude = 2 * rad_per_deg;

// The sign of a lean that way (0 across, 1 along), among several.
constexpr int sign_bit(int axis) {
    return axis == 0 ? 1 : 2;
}

struct State {
    Readings readings;  // turned end for end where the head lies so
    bool turned = false;
    Layout layout;
    std::vector<Row> rows;  // what was read first, then conditions; without those of the frame
    Frame frame;
    FrameParts parts;
    Solution solution;  // residual and redundancy of `rows`, and of the frame's behind them
    std::size_t bad = 0;
    std::vector<int> signs_asked;  // of guides: sign_bit of each way whose sign is to be asked with a picture
    std::vector<bool> leans_by_plumb;  // of guides: a lean is taken from the pilot having stood plumb
    bool zero_by_word = false;         // the sensor's zero is taken from where it was set

    double u(Eigen::Index i) const { return std::sqrt(std::max(0.0, solution.covariance(i, i))); }
    // A place's own limit: five times what it was read to, where that is coarse.
    double open_at(Row::Of of, std::size_t which) const;
    bool flat_closed(Row::Of of, std::size_t which) const;  // X and Y
    bool closed(std::size_t guide, int figure) const;       // 0..4: x, y, z, incline, cant
    bool attitude_closed(std::size_t setup) const;
    Vec3 axis(std::size_t guide) const;
    // Whether some level reading of the guide that way (0 across, 1 along) is in use.
    bool levelled(std::size_t guide, int axis) const;
    // Setup in which the spindle was over the guide and that reading is in use.
    std::optional<std::size_t> over_in(std::size_t guide) const;
};

// The rows solved, bad ones set aside, in the frame of what is closed. Error: it does not settle.
Solved<State> begin_state(const Readings& readings);
// Solves again after rows were added or set aside.
Solved<void> settle(State& state);

}  // namespace seatwright::survey
