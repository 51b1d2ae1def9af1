// Papers are written beside their places first, as ".seatwright.sheet.pdf.4711.part" (4711: the process that
// writes), and renamed when all are safe. Here: the names, and that none is left lying about.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace seatwright::cli {

std::filesystem::path part_of(const std::filesystem::path& folder, const std::string& name);

// Takes away what a killed run left in `folder`: part files of papers whose process no longer lives, and
// nothing else.
void sweep_parts(const std::filesystem::path& folder);

// While it lives, SIGTERM, SIGINT or SIGHUP take `parts` away, and those of `folders` (innermost last) that
// are then empty, before they end the process. One at a time. A signal the caller ignores stays ignored.
class UnfinishedParts {
  public:
    UnfinishedParts(const std::vector<std::filesystem::path>& parts,
                    const std::vector<std::filesystem::path>& folders);
    // A signal that came after finishing() ends the process here.
    ~UnfinishedParts();
    UnfinishedParts(const UnfinishedParts&) = delete;
    UnfinishedParts& operator=(const UnfinishedParts&) = delete;

    // From here on a signal waits for the end: a set of papers is not left half renamed.
    void finishing();
    // Parts and empty folders away at once: writing has failed.
    void take_away();
};

}  // namespace seatwright::cli
