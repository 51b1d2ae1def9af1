// A folder of papers replaced as one set: what the new set does not hold is gone, what is somebody else's
// stays, and no moment shows programs of two plans.
//
// papers.json lists what is ours: {"seatwright", "state": "whole" | "being replaced", "papers": [{"name",
// "sha256", "digest", "set"}], "job", "first_seats": [{"head", "valve", "figure", "planned_mm"}]}. Order: the
// new files under names of their own, flushed; the list says "being replaced", flushed; old programs and
// papers that do not come again are removed; papers are renamed in, then programs, the list last; the folder
// is flushed. Killed at any point this leaves the old set, or no program and a list that says so, or the new
// set; the next run finishes the work.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "cli/paper_list.hpp"

namespace seatwright::cli {

enum class PaperRole { paper, program };

struct OutFile {
    std::string name;  // inside the folder
    std::string bytes;
    PaperRole role = PaperRole::paper;
};

// What first files planned, for the list; a set that says nothing of them leaves those that stand there.
struct FirstSeats {
    std::string job;  // its title
    std::vector<ListedFirst> firsts;
};

struct PaperSet {
    std::string what;    // "plan" or "proof": two sets may share a folder
    std::string digest;  // of what it was made from
    std::vector<OutFile> files;
    std::optional<FirstSeats> firsts;
};

struct Replaced {
    std::vector<std::string> kept;  // files that were not as we had written them, now under these names
};

// Makes `set` the one of its kind in `folder` (made if absent). A paper of ours that was changed by hand, or
// another's file in the place of one, is renamed to NAME.kept. One process at a time; a second waits. Error:
// a sentence naming the place; the old set then stands as it was, or the list says that it is being replaced.
tl::expected<Replaced, std::string> replace_set(const std::filesystem::path& folder, const PaperSet& set);

}  // namespace seatwright::cli
