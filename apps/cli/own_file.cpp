#include "cli/own_file.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>

#include "cli/disk.hpp"
#include "cli/files.hpp"
#include "cli/part_files.hpp"
#include "seatwright/base/sha256.hpp"

namespace seatwright::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_of_a_job = 16u << 20;
constexpr std::string_view mark = "# Made by seatwright, which replaces it while it is unchanged: ";

}  // namespace

bool is_own(const std::string& bytes) {
    const auto end = bytes.find('\n');
    if (!std::string_view(bytes).starts_with(mark) || end == std::string::npos) return false;
    return bytes.substr(mark.size(), end - mark.size()) == sha256(std::string_view(bytes).substr(end + 1));
}

tl::expected<void, std::string> write_own_file(const fs::path& path, const std::string& text, Over over) {
    std::error_code ec;
    // Where a link leads the file is replaced, not the link.
    const fs::path real =
        fs::is_symlink(fs::symlink_status(path, ec)) ? fs::weakly_canonical(path, ec) : path;
    const bool there = fs::exists(fs::symlink_status(real, ec));
    if (there && fs::is_directory(real, ec)) return tl::unexpected(std::string("is a folder; name a file"));
    if (there && !fs::is_regular_file(real, ec))
        return tl::unexpected(std::string("is no plain file; name another"));
    if (there && over == Over::own) {
        const auto bytes = read_file(real, most_of_a_job);
        if (!bytes || !is_own(*bytes))
            return tl::unexpected(
                std::string("is there and was not made by this command, or was changed since; name another "
                            "file, or add --replace"));
    }
    const fs::path folder = real.has_parent_path() ? real.parent_path() : fs::path(".");
    if (!fs::is_directory(folder, ec))
        return tl::unexpected(fmt::format("cannot be written: there is no folder {}", folder.string()));
    sweep_parts(folder);
    const fs::path part = part_of(folder, real.filename().string());
    UnfinishedParts unfinished({part}, {});
    if (const auto done = write_flushed(part, fmt::format("{}{}\n{}", mark, sha256(text), text)); !done) {
        unfinished.take_away();
        return tl::unexpected("cannot be written: " + done.error());
    }
    unfinished.finishing();
    // A link, unlike a rename, does not replace what came to stand there meanwhile.
    const int rc = there ? ::rename(part.c_str(), real.c_str()) : ::link(part.c_str(), real.c_str());
    const std::string why = rc != 0 ? reason() : "";
    if (rc != 0 || !there) ::unlink(part.c_str());
    if (rc != 0) return tl::unexpected("cannot be written: " + why);
    return {};
}

}  // namespace seatwright::cli
