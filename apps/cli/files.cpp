#include "cli/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>

#include "cli/disk.hpp"

namespace seatwright::cli {

namespace fs = std::filesystem;

tl::expected<std::string, std::string> read_file(const fs::path& path, std::size_t max_bytes) {
    // Non-blocking, so that a pipe somebody named by mistake does not hang the program.
    Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
    if (file.get() < 0)
        return tl::unexpected(errno == ENOENT ? std::string("there is no such file")
                                              : "cannot be opened: " + reason());
    struct stat about {};
    if (::fstat(file.get(), &about) != 0) return tl::unexpected("cannot be read: " + reason());
    if (S_ISDIR(about.st_mode)) return tl::unexpected(std::string("is a folder: name a file"));
    if (!S_ISREG(about.st_mode)) return tl::unexpected(std::string("is not a plain file"));
    const auto too_large =
        fmt::format("is larger than {} MiB, the most a job may have", max_bytes / (std::size_t{1} << 20));
    if (static_cast<std::size_t>(about.st_size) > max_bytes) return tl::unexpected(too_large);
    std::string out;
    std::array<char, 65536> block;
    for (;;) {
        const ssize_t n = ::read(file.get(), block.data(), block.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return tl::unexpected("cannot be read: " + reason());
        if (n == 0) return out;
        out.append(block.data(), static_cast<std::size_t>(n));
        if (out.size() > max_bytes) return tl::unexpected(too_large);
    }
}

}  // namespace seatwright::cli
