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

constexpr std::size_t most_of_a_file = 32u << 20;
constexpr std::string_view own_mark = "Made by seatwright, which replaces it while it is unchanged: ";

// How a kind of file carries the mark: as what comment, and whether behind the text.
struct Marked {
    std::string_view opens, closes;
    bool behind = false;
    std::string comment(std::string_view text) const {
        return fmt::format("{}{}{}{}\n", opens, own_mark, sha256(text), closes);
    }
};
Marked marked(const fs::path& path) {
    if (path.extension() == ".svg") return {"<!-- ", " -->", true};
    if (path.extension() == ".pdf") return {"% ", "", true};  // a comment after its end, ISO 32000-1, 7.2.3
    return {"# ", "", false};
}

}  // namespace

bool is_own(const fs::path& path, const std::string& bytes) {
    const Marked how = marked(path);
    const std::size_t size = how.comment({}).size();
    if (bytes.size() < size) return false;
    const std::string_view all = bytes;
    const auto text = how.behind ? all.substr(0, all.size() - size) : all.substr(size);
    const auto comment = how.behind ? all.substr(all.size() - size) : all.substr(0, size);
    return comment == how.comment(text);
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
        const auto bytes = read_file(real, most_of_a_file);
        if (!bytes || !is_own(real, *bytes))
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
    const Marked how = marked(real);
    const std::string comment = how.comment(text);
    if (const auto done = write_flushed(part, how.behind ? text + comment : comment + text); !done) {
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
