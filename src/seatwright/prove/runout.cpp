#include "seatwright/prove/runout.hpp"

#include <algorithm>

#include "seatwright/prove/verdict.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

// Taking a step h out of the readings moves the greatest and the least of them by no more than h, both the
// same way or one of them alone: the swing changes by no more than h.
void decide_runout(Judgement& runout, const TraceDoubt& doubt) {
    const auto with = [&](double value) {
        return decide(value, runout.limit_low, runout.limit_high, runout.u.value_or(0));
    };
    const double value = *runout.value, shift = doubt.shift;
    runout.verdict = with(value);
    if (shift > 0 &&
        (with(std::max(value - shift, 0.0)) != runout.verdict || with(value + shift) != runout.verdict))
        runout.verdict = Verdict::undecided;
    if (doubt.partly && runout.verdict != Verdict::fail) {
        runout.verdict = Verdict::undecided;
        runout.decider = sentence<"whole-turn">();
    } else if (runout.verdict == Verdict::undecided) {
        runout.decider = shift > 0 ? sentence<"new-trace">() : what_would_decide(runout);
    }
}

}  // namespace seatwright::prove
