// prove: did it come out right, within what uncertainty, why not, and is the batch staying right?
//
// Lengths mm, angles rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/notice.hpp"
#include "seatwright/job/job.hpp"

namespace seatwright::prove {

struct Harmonic {
    int order = 0;
    double amplitude = 0;
    double phase = 0;                   // direction of the maximum, rad
    std::optional<double> amplitude_u;  // standard uncertainty
};

// Out-of-round about the four reference circles (limaçon approximation).
struct Roundness {
    double ls = 0, mz = 0, mc = 0, mi = 0;
};

enum class Verdict { pass, fail, undecided, not_measured };

struct Judgement {
    std::string what;  // "runout", "width", "stem height", "vacuum"
    std::optional<double> value;
    std::optional<double> limit_low, limit_high;
    std::optional<double> u;  // expanded, U
    Verdict verdict = Verdict::not_measured;
    std::string decider;  // when undecided: what would decide it
};

struct Cause {
    std::string what;       // "seat off the guide axis", "oval", "three-lobe", "chatter"
    std::string statement;  // in words, with the sizes that would explain it
    double share = 0;       // of the trace's mean square about its mean
    std::string sureness;   // "sure", "likely", "cannot be told from …"
};

struct SeatProof {
    std::string head;
    std::size_t valve = 0;
    std::optional<double> tir, eccentricity, eccentricity_direction;
    std::optional<Roundness> roundness;
    std::vector<Harmonic> harmonics;  // 1..15 as far as the trace carries them
    std::optional<double> width, stem_height;
    std::vector<Judgement> judgements;
    std::vector<Cause> causes;
};

struct Signal {
    std::string head;
    std::string rule;
};

struct Series {
    std::string what;
    job::Kind kind = job::Kind::intake;
    std::size_t n = 0;
    double mean = 0, sigma = 0;
    std::optional<double> cp, cpk, cpk_low, cpk_high;
    double centre = 0, lower = 0, upper = 0;  // control limits
    std::vector<Signal> signals;
    std::optional<double> drift_per_head;
    std::optional<double> limit_at_head;
    std::vector<std::string> heads;  // one a point
    std::vector<double> points;
};

struct Proof : Notices {
    std::vector<SeatProof> seats;  // by head, then head order
    std::vector<Series> batch;
    Verdict verdict = Verdict::not_measured;
};

// Judges every head with readings after cutting; `head` not empty: the verdicts of that head only (the batch
// series still run over all heads).
Proof judge(const job::Job& job, const std::string& head = {});

}  // namespace seatwright::prove
