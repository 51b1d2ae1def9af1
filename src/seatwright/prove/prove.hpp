// prove: did it come out right, within what uncertainty, why not, and is the batch staying right?
//
// Lengths mm, angles rad, pressures kPa. A trace is r(θ): what a dial read square to the seat face shows
// while it is turned about the guide axis; only its changes count, its zero does not.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/boxes.hpp"
#include "seatwright/base/growing_list.hpp"
#include "seatwright/base/numerics/reference_circles.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::prove {

struct Harmonic {
    int order = 0;
    double amplitude = 0;
    double phase = 0;                   // rad, 0..2π: r = amplitude · cos(order·θ − phase)
    std::optional<double> amplitude_u;  // standard uncertainty; none when the fit leaves nothing to judge by
};

// Out-of-round about the four reference circles (limaçon approximation).
struct Roundness {
    double ls = 0, mz = 0, mc = 0, mi = 0;
};

// A dial or pointer that moved on its holder in the middle of the trace.
struct Slip {
    std::size_t at = 0;  // index of the first reading after it
    double angle = 0;
    double step = 0;
};

enum class Verdict { pass, fail, undecided, not_measured };

// One line of an uncertainty budget (JCGM 100): `u` is the standard uncertainty it brings to the result.
struct BudgetLine {
    std::string what;
    double u = 0;
    std::optional<double> dof;  // none = infinite
};

// Who read what of a seat, when and with what, as read; empty = not said.
struct Session {
    std::string by, date, gauge, calibrated;
    std::vector<std::string> what;  // "runout", "width", "stem height", "vacuum"
};

struct Judgement {
    std::string what;  // "runout", "width", "stem height", "vacuum"
    std::optional<double> value;
    std::optional<double> limit_low, limit_high;
    std::string limit_source;            // where the limit comes from, as a person would say it
    std::optional<double> u;             // expanded, U; none when no uncertainty was stated
    double coverage = 2;                 // k with which U was made
    std::optional<std::size_t> session;  // of the last reading that carries it, among the seat's
    std::vector<BudgetLine> budget;
    Verdict verdict = Verdict::not_measured;
    Sentence decider;  // when undecided: what would decide it
};

struct Cause {
    std::string what;    // "seat off the guide axis", "oval", "three-lobe", "chatter"
    Sentence statement;  // in words, with the sizes that would explain it
    double share = 0;    // of the trace's mean square about its mean
    Sentence sureness;   // "sure", "likely", "cannot be told from …"
    std::vector<int> orders;
    std::optional<double> frequency;  // of chatter, Hz, at the speed the shelf's material and machine give
};

struct SeatProof {
    std::string head;
    std::size_t valve = 0;
    std::vector<Session> sessions;             // those who measured it, in the order of the readings
    std::optional<std::size_t> trace_session;  // of the trace drawn
    // Of all sessions, each named once: who measured and when, with what, and when that was calibrated.
    std::string by, date, gauge, calibrated;
    std::string accepted_by;       // who accepted it as it is
    std::string cutter;            // as read; empty = not said
    std::vector<double> angle;     // of the trace the circles were drawn from, rad
    std::vector<double> readings;  // mm, as read
    std::optional<double> tir, eccentricity, eccentricity_direction;  // of the trace drawn
    std::optional<double> runout;                                     // mean of the repeats, as judged
    std::optional<Roundness> roundness;
    std::optional<numerics::ReferenceCircles> circles;
    std::vector<Harmonic> harmonics;  // 1..15 as far as the trace carries them
    std::optional<double> noise;      // standard deviation of what the harmonics leave
    std::optional<double> widest_gap;
    std::optional<Slip> slip;
    std::optional<double> width, stem_height;
    std::optional<double> stem_height_u;      // expanded; none when no uncertainty was stated
    std::optional<double> vacuum, leak_rate;  // kPa; loss of vacuum, kPa/s, where a later reading is given;
                                              // means of the repeats, as judged
    std::vector<Judgement> judgements;
    std::vector<Cause> causes;
    Verdict verdict = Verdict::not_measured;
};

