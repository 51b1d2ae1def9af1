// What the stages gave, kept by what they read: an entry of another kind, or a facet being dragged, does not
// make the shop wait again for what it cannot change.
//
// Hold and find read neither the forms of the seats, nor the depth rules, nor readings of seats and proofs;
// tests hold them to it (tests/server/stage_memory_test.cpp). Cut reads all of it: a seat measured after
// cutting counts as cut. Whatever else differs in the text, a comment included, is taken as a difference.
#pragma once

#include <string>

#include "kept.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::server {

// The parts of a whole job file (readings included) that the stages can depend on, each with the shop file,
// what the reader assumed, and the first head (find falls back on it) or all (cut counts them), as one key.
struct StageKeys {
    std::string find;  // hold and find
    std::string cut;   // all up to cut
};

StageKeys stage_keys(const std::string& text, const std::string& shop_text, const job::Job& job);

// Thread-safe. Names: a key, then whatever else the result depends on.
struct StageMemory {
    // A result is some kilobytes, of a batch of many heads some megabytes: of those few are asked for.
    Kept<std::string, const find::Find> finds{64};
    Kept<std::string, const shape::Shape> shapes{64};
    Kept<std::string, const cut::Cut> cuts{64};
    Kept<std::string, const std::string> texts{256};  // JSON
};

// Where a computation may find results of others, and under which keys; without a memory it computes
// everything itself.
struct Recall {
    StageMemory* memory = nullptr;
    StageKeys keys;
};

}  // namespace seatwright::server
