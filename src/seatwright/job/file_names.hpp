// Names of program files, long and in eight letters (`[dialect] names`). Letters, digits and "-" alone.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::job {

// Letters and digits as they stand, anything else "-": a head "6/1" is 6-1.
std::string in_file_names(std::string_view words);
// The same without case, as many machines read names.
std::string without_case(std::string name);

// What a program file is of.
struct FileOf {
    std::string head, setup;
    int number = 0;  // of the cutter; 0: of several, with length offsets
    int turn = 0;    // from 0, of several files of one cutter
    std::vector<std::string> only;
    std::optional<std::string> from;
    bool first = false, draft = false;
};

// "program-6-A-1-from3I-first", "program-6-A-1b", "program-6-A-1-draft".
std::string long_name(const FileOf& file);

// At most eight letters: p (o of some valves alone, r from a broken blade on, d a draft), head, setup,
// cutter, valves, f for the first seat: p6A1f, o6A13I. What does not fit so is p, the setup and five letters
// made from the long name, so that the same file always has the same name and two that differ in anything
// differ in it, but for one pair in sixty million. A draft is always named so.
std::string short_name(const FileOf& file);

}  // namespace seatwright::job
