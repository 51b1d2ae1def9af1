// Keys of what was measured.
#include <array>

#include "seatwright/job/keys.hpp"

namespace seatwright::job {
namespace {

using enum Shape;
using enum Dimension;

constexpr std::string_view which_head = "Head the reading is of.";
constexpr std::string_view which_valve = "Id of the valve.";

constexpr auto keys = std::to_array<Key>({
    {.path = "reading", .shape = table, .meaning = "What was measured.", .where = Where::job},
    {.path = "reading.touch",
     .shape = tables,
     .meaning = "An X-Y readout taken with the pilot over or in a guide."},
    {.path = "reading.touch[].head", .shape = label, .meaning = which_head, .fallback = "1"},
    {.path = "reading.touch[].valve",
     .shape = label,
     .required = true,
     .meaning = "Id of the valve, \"?\" if not known."},
    {.path = "reading.touch[].x", .required = true, .meaning = "Readout X."},
    {.path = "reading.touch[].y", .required = true, .meaning = "Readout Y."},
    {.path = "reading.touch[].sd",
     .bounds = positive,
     .meaning = "Standard deviation of this touch, per axis.",
     .fallback = "find.touch_sd"},
    {.path = "reading.level",
     .shape = tables,
     .meaning = "A lean of a guide read in the fixture; positive: the upper end leans towards +Y (incline) "
                "or +X (cant)."},
    {.path = "reading.level[].head", .shape = label, .meaning = which_head, .fallback = "1"},
    {.path = "reading.level[].valve", .shape = label, .required = true, .meaning = which_valve},
    {.path = "reading.level[].across",
     .shape = choice,
     .meaning = "Which lean.",
     .fallback = "incline",
     .choices = "incline|cant"},
    {.path = "reading.level[].first",
     .dimension = angle,
     .bounds = lean,
     .required = true,
     .meaning = "As read."},
    {.path = "reading.level[].second",
     .dimension = angle,
     .bounds = lean,
     .meaning = "Read again with the sensor turned half a turn, in the sensor's own sign.",
     .fallback = "not read: sensor bias unknown"},
    {.path = "reading.guide", .shape = tables, .meaning = "Bore of a guide."},
    {.path = "reading.guide[].head", .shape = label, .meaning = which_head, .fallback = "1"},
    {.path = "reading.guide[].valve", .shape = label, .required = true, .meaning = which_valve},
    {.path = "reading.guide[].top",
     .bounds = positive,
     .required = true,
     .meaning = "Diameter at the seat's end."},
    {.path = "reading.guide[].middle",
     .bounds = positive,
     .required = true,
     .meaning = "Diameter at mid length."},
    {.path = "reading.guide[].bottom",
     .bounds = positive,
     .required = true,
     .meaning = "Diameter at the far end."},
    {.path = "reading.seat", .shape = tables, .meaning = "A seat before cutting."},
    {.path = "reading.seat[].head", .shape = label, .meaning = which_head, .fallback = "1"},
    {.path = "reading.seat[].valve", .shape = label, .required = true, .meaning = which_valve},
    {.path = "reading.seat[].stem_height", .bounds = positive, .meaning = "Valve tip above the spring face."},
    {.path = "reading.seat[].recession",
     .meaning = "How far the valve head sits below its drawing height; negative: above."},
    {.path = "reading.seat[].cleanup",
     .bounds = not_negative,
     .meaning = "Least depth that removes all wear and pitting."},
    {.path = "reading.seat[].chamber",
     .dimension = volume,
     .bounds = positive,
     .meaning = "Volume of this valve's chamber."},
    {.path = "reading.seat[].section",
     .shape = points,
     .meaning =
         "Worn seat, [[r, z], …] in order of radius; z = 0 at the gauge circle of the seat to be cut."},
    {.path = "reading.proof", .shape = tables, .meaning = "A seat after cutting."},
    {.path = "reading.proof[].head", .shape = label, .meaning = which_head, .fallback = "1"},
    {.path = "reading.proof[].valve", .shape = label, .required = true, .meaning = which_valve},
    {.path = "reading.proof[].trace",
     .shape = quantities,
     .meaning = "Indicator readings round the seat, 8 or more."},
    {.path = "reading.proof[].angles",
     .shape = quantities,
     .dimension = angle,
     .bounds = {.low = -720, .high = 720},
     .meaning = "Where each was taken.",
     .fallback = "even spacing from 0"},
    {.path = "reading.proof[].runout",
     .bounds = not_negative,
     .meaning = "Runout (TIR), where it was read as one number."},
    {.path = "reading.proof[].width",
     .shape = quantities,
     .bounds = positive,
     .meaning = "Seat width at one or several places."},
    {.path = "reading.proof[].stem_height",
     .bounds = positive,
     .meaning = "Valve tip above the spring face."},
    {.path = "reading.proof[].vacuum",
     .dimension = vacuum,
     .bounds = not_negative,
     .meaning = "Vacuum the seat held, below atmosphere."},
    {.path = "reading.proof[].by", .shape = text, .meaning = "Who measured."},
    {.path = "reading.proof[].gauge_u",
     .bounds = not_negative,
     .meaning = "Standard uncertainty of the gauge."},
});

}  // namespace

std::span<const Key> reading_keys() {
    return keys;
}

}  // namespace seatwright::job
