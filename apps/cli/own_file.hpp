// One file of ours, such as a job made from readings: written whole or not at all, and never over another's.
//
// Its first line (of a picture the last) is a comment with the SHA-256 of the rest. A file that carries it
// and is unchanged since is ours and is replaced; any other is left alone unless the person says so.
#pragma once

#include <filesystem>
#include <string>
#include <tl/expected.hpp>

namespace seatwright::cli {

enum class Over { own, anything };  // what may be replaced

// `text` with the mark, at `path`, whose ending (.svg, .pdf, else TOML) says how; its folder must be there.
// Error: a sentence without the file's name.
tl::expected<void, std::string> write_own_file(const std::filesystem::path& path, const std::string& text,
                                               Over over);

// Whether these bytes are a file of ours, of that name, as it was written.
bool is_own(const std::filesystem::path& path, const std::string& bytes);

}  // namespace seatwright::cli
