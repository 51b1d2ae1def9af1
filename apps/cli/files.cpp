#include "files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "part_files.hpp"

namespace seatwright::cli {

namespace {

namespace fs = std::filesystem;

class Descriptor {
  public:
    explicit Descriptor(int fd) : fd_(fd) {}
    ~Descriptor() {
        if (fd_ >= 0) ::close(fd_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    int get() const { return fd_; }
    int close() {
        const int rc = ::close(fd_);
        fd_ = -1;
        return rc;
    }

  private:
    int fd_;
};

std::string reason() {
    return std::strerror(errno);
}

tl::expected<void, std::string> write_one(const fs::path& path, const std::string& bytes) {
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

}  // namespace

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

tl::expected<void, std::string> write_files(const fs::path& folder, const std::vector<OutFile>& files) {
    const fs::path place = folder.lexically_normal();
    const fs::path named = place.has_filename() ? place : place.parent_path();
    const fs::path root = named.empty() ? fs::path(".") : named;
    const auto failed = [&](const OutFile& file, const std::string& why) {
        return tl::unexpected(fmt::format("cannot write {}: {}", (root / file.name).string(), why));
    };
    // A rename replaces anything but a folder: looked at before anything is done.
    std::error_code ec;
    for (const auto& file : files)
        if (fs::is_directory(fs::symlink_status(root / file.name, ec)))
            return failed(file, "a folder of that name stands there");
    const auto made = make_folders(root);
    if (!made) return tl::unexpected(made.error());
    sweep_parts(root);
    std::vector<fs::path> parts;
    parts.reserve(files.size());
    for (const auto& file : files) parts.push_back(part_of(root, file.name));
    UnfinishedParts unfinished(parts, *made);
    for (std::size_t i = 0; i < files.size(); ++i)
        if (const auto done = write_one(parts[i], files[i].bytes); !done) {
            unfinished.take_away();
            return failed(files[i], done.error());
        }
    unfinished.finishing();
    for (std::size_t i = 0; i < files.size(); ++i)
        if (::rename(parts[i].c_str(), (root / files[i].name).c_str()) != 0) {
            const std::string why = reason();
            unfinished.take_away();
            return failed(files[i], why);
        }
    return {};
}

}  // namespace seatwright::cli
