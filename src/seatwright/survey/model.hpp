// The survey as one least-squares problem: its unknowns, and each figure read as a row.
//
// A point P of the head is read at r = Rz(yaw)·Rx(tilt)·Ry(swing)·P + t in its setup. Unknown are six numbers
// a setup (tilt, swing, yaw, x, y, z of t), the place of each hole in the deck (x, y), the place and lean of
// each guide (x, y, z of its seat's centre, incline, cant), the sensor's own zero (what it reads too much in
// its own sign whichever way it stands) and what it reads too much of the cradle's tilt and swing. A head
// clamped once shares one yaw and the places of the two turning axes. Lengths mm, angles rad.
#pragma once

#include <Eigen/Core>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/survey/readings.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::survey {

// Where each thing's unknowns stand in the vector of all.
struct Layout {
    std::vector<std::string> setups, holes, guides;  // in order of first appearance
    std::map<std::string, std::size_t> setup_of, hole_of, guide_of;
    bool clamped_once = false;

    Eigen::Index setup(std::size_t s) const { return static_cast<Eigen::Index>(6 * s); }
    Eigen::Index hole(std::size_t h) const { return static_cast<Eigen::Index>(6 * setups.size() + 2 * h); }
    Eigen::Index guide(std::size_t g) const {
        return static_cast<Eigen::Index>(6 * setups.size() + 2 * holes.size() + 5 * g);
    }
    Eigen::Index bias() const { return guide(guides.size()); }
    Eigen::Index tilt_zero() const { return bias() + 1; }
    Eigen::Index swing_zero() const { return bias() + 2; }
    Eigen::Index axes() const { return bias() + 3; }  // y, z of the tilt's, x, z of the swing's
    // How far off plumb a setup was set for its guides, across and along.
    Eigen::Index set_off(std::size_t s, int axis) const {
        return axes() + (clamped_once ? 4 : 0) + static_cast<Eigen::Index>(2 * s) + axis;
    }
    Eigen::Index size() const { return set_off(setups.size(), 0); }
    // Whether that unknown is an angle.
    bool is_angle(Eigen::Index i) const;
};

Layout layout_of(const Readings& readings);

// A row says that a function of the unknowns is `value`, give or take `sd`.
struct Row {
    enum class Says {
        coordinate,  // `axis` of the readout of a place, `over` along the deck's normal or the guide's axis
        deck,        // a place on the deck: its height over the deck is `over`
        tilt,
        swing,    // the sensor on the cradle
        lean,     // the sensor on the deck or on a pilot, `sign` −1: turned round
        plumb,    // a pilot stood as plumb as its setup was set, `axis` 0: across, 1: along
        turning,  // clamped once: the setup lies where the turning axes put it, `axis` 3: its yaw
        sum       // of unknowns with weights: what fixes the frame
    };
    enum class Of { hole, guide, nothing };

    Says says = Says::coordinate;
    std::size_t setup = 0;
    Of of = Of::nothing;
    std::size_t which = 0;  // hole or guide
    int axis = 0;
    double over = 0;  // along the normal or axis
    Vec3 at = Vec3::Zero();
    double sign = 1;
    std::vector<std::pair<Eigen::Index, double>> weights;  // of a sum

    double value = 0, sd = 1;
    int line = 0;
    std::string key;    // "point[3].y"
    Sentence what;      // a clause: "Y of hole H2 in setup B"
    bool read = false;  // a figure somebody read, not a condition of ours
    bool sure = false;
    bool aside = false;
    bool by_others = false;  // set aside since the others contradict it: may come back
    Sentence why;            // it is set aside
};

// d(model)/d(unknowns), the ones that count.
using Gradient = std::vector<std::pair<Eigen::Index, double>>;

// What the row's function is at these unknowns, and its derivative.
double model(const Layout& layout, const Row& row, const Eigen::VectorXd& unknowns, Gradient& gradient);

// Rz(yaw)·Rx(tilt)·Ry(swing) of a setup.
Mat3 turn_of(const Layout& layout, std::size_t setup, const Eigen::VectorXd& unknowns);

}  // namespace seatwright::survey
