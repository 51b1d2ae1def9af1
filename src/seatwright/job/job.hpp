// All that is known before anything is computed: the job file and the shop file together, in memory units
// (see base/units.hpp), faults already sorted out by the reader (job/reader.hpp).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/job/figures.hpp"
#include "seatwright/job/forecast_rules.hpp"
#include "seatwright/job/form.hpp"
#include "seatwright/job/head.hpp"
#include "seatwright/job/readings.hpp"
#include "seatwright/job/shop.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::job {

// What Z0 is taken on; datum is a touch on the datum valve's seat.
enum class DepthFrom { touch, finished, deck, datum };
// Each old seat as little as it needs, or all of a kind to one finished height.
enum class DepthTo { cleanup, height };
// Each head to its own stem heights, or all heads on record to common ones.
enum class DepthPlanning { alone, together };

// A depth or finished height that a person decided for one seat ([[depth.seat]]); one of the two.
struct SeatOrder {
    std::string valve;
    std::optional<double> depth;
    std::optional<Finish> finish;
    int line = 0;
};

struct DepthRules {
    double step = 0.01;
    std::optional<double> stem_spread;
    std::optional<double> chamber_spread;  // mm3
    double cleanup_margin = 0;
    DepthFrom from = DepthFrom::touch;
    DepthTo to = DepthTo::cleanup;
    std::optional<std::string> zero_on;  // valve whose seat is touched
    std::optional<Vec2> deck_at;         // head frame, on the deck as it is when cut
    std::optional<double> block;         // height of the block the cutter's edge is set on
    double feeler = 0;                   // between blade and seat when Z0 is taken
    std::vector<SeatOrder> seats;
    DepthPlanning plan = DepthPlanning::alone;
    double deck_cut = 0;
    std::optional<double> bridge_min;
    std::vector<double> spring_shims;  // stock thicknesses
    std::optional<double> lash_shim_step;
    std::optional<double> swept;  // mm3 per cylinder
};

// Where the last head's yaw and offset lay, as a prior for this one.
struct Carry {
    Vec2 offset = Vec2::Zero();
    double yaw = 0;
    double sd = 0;  // of the offset, per axis
    double yaw_sd = 0;
};

// How the guides of one earlier head of the casting stood in one setup, off the drawing once its own offset
// and yaw are taken out: across the table as it was tilted then, X and Y of the machine, as the head is drawn
// (a mirrored head's are turned back).
struct PastHead {
    std::string head, from;  // its name, and the job it was read in
    double tilt = 0, swing = 0;
    std::vector<std::string> valves;
    std::vector<Vec2> off;
    std::vector<double> sd;  // of a touch, per axis
};

struct FindRules {
    double touch_sd = 0;
    double casting_sd = 0;
    std::optional<double> yaw_sd;
    double positioning_sd = 0;
    bool touch_sd_assumed = false, casting_sd_assumed = false;  // the job does not give it
    double enter_target = 0.999;
    int learn_min_heads = 5;
    std::optional<Carry> carry;
    std::vector<PastHead> past;  // of the casting: learned from before the job's own heads
};

enum class PilotUse { carried, planted, live, none };
enum class SpeedRule { lower_third, fastest };

// How seats are cut ([cut]); speeds of axes mm/s.
struct CutRules {
    std::optional<PilotUse> pilot;     // none: live where the pilot's style is written "live", else carried
    std::optional<double> approach;    // height over the stop where the slow way in ends
    double finish_depth = 0.05;        // cut at the finishing feed
    double first_short = 0.10;         // the first seat is first cut so much less
    std::optional<std::string> first;  // valve a person chose as first seat
    bool first_stop = true;
    double trim_max = 0.10;
    double enter_feed = 5;  // 300 mm/min
    std::optional<double> enter_min;
    std::optional<double> entry_rpm;  // of a live pilot on its way in
    SpeedRule speed = SpeedRule::lower_third;
};

// A figure outside what the trade knows, confirmed: "head.valve.1I.z = 0.35 in".
struct Sure {
    std::string words;  // "head.valve.1I.z = 0.35 in"
    int line = 0;
    LengthUnit units = LengthUnit::mm;  // of a bare length in it
    std::string said_by;                // "A. Miller, 2026-01-31", in brackets behind the words; or empty
};

// A blocked thing a lead lets pass, with the reason: "guide 1I", "trim 3I".
struct Allowance {
    std::string what, why, by;
    int line = 0;
};

struct Job {
    std::string title;
    std::string file;                          // as the person named it, for messages
    LengthUnit units = LengthUnit::mm;         // of the file; JSON's sentences name lengths in it
    std::optional<LengthUnit> programs_units;  // of the programs; absent = units
    Head head;
    PerKind<std::optional<ValveForm>> valve;
    PerKind<std::optional<SeatForm>> seat;
    PerKind<std::optional<GuideForm>> guide;
    DepthRules depth;
    FindRules find;
    CutRules cut;
    ForecastRules forecast;
    std::vector<Sure> sure;
    std::vector<Allowance> allow;
    Figures figures;  // of the file, as far as they cannot be
    Machine machine;
    Fixture fixture;
    bool machine_of_shelf = false, fixture_of_shelf = false;  // not written in the job itself
    std::vector<Fixture> fixtures;  // every fixture of the shelf, the chosen one included
    std::vector<Pilot> pilots;
    std::vector<Cutter> cutters;
    std::vector<Material> materials;
    std::vector<Gauge> gauges;
    std::optional<Rates> rates;
    Dialect dialect;
    Readings readings;
    std::vector<Sentence> assumptions;  // defaults the reader took: "assumes …"
    // Everything but readings that the job and shop files say, in one order and spelling: two jobs that say
    // the same are written alike. For digests.
    std::string given;
    std::map<std::string, int> lines;  // line of each table and key outside lists: "seat.intake.width"

    // Heads on record in any reading, in order of first appearance; {"1"} if there is none.
    std::vector<std::string> heads() const;
    LengthUnit program_unit() const { return programs_units.value_or(units); }
    // Material of that name, if the shelf has it.
    const Material* material(const std::string& name) const;
};

}  // namespace seatwright::job
