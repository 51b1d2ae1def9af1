// Keys of the way of working: the program's rules, figures confirmed, things a lead lets pass.
#include <array>

#include "seatwright/job/keys.hpp"

namespace seatwright::job {
namespace {

using enum Shape;
using enum Dimension;

constexpr auto keys = std::to_array<Key>({
    {.path = "cut",
     .who = who::machinist,
     .stage = Stage::cut,
     .shape = table,
     .meaning = "How seats are cut."},
    {.path = "cut.pilot",
     .who = who::lead,
     .stage = Stage::cut,
     .shape = choice,
     .meaning =
         "carried: stands still in the holder while the cutter turns; planted: put into the guide by hand "
         "(tapered); live: turns with the cutter (parallel); none: the spindle alone gives the axis.",
     .fallback = "live where the pilot's style is written live, else carried",
     .choices = "carried|planted|live|none"},
    {.path = "cut.approach",
     .who = who::lead,
     .stage = Stage::cut,
     .bounds = {.low = 1},
     .meaning = "Height over the stop at which the slow way in ends.",
     .fallback = "1 mm, more where the old seat may stand higher"},
    {.path = "cut.finish_depth",
     .who = who::lead,
     .stage = Stage::cut,
     .bounds = not_negative,
     .meaning = "The last of the cut, at the finishing feed.",
     .fallback = "0.05 mm"},
    {.path = "cut.first_short",
     .who = who::lead,
     .stage = Stage::cut,
     .bounds = not_negative,
     .meaning = "The first seat of a file is first cut so much less deep, and measured.",
     .fallback = "0.1 mm"},
    {.path = "cut.first",
     .who = who::machinist,
     .stage = Stage::cut,
     .shape = label,
     .meaning = "Valve whose seat is cut first.",
     .fallback = "the one whose finished height is lowest, with room to its limit, not the touched one"},
    {.path = "cut.first_stop",
     .who = who::lead,
     .stage = Stage::cut,
     .shape = flag,
     .meaning = "false: no stop after the first seat.",
     .fallback = "true"},
    {.path = "cut.trim_max",
     .who = who::lead,
     .stage = Stage::cut,
     .bounds = not_negative,
     .meaning = "Largest trim taken without Z0 being set anew.",
     .fallback = "0.1 mm",
     .limit = true,
     .label = "trim at most"},
    {.path = "cut.enter_feed",
     .who = who::lead,
     .stage = Stage::cut,
     .dimension = axis_speed,
     .bounds = positive,
     .meaning = "Feed with which a pilot goes in: write \"300 mm/min\".",
     .fallback = "300 mm/min",
     .trade = {"the feed with which a pilot goes in", 0.01, 1.5, basis_practice}},
    {.path = "cut.enter_min",
     .who = who::lead,
     .stage = Stage::cut,
     .dimension = ratio,
     .bounds = {.low = 0, .high = 1, .high_open = true},
     .meaning = "Least chance of entering with which a valve goes into a program.",
     .fallback = "0.99; 0.90 where a person frees the float by hand over each mouth",
     .limit = true,
     .label = "chance of entering at least"},
    {.path = "cut.entry_rpm",
     .who = who::lead,
     .stage = Stage::cut,
     .dimension = rotation,
     .bounds = not_negative,
     .meaning = "Spindle speed while a live pilot goes in.",
     .fallback = "the spindle stands"},
    {.path = "cut.speed",
     .who = who::lead,
     .stage = Stage::cut,
     .shape = choice,
     .meaning =
         "lower third: at or below a third of the material's range over its low end; fastest: up to its top.",
     .fallback = "lower third",
     .choices = "lower third|fastest"},
    {.path = "sure",
     .who = who::machinist,
     .stage = Stage::hold,
     .shape = texts,
     .meaning = "Figures that look odd and are right, each a key and its value: \"head.valve.1I.z = 0.35 "
                "in\"; in brackets "
                "behind it who said so, and when.",
     .where = Where::job},
    {.path = "allow",
     .who = who::lead,
     .stage = Stage::hold,
     .shape = tables,
     .meaning = "Blocked things a lead lets pass; printed on sheet and certificate.",
     .where = Where::job},
    {.path = "allow[].what",
     .who = who::lead,
     .stage = Stage::hold,
     .shape = text,
     .required = true,
     .meaning =
         "What passes: \"guide 1I\", \"below finish 1I\", \"plumb 1I\", \"width intake\", \"trim 3I\"."},
    {.path = "allow[].why",
     .who = who::lead,
     .stage = Stage::hold,
     .shape = text,
     .required = true,
     .meaning = "The reason."},
    {.path = "allow[].by",
     .who = who::lead,
     .stage = Stage::hold,
     .shape = text,
     .required = true,
     .meaning = "Who decided."},
});

}  // namespace

std::span<const Key> work_keys() {
    return keys;
}

}  // namespace seatwright::job
