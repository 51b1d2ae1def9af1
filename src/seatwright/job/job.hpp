// All that is known before anything is computed: the job file and the shop file together, in memory units
// (see base/units.hpp), faults already sorted out by the reader (job/reader.hpp).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/job/form.hpp"
#include "seatwright/job/head.hpp"
#include "seatwright/job/readings.hpp"
#include "seatwright/job/shop.hpp"

namespace seatwright::job {

enum class DepthFrom { touch, deck, datum };
// Each head to its own stem heights, or all heads on record to common ones.
enum class DepthPlanning { alone, together };

struct DepthRules {
    double step = 0.01;
    std::optional<double> stem_spread;
    std::optional<double> chamber_spread;  // mm3
    double cleanup_margin = 0;
    DepthFrom from = DepthFrom::touch;
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

struct FindRules {
    double touch_sd = 0;
    double casting_sd = 0;
    std::optional<double> yaw_sd;
    double positioning_sd = 0;
    bool touch_sd_assumed = false, casting_sd_assumed = false;  // the job does not give it
    double enter_target = 0.999;
    int learn_min_heads = 5;
    std::optional<Carry> carry;
};

struct Job {
    std::string title;
    std::string file;                          // as the person named it, for messages
    LengthUnit units = LengthUnit::mm;         // of the file; sentences about the job name lengths in it
    std::optional<LengthUnit> programs_units;  // of the programs; absent = units
    Head head;
    PerKind<std::optional<ValveForm>> valve;
    PerKind<std::optional<SeatForm>> seat;
    PerKind<std::optional<GuideForm>> guide;
    DepthRules depth;
    FindRules find;
    Machine machine;
    Fixture fixture;
    std::vector<Fixture> fixtures;  // every fixture of the shelf, the chosen one included
    std::vector<Pilot> pilots;
    std::vector<Cutter> cutters;
    std::vector<Material> materials;
    std::optional<Rates> rates;
    Dialect dialect;
    Readings readings;
    std::vector<std::string> assumptions;  // defaults the reader took, "assumes …", one sentence each
    std::map<std::string, int> lines;      // line of each table and key outside lists: "seat.intake.width"

    // Heads on record in any reading, in order of first appearance; {"1"} if there is none.
    std::vector<std::string> heads() const;
    // The same job for a person who reads in `unit`: sentences name lengths in it; every size, and the unit
    // programs are written in, stays as it is.
    Job told_in(LengthUnit unit) const;
    LengthUnit program_unit() const { return programs_units.value_or(units); }
    // Material of that name, if the shelf has it.
    const Material* material(const std::string& name) const;
};

}  // namespace seatwright::job
