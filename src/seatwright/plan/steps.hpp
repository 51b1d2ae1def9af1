// The steps of a run in one table: what each needs of the others, what of the job it reads, and how it is
// worked out.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <vector>

#include "seatwright/cut/cut.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/plan/overrides.hpp"
#include "seatwright/plan/parts.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::plan {

class ResultCache;

// In an order in which each stands behind all it needs.
enum class Step {
    stand,  // hold as planned
    hold,   // the same at the attitude a what-if asks for
    find,
    mark,    // that ties the papers of one plan together (digest.hpp)
    design,  // shape, but for what only cut can say of a seat
    cut,
    shape,  // design with each seat's stop in its own program, where cut could be worked out
    prove
};
inline constexpr std::size_t step_count = 8;

// A result of any step; null = none.
using Result = std::shared_ptr<const void>;

// What a step is worked out from.
struct Given {
    const job::Job& job;
    const Asked& asked;
    const std::string& head;  // the one that is planned
    const Overrides& overrides;
    std::array<Result, step_count> results{};  // of the steps it needs; null: not there
    ResultCache* cache = nullptr;              // null = none
    Fingerprint beside{};                      // with a cache: of all the step is given but StepRow::by_head

    const Result& result(Step step) const { return results[static_cast<std::size_t>(step)]; }
    template <class T>
    const T& of(Step step) const {
        return *static_cast<const T*>(result(step).get());
    }
};

struct Need {
    Step step;
    bool must = true;  // false: it is worked with where it is there
    // What the step takes of that result, where that is less than whatever the result was made from.
    void (*taken)(FingerprintOf& print, const void* result) = nullptr;
};

struct StepRow {
    Step step;
    job::Stage stage;  // it belongs to: whose needs (job/needs.hpp) are its own, and its name
    std::vector<Need> needs;
    Parts reads;
    std::function<Result(const Given&)> work;
    bool (*acts)(const Overrides&) = nullptr;  // whether these overrides change it; null: none ever do
    // Of what it reads: what a head or a seat is worked out from alone, beside all else.
    Parts by_head{};
};
using Steps = std::array<StepRow, step_count>;  // by Step

// Those of the house.
const Steps& the_steps();

}  // namespace seatwright::plan
