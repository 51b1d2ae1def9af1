#include "cli/disk.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace seatwright::cli {

namespace fs = std::filesystem;

Descriptor::~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
}

int Descriptor::close() {
    const int rc = ::close(fd_);
    fd_ = -1;
    return rc;
}

std::string reason() {
    return std::strerror(errno);
}

tl::expected<void, std::string> write_flushed(const fs::path& path, const std::string& bytes) {
    Descriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644));
    if (file.get() < 0) return tl::unexpected(reason());
    std::size_t done = 0;
    while (done < bytes.size()) {
        const ssize_t n = ::write(file.get(), bytes.data() + done, bytes.size() - done);
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) return tl::unexpected(n == 0 ? std::string("no bytes were taken") : reason());
        done += static_cast<std::size_t>(n);
    }
    if (::fsync(file.get()) != 0) return tl::unexpected(reason());
    if (file.close() != 0) return tl::unexpected(reason());
    return {};
}

// Folders that had to be made, outermost first, so that a failure can take them away again.
tl::expected<std::vector<fs::path>, std::string> make_folders(const fs::path& folder) {
    std::vector<fs::path> made, missing;
    std::error_code ec;
    for (fs::path at = folder; !at.empty() && !fs::exists(at, ec); at = at.parent_path()) {
        missing.push_back(at);
        if (at == at.parent_path()) break;
    }
    for (auto at = missing.rbegin(); at != missing.rend(); ++at) {
        if (::mkdir(at->c_str(), 0755) != 0 && errno != EEXIST) {
            const std::string why = reason();
            for (auto m = made.rbegin(); m != made.rend(); ++m) ::rmdir(m->c_str());
            return tl::unexpected(fmt::format("cannot make the folder {}: {}", at->string(), why));
        }
        made.push_back(*at);
    }
    if (!fs::is_directory(folder, ec))
        return tl::unexpected(fmt::format("{} is a file, not a folder: name a folder", folder.string()));
    return made;
}

}  // namespace seatwright::cli
