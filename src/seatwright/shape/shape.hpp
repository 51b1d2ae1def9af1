// shape: what section must each seat have, how deep must each be cut, which cutter makes it, recut or insert?
//
// Seat frame: r from the guide axis, z = 0 at the new gauge circle before any depth is cut, z up towards the
// spindle. Lengths mm, volumes mm3, angles rad, pressures MPa, forces N, temperatures °C.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/find/find.hpp"

namespace seatwright::shape {

// Where a new valve first touches a new seat: a face flatter than the seat at the contact diameter, a steeper
// one at the inner edge.
enum class ContactStart { whole_face, outer_edge, inner_edge };

struct Section {
    double contact_od = 0, contact_id = 0, gauge = 0;
    std::vector<Vec2> points;  // (r, z), inside to outside
    std::size_t face = 0;      // points[face], points[face + 1] are the ends of the seat face
    ContactStart contact = ContactStart::whole_face;
};

enum class Decision {
    cut,
    insert,
    not_allowed,
    not_measured,  // a reading that its plan needs is lacking
    below_finish   // the old seat is already at or below the finished height
};
// "cut", "insert", "not allowed", "not measured", "below finish": as JSON has it.
const char* word_of(Decision decision);

// What an old seat's height was made from.
enum class HeightFrom { unread, touched, rest_z, recession, below_deck, stem_height, as_drawn };

// How far an old seat lies below its drawing height along its guide's axis.
struct OldHeight {
    std::optional<double> recession;  // ρ; none where no reading gives it
    double u = 0;                     // its standard uncertainty
    HeightFrom from = HeightFrom::unread;
    // The touched seat's own ρ is not known and counts as 0: the differences are right, the height is not.
    bool relative = false;
    // Whose old seat Z0 is touched on for this valve's form in its setup; none where Z0 is on the deck.
    std::optional<std::size_t> touched;

