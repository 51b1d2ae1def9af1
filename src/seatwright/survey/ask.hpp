// One reading as a person at the machine is asked for it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/survey/readings.hpp"

namespace seatwright::survey {

struct Ask {
    // What is wanted of whom.
    //   setup        tilt (and swing) the head, and type what the sensor has
    //   deck_level   the sensor on the deck, read both ways round
    //   guide_level  the sensor on a pilot in the guide, read both ways round
    //   deck         X, Y, Z of a place on the deck
    //   hole         the ball on the rim of a hole: X, Y, Z
    //   guide        the pilot over the guide: X, Y
    //   valve_head   the stylus on the middle of the head of the valve in it: Z
    //   way          which way a row of guides leans, by a picture: across the head (incline) the row,
    //                along it (cant) one guide of it
    //   size         calipers, rule
    //   end          which end the first cylinder lies at, by a picture
    enum class Of { setup, deck_level, guide_level, deck, hole, guide, valve_head, way, size, end };
    Of of = Of::setup;
    std::string setup = {};  // empty: one not begun yet, or none (way, size)
    std::string id =
        {};  // of the guide or hole, of a place on the deck its number; of `way` the letters ("I") or guide
    job::Across across = job::Across::incline;    // of a level, of `way`
    std::optional<double> tilt = {}, swing = {};  // of a setup: where its pilots will stand plumb
    SizeOf size = SizeOf::bore;
    bool operator==(const Ask&) const = default;
};

// "hole", "guide level", …: how an ask is called in JSON.
const char* word_of(Ask::Of of);

}  // namespace seatwright::survey
