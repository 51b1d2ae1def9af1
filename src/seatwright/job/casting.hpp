// A casting's file: what is known of all heads from one drawing or mould, kept in one place and handed on
// whole.
//
// TOML with `units`, a table [casting] (its name, the form of the file, what was learned) and the tables a
// job has of its head, valves, seats and guides. A job that names it (casting = "path") takes from it what it
// does not say itself. docs/castings.md is the manual.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/value.hpp"

namespace seatwright::job {

// The form of the file this program writes, and the newest it reads.
inline constexpr int casting_form = 1;
inline constexpr std::size_t most_past_heads = 2000;

struct Casting {
    std::string name;
    Value root;  // its entries, as a job's
    std::vector<PastHead> past;
};

// Error: every fault of the file; of one of a newer program that alone.
Checked<Casting> read_casting(std::string_view text, const std::string& file);

// Into a job's entries what they do not say: head key by key (valves by their ids), the forms table by table,
// the fixture. Lines become `line`, where the job names its casting. Returns the keys that came from it, as
// Head::of_casting has them, or the sentence that says why this is another casting.
tl::expected<std::vector<std::string>, std::string> take_from_casting(Value& job, const Casting& casting,
                                                                      int line);

// Its keys: [casting], and those of a job that may stand beside it.
const KeyNode& casting_tree();

}  // namespace seatwright::job
