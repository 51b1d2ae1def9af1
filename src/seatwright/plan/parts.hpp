// The parts of what a run is given, each with its fingerprint: what a stage has not read cannot make what it
// gave stale.
#pragma once

#include <array>
#include <initializer_list>
#include <string>

#include "seatwright/base/fingerprint.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/job/selection.hpp"

namespace seatwright::plan {

enum class Part : unsigned {
    // Of the job; `units` is that of programs too, `machine` and `fixture` are told with whether they are the
    // shelf's, `fixture` with every other fixture; `whole_file` is of the
    // figures only whether all of them are asked about.
    title,
    units,
    head,
    valve,
    seat,
    guide,
    depth,
    find,
    cut,
    forecast,
    sure,
    allow,
    figures,
    whole_file,
    machine,
    fixture,
    pilots,
    cutters,
    materials,
    gauges,
    rates,
    dialect,
    assumptions,
    given,
    // Of its readings; `own_proofs` are those of the head that is planned.
    touches,
    levels,
    guides,
    seats,
    proofs,
    own_proofs,
    firsts,
    // Names on record: all heads, and the first of them.
    heads,
    first_head,
    // Of the question: the head asked for, the one it comes to (job::planned_head), which of its seats.
    asked_head,
    planned_head,
    selection,
    count
};
inline constexpr std::size_t part_count = static_cast<std::size_t>(Part::count);

class Parts {
  public:
    constexpr Parts() = default;
    constexpr Parts(std::initializer_list<Part> parts) {
        for (const Part part : parts) bits_ |= bit(part);
    }
    // Every part, those yet to be invented included, but these.
    static constexpr Parts all_but(std::initializer_list<Part> parts) {
        Parts out(parts);
        out.bits_ = ~out.bits_;
        return out;
    }
    constexpr Parts without(const Parts& others) const {
        Parts out = *this;
        out.bits_ &= ~others.bits_;
        return out;
    }
    constexpr bool has(Part part) const { return (bits_ & bit(part)) != 0; }

  private:
    static constexpr unsigned long long bit(Part part) { return 1ULL << static_cast<unsigned>(part); }
    unsigned long long bits_ = 0;
};

// What is asked of a job.
struct Asked {
    std::string head;          // empty: none in particular
    job::Selection selection;  // which of its seats programs are for; its digest is the run's to make
};

// Where in its files a thing was said is no part of any; all else of a job is.
using PartPrints = std::array<Fingerprint, part_count>;
PartPrints prints_of(const job::Job& job, const Asked& asked);

}  // namespace seatwright::plan