    std::optional<double> absolute() const { return relative ? std::nullopt : recession; }
};

struct Seat {
    std::size_t valve = 0;
    Section section;
    std::optional<std::size_t> cutter;    // index into job.cutters
    std::optional<double> blade_setting;  // diameter
    std::optional<double> cleanup;
    std::optional<double> depth_low, depth_high;  // limits of this seat alone
    std::string limited_by;                       // what sets depth_high: "recession", "stem height", …
    // Below the old seat: as planned, or f − ρ of a finished height f; none where ρ is not known. Not above 0
    // where the old seat is already at or below the finished height.
    std::optional<double> depth;
    // How much deeper that is than in the plan its form's first file was made from: the first seat as
    // measured, and the others where the plan was made anew around it.
    double since_first = 0;
    OldHeight height;
    std::optional<double> rest;                // κ; none: not known
    std::optional<double> finished_recession;  // ρ + depth, or f: below the drawing height
    // Height of the finished gauge circle along the guide, 0 = as drawn, up positive: −ρ − depth or −f (where
    // `height.relative`, from the touched seat's old height). What a program's Z is made from; none: nothing
    // can be cut.
    std::optional<double> stop_s;
    std::optional<double> z;  // from the reference job.depth.from names: touch −depth; deck along the
                              // guide axis; datum map z − depth
    std::optional<double> program_z;  // the same point in the setup's program coordinates
    std::optional<double> stem_height_after, recession_added, removed;
    std::optional<double> recession_after;            // finished, where the height is known
    std::vector<Vec2> worn;                           // the measured old surface, ascending r
    double proud = 0;                                 // how far it stands above the form as drawn
    std::vector<std::array<double, 2>> still_old;     // r intervals of the face left uncut at `depth`
    std::optional<double> cut_width, cut_contact_od;  // as the chosen cutter leaves the face
    std::optional<double> bridge;                     // negative: they overlap by so much
    std::string bridge_to;                            // valve id, obstacle name, "bore"
    std::optional<double> cutter_clearance;           // of the cutter's outermost circle, likewise
    std::string cutter_clearance_to;
    std::optional<double> insert_wall;  // the lesser of the two below
    std::optional<double> insert_wall_outside, insert_wall_inside;
    std::optional<double> tip_grind, spring_shim;
    std::optional<double> lash_shim;  // how much thinner, in whole steps, never less than the depth
    Decision decision = Decision::cut;
};

// Limits that cannot all be kept, none of which can be left out of the quarrel, and what would settle it.
struct Conflict {
    enum class Limit { cleanup, most_depth, stem_spread, chamber_spread };
    struct Member {
        Limit limit = Limit::cleanup;
        std::optional<std::size_t> valve;  // of cleanup, most_depth, stem_spread
        std::optional<int> cylinder;       // of chamber_spread
    };
    std::vector<Member> members;
    double relaxation = 0;                  // least, of any one mm limit; mm3 when the chambers are in it
    std::optional<std::size_t> insert_for;  // the valve proposed for an insert
    Sentence text;
};

// Heads planned together; the figures are of all of them. A conflict of such a plan may be about another
// head: its text says which.
struct Batch {
    std::vector<std::string> heads;                   // in order of their first seat reading
    job::PerKind<std::optional<double>> common_stem;  // the highest stem after cutting: none stands above
    job::PerKind<std::optional<double>> stem_spread;  // and none further below it than this
    std::optional<double> chamber_spread;             // mm3
    std::optional<double> total;                      // all depths of all heads
};

// One way to go on after a first seat that went deeper than planned.
struct DepthWay {
    struct OfSeat {
        std::size_t valve = 0;
        std::optional<double> depth;  // none: its old seat was not read, or it is for an insert
        double deeper = 0;            // than in the plan that the first file was made from
        bool insert = false;
    };
    std::vector<OfSeat> seats;     // head order
    std::optional<double> total;   // of all depths; none where one is not known
    double deeper = 0;             // in total, of seats that are still to be cut
    std::vector<Sentence> breaks;  // limits and spreads that it does not keep
};

// The depths as planned with Z moved alone, beside depths made anew around what was measured: a person
// chooses.
struct PlanAnew {
    std::vector<std::size_t> after;  // valves of the first seats that went deeper
    DepthWay shifted, anew;
    job::AfterFirst chosen = job::AfterFirst::open;
};

struct DepthPlan {
    std::optional<double> total;
    std::optional<double> total_unrounded;  // optimum of the linear program, before whole steps
    std::vector<Conflict> conflicts;
    job::PerKind<std::optional<double>> stem_spread;
    std::optional<double> chamber_spread;  // mm3
    bool feasible = true;
    std::vector<Sentence> conflict;
    std::optional<Batch> batch;    // when the job plans its heads together; total_unrounded is then none
    std::optional<PlanAnew> anew;  // where limits or spreads do not bear a first seat as it was measured
};

struct InsertFit {
    std::size_t valve = 0;
    double pressure = 0, pressure_hot = 0, hold_force = 0, hoop = 0;
    double insert_temperature = 0, head_temperature = 0;  // either alone takes the interference to nothing
    double interference = 0;                              // diametral, at 20 °C
    double ring_hoop = 0;                                 // at the ring's bore, compressive: negative
    double running_temperature = 0;                       // of `pressure_hot`
    double counterbore = 0, counterbore_depth = 0;        // what to bore for it
    double counterbore_within = 0, counterbore_depth_within = 0;  // ± on the bore, on its depth
};

// A guide pressed into its boss; per kind of valve.
struct GuideFit {
    job::Kind kind = job::Kind::intake;
    double interference = 0, pressure = 0, pressure_hot = 0, hold_force = 0, hoop = 0;
    double guide_temperature = 0, head_temperature = 0;
};

// One cylinder's chamber before and after; compression with the head's chamber alone.
struct Chamber {
    int cylinder = 0;
    std::optional<double> before, after;  // mm3
    double change = 0;                    // mm3, seats and deck cut together
    std::optional<double> compression_before, compression_after;
};

// Geometric flow area against lift, for information.
struct Flow {
    job::Kind kind = job::Kind::intake;
    double throat_diameter = 0, throat_area = 0;  // inside the section; less the stem
    double second_regime = 0, third_regime = 0;   // lifts where they begin
    std::vector<Vec2> curve;                      // (lift, area)
};

struct Sensitivity {
    job::Kind kind = job::Kind::intake;
    double facet_angle = 0;
    double width_per_depth = 0;  // the face narrows by so much per depth, once this facet meets the face
    bool next_to_face = true;
};

struct NearMiss {
    job::Kind kind = job::Kind::intake;
    std::size_t cutter = 0;
    Sentence why;  // "30 deg facet 0.3 mm short"
    // What it would leave, of a blade whose angles and diameter range suit.
    std::optional<double> width, contact_od;
    bool width_alone = false;  // it breaks nothing but the face's tolerance
};

struct Shape : Notices {
    std::string head;         // whose readings were used
    std::vector<Seat> seats;  // head order
    DepthPlan depth;
    std::vector<InsertFit> inserts;
    std::vector<Sensitivity> sensitivity;
    std::vector<NearMiss> near_misses;
    std::vector<GuideFit> guides;
    std::vector<Chamber> chambers;
    std::vector<Flow> flow;
};

// The whole stage for the seats of `head`. Pure and total: a valve whose kind has no seat or valve form gets
// a warning and nothing else. About 0.1 ms for 8 valves.
Shape design(const job::Job& job, const hold::Hold& hold, const find::Find& find, const std::string& head);

// The same with some seats cut to asked depths instead of the planned ones (valve id → mm, taken into 0 …
// 100): everything that follows from a depth is computed anew, and a limit that an asked depth breaks is a
// blocking warning and a line of depth.conflict. Seats without a planned depth stay as planned.
Shape with_depths(const job::Job& job, const hold::Hold& hold, const find::Find& find,
                  const std::string& head, const std::map<std::string, double>& depths);

}  // namespace seatwright::shape
