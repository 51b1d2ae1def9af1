// Doubts (working.md): figures that cannot be as far as the trade knows. Each is asked about once; nothing is
// written for the machine until somebody corrects it or says that it is right.
//
// Confirmed is a key and its value: `sure = ["head.valve.1I.z = 0.35 in"]`; another value asks again. A
// reading is confirmed by its own `sure = true`. Figures of readings count for the head that is planned.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/job/job.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::job {

// How dear a mistake is: where more than three questions are open the dearest are asked first.
enum class Cost { measured_after, rule, reading, form, place, wrong_side, whole_file };

struct Doubt {
    Stage stage = Stage::hold;  // which says it; none says a doubt of a table its results do not depend on
    Cost cost = Cost::rule;
    std::string key;                   // "head.valve.1I.z"
    Part value;                        // as it would be typed: "0.35 in"
    Sentence text;                     // what is odd and what would be right
    std::optional<std::string> valve;  // the one it concerns; none: the whole head
    std::string head;                  // of a reading; empty: every head
    bool reading = false;              // confirmed by the reading's own `sure`
};

// "head.valve.1I.z = 0.35 in", as `sure` holds it; "sure = true" for a reading.
Sentence sure_words(const Doubt& doubt);
// Whether `sure` holds that key with that value (memory units), or that word.
bool is_sure(const Job& job, const std::string& key, double value, Dimension dimension);
bool is_sure(const Job& job, const std::string& key, const std::string& word);

// The head whose readings are planned with: `asked`, or if that is empty the last with readings of a seat
// before cutting, else the first on record.
std::string planned_head(const Job& job, const std::string& asked);

// Doubts of the job as it stands that a stage (hold, shape, prove) has to say and nobody has confirmed,
// dearest first. A whole-file doubt stands alone.
std::vector<Doubt> doubts_of(const Job& job, Stage stage, const std::string& head);

// The job without those figures of proof readings that are in doubt: a figure that cannot be proves nothing.
Job without_doubtful_proofs(const Job& job);

inline constexpr std::size_t most_open = 3;
// At most three stand open over all stages: `open` do already. Each is a warning and held back; where more
// wait behind them the head as a whole is held back with the last.
void ask_about(Notices& notices, std::vector<Doubt> doubts, std::size_t open = 0);
// Whether the file as a whole is asked about: nothing else is, before that is settled.
bool asks_of_whole_file(const Job& job);

// How many stand open among them.
std::size_t asked_in(const Notices& notices);
// Ordered by cost, then as they came; one for each key.
std::vector<Doubt> dearest_first(std::vector<Doubt> doubts);

}  // namespace seatwright::job