// How far the stem heights of one kind of one head lie apart.
struct StemSpread {
    std::string head;
    job::Kind kind = job::Kind::intake;
    std::size_t lowest = 0, highest = 0;  // valves
    Judgement judgement;                  // "stem spread"
};

// A limit of the job that no reading after cutting is held against.
struct NotJudged {
    std::string what;               // "recession", "below deck", "stem spread", "chamber spread"
    std::optional<job::Kind> kind;  // none = of the head
};

struct Signal {
    std::string head;
    std::string rule;
};

enum class Chart { individuals, mean_range, mean_deviation };

// One characteristic of one kind of valve over the heads. `sigma` is the spread within heads (or between
// neighbours in order, for one valve a head), the one the control limits and Cp, Cpk are made from.
struct Series {
    std::string what;
    job::Kind kind = job::Kind::intake;
    Chart chart = Chart::individuals;
    std::size_t n = 0;  // values
    double mean = 0, sigma = 0;
    double sigma_overall = 0;  // ordinary standard deviation of all values
    std::optional<double> limit_low, limit_high;
    std::optional<double> cp, cpk, cpk_low, cpk_high;
    std::optional<double> ppk;                                     // the same with sigma_overall
    double centre = 0, lower = 0, upper = 0;                       // control limits of the points
    double spread_centre = 0, spread_lower = 0, spread_upper = 0;  // of moving range, range or deviation
    std::vector<Signal> signals;
    std::optional<double> drift_per_head;
    std::optional<double> drift_p;  // two-sided p value of no drift
    std::optional<double> limit_at_head;
    std::optional<double> tolerance_low, tolerance_high;  // hold 95 % of seats with 95 % confidence
    GrowingList<std::string> heads;                       // one a point
    std::vector<double> points;
    std::vector<double> spreads;              // a point's range, deviation or moving range (first: 0)
    std::vector<std::size_t> subgroup_sizes;  // values in each point
    std::vector<std::size_t> breaks;          // index of the first point after a change of cutter
};

// What one valve position does over the heads.
struct Position {
    std::string what;
    std::size_t valve = 0;
    std::size_t n = 0;
    double mean = 0, sd = 0;
    std::size_t worst_in = 0;  // heads in which it was the worst of its kind
};

// Share of one characteristic's variance that goes with one thing that differs.
struct Component {
    std::string what;
    job::Kind kind = job::Kind::intake;
    std::string factor;  // "head", "position", "cutter", "rest"
    double sd = 0;
    double share = 0;
    Sentence remark;  // what it is likely to be, or what it cannot be told from
};

// What the seats measured so far allow to be claimed of the batch, and what more would be needed.
struct Sampling {
    std::size_t measured = 0, passed = 0;
    double confidence = 0.95;
    double pass_rate_low = 0;  // lower confidence bound of the pass rate
    struct Plan {
        double pass_rate = 0;
        std::size_t needed = 0;  // seats in all, had none failed
        std::size_t more = 0;    // than those measured, if none of them fails
    };
    std::vector<Plan> plans;
    Sentence words;
};

struct Unmeasured {
    std::string head;
    std::size_t valve = 0;
};

struct Proof : Notices {
    std::string asked_head;              // as given to judge; empty = all
    std::vector<SeatProof> seats;        // by head, then head order; only seats with a reading
    std::vector<Unmeasured> unmeasured;  // the other seats of heads that have a reading
    std::vector<StemSpread> stem_spreads;
    std::vector<NotJudged> not_judged;
    Boxes<Series> batch;
    std::vector<Position> positions;
    std::vector<Component> components;
    std::optional<Sampling> sampling;
    std::vector<double> calm_rpm;  // from the strongest chatter found, for one blade
    Verdict verdict = Verdict::not_measured;
};

class Before;  // measured.hpp

// The whole stage: judges every head with readings after cutting; `head` not empty: the seats and verdict of
// that head only (the batch series, positions and components still run over all heads). Pure; the job has
// passed the reader. Same input, same bits. `before`: what runs before
// this one judged; the same bits without.
Proof judge(const job::Job& job, const std::string& head = {}, Before* before = nullptr);

// "pass", "fail", "undecided", "not measured".
const char* word(Verdict verdict);

}  // namespace seatwright::prove
