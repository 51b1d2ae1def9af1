// The rim towards the disk: reading with a size guard. Writing: paper_set.hpp.
#pragma once

#include <filesystem>
#include <string>
#include <tl/expected.hpp>

namespace seatwright::cli {

// The file's bytes. Error: a sentence without the file's name ("is a folder", "is larger than 16 MiB", …).
tl::expected<std::string, std::string> read_file(const std::filesystem::path& path, std::size_t max_bytes);

}  // namespace seatwright::cli
