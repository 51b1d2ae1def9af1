// papers.json: which files of a folder are ours, and as which bytes.
#pragma once

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

struct PaperList {
    enum class State { whole, being_replaced } state = State::whole;
    std::vector<ListedPaper> papers;

    // Whether a file of that name with these bytes is one we wrote. While a set is being replaced a name
    // stands twice, as it was and as it comes.
    bool ours(const std::string& name, const std::string& sha256) const;
};

std::string text_of(const PaperList& list);
// An empty list for a text that is none: then nothing in the folder is ours.
PaperList list_of(std::string_view text);

}  // namespace seatwright::cli
