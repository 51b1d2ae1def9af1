// papers.json: which files of a folder are ours, and as which bytes; and what its first files planned.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::cli {

inline constexpr const char* paper_list_name = "papers.json";

struct ListedPaper {
    std::string name, sha256, digest;
    std::string set;   // "plan" or "proof"
    std::string role;  // "paper" or "program"
};

// What the file that cuts a seat first planned its reading to be, mm: kept after the second file has taken
// that one's place, since the reading is held against it.
struct ListedFirst {
    std::string head, valve, figure;  // "depth", "stem_height" or "below_deck"
    double planned = 0;
};

struct PaperList {
    enum class State { whole, being_replaced } state = State::whole;
    std::vector<ListedPaper> papers;
    std::string job;  // whose first seats these are, by its title
    std::vector<ListedFirst> firsts;

    // Whether a file of that name with these bytes is one we wrote. While a set is being replaced a name
    // stands twice, as it was and as it comes.
    bool ours(const std::string& name, const std::string& sha256) const;
};

std::string text_of(const PaperList& list);
// An empty list for a text that is none: then nothing in the folder is ours.
PaperList list_of(std::string_view text);
// That of a folder; an empty one where there is none.
PaperList list_in(const std::filesystem::path& folder);

}  // namespace seatwright::cli
