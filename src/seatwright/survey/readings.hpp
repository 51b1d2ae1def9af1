// What was read at the machine of a head nobody has a drawing of, as the readings file says it: memory units
// (mm, rad), the readout's signs already taken off, every reading with the line it stands in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/job/head.hpp"
#include "seatwright/job/readings.hpp"

namespace seatwright::survey {

// What a point was read on.
//   guide       the spindle over the guide, the pilot plumb: X and Y of its seat's centre
//   hole        a ball on the rim of a hole of the deck: X, Y, Z of the ball's centre; X and Y alone without
//   seat        a ball on a seat's cone
//   valve_head  a stylus on the middle of the head of a valve on its seat: Z
//   deck        a stylus or ball on the deck: X, Y, Z
enum class What { guide, hole, seat, valve_head, deck };
const char* word_of(What what);

struct Point {
    std::string setup;
    std::optional<double> tilt, swing;  // as the sensor had them
    What what = What::guide;
    std::string id;  // of the guide or hole; empty on the deck
    std::optional<double> x, y, z;
    double sd = 0;
    double ball = 0;                    // radius; 0: a point
    std::optional<double> diameter;     // of the hole; of a seat: of its gauge circle
    std::optional<double> head_height;  // of the valve's head over its gauge plane
    std::optional<double> angle;        // of the seat's face
    bool sure = false;                  // somebody stands by it: never set aside
    int line = 0;
    std::string key;  // "point[3]"
};

// A lean read with the sensor, as job::Level has it; `second`: turned round, in the sensor's own sign.
struct Level {
    std::string setup;
    bool on_deck = false;
    std::string id;  // of the guide
    job::Across across = job::Across::incline;
    double first = 0;
    std::optional<double> second;
    double sd = 0;
    bool sure = false;
    int line = 0;
    std::string key;
};

enum class SizeOf { bore, stem, throat, valve_head, face_width, guide_length, to_seat, below };
const char* word_of(SizeOf what);

struct Size {
    SizeOf what = SizeOf::bore;
    std::string id;
    double value = 0, sd = 0;
    int line = 0;
    std::string key;
};

enum class SensorZero { deck, table };

struct Readings {
    std::string file, title;
    LengthUnit units = LengthUnit::mm;
    std::string head, material;  // what they are called
    std::optional<double> mass;
    std::string shop, machine, fixture;  // names handed on to the job; empty: none
    SensorZero zero = SensorZero::table;
    double sensor_sd = 0;
    bool sensor_sd_assumed = false, point_sd_assumed = false;
    bool clamped_once = false;  // not moved on its fixture between setups: they share a turning axis
    std::vector<Point> points;
    std::vector<Level> levels;
    std::vector<Size> sizes;
};

// A guide's name in a job: its cylinder, I or E, and a letter where there are several ("1I", "12Eb").
struct GuideName {
    int cylinder = 1;
    job::Kind kind = job::Kind::intake;
    std::string letters;  // "I", "Eb": like valves of all cylinders have the same
};
std::optional<GuideName> guide_name(const std::string& id);

// Common practice where the file gives no sd: a readout 0.02 mm, the sensor 0.02 deg, a size 0.02 mm.
inline constexpr double usual_point_sd = 0.02;
inline constexpr double usual_sensor_sd = 0.02 * rad_per_deg;

}  // namespace seatwright::survey
