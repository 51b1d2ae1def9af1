// The rim towards the disk: reading with a size guard, and writing a set of files whole or not at all.
#pragma once

#include <filesystem>
#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace seatwright::cli {

// The file's bytes. Error: a sentence without the file's name ("is a folder", "is larger than 16 MiB", …).
tl::expected<std::string, std::string> read_file(const std::filesystem::path& path, std::size_t max_bytes);

struct OutFile {
    std::string name;  // inside the folder
    std::string bytes;
};

// Writes every file into `folder` (made if absent, never emptied). All places are looked at first, then all
// files written beside them and flushed to the disk; only when every one is safe are they renamed into place,
// so a full disk or a process told to stop leaves no partial file, and what a killed one left is swept by the
// next (part_files.hpp). Error: a sentence naming the place.
tl::expected<void, std::string> write_files(const std::filesystem::path& folder,
                                            const std::vector<OutFile>& files);

}  // namespace seatwright::cli
