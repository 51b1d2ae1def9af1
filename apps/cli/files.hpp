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

// Writes every file into `folder` (made if absent, never emptied). All are first written beside their places
// and flushed to the disk; only when every one is safe are they renamed into place, so a full disk or a
// killed process leaves no partial file. Error: a sentence naming the place.
tl::expected<void, std::string> write_files(const std::filesystem::path& folder,
                                            const std::vector<OutFile>& files);

}  // namespace seatwright::cli
