#include "seatwright/place/calls.hpp"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>

namespace seatwright::place {

namespace {

// A control's own login may have to read it.
constexpr mode_t rights = S_IRUSR | S_IWUSR | S_IRGRP | S_IROTH;
constexpr long long ns_per_s = 1'000'000'000;

Identity identity_of(const struct stat& s) {
    return {s.st_dev, s.st_ino, s.st_size, s.st_mtim.tv_sec * ns_per_s + s.st_mtim.tv_nsec,
            S_ISREG(s.st_mode)};
}

}  // namespace

bool Calls::fails(Call call) {
    const int fault = before(call);
    if (fault != 0) errno = fault;
    return fault != 0;
}

std::optional<bool> Calls::mounted(const std::string& path) {
    struct stat own {};
    struct stat above {};
    if (fails(Call::mounted) || ::stat(path.c_str(), &own) != 0 ||
        ::stat((path + "/..").c_str(), &above) != 0)
        return std::nullopt;
    return own.st_dev != above.st_dev || own.st_ino == above.st_ino;
}

int Calls::open_folder(const std::string& path) {
    return fails(Call::open_folder) ? -1 : ::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

std::optional<std::vector<std::string>> Calls::list(int folder) {
    if (fails(Call::list)) return std::nullopt;
    // A handle of its own: reading moves it, and closedir closes it.
    const int again = ::openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (again < 0) return std::nullopt;
    DIR* all = ::fdopendir(again);
    if (all == nullptr) {
        ::close(again);
        return std::nullopt;
    }
    std::vector<std::string> names;
    errno = 0;
    while (const dirent* one = ::readdir(all)) {
        const std::string name(static_cast<const char*>(one->d_name));
        if (name != "." && name != "..") names.push_back(name);
    }
    const int fault = errno;
    ::closedir(all);
    if (fault == 0) return names;
    errno = fault;
    return std::nullopt;
}

int Calls::open_old(int folder, const std::string& name) {
    // A pipe of that name would wait for a writer.
    return fails(Call::open_old)
               ? -1
               : ::openat(folder, name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
}

std::optional<Identity> Calls::look(int file) {
    struct stat s {};
    if (fails(Call::look) || ::fstat(file, &s) != 0) return std::nullopt;
    return identity_of(s);
}

std::optional<Identity> Calls::look(int folder, const std::string& name) {
    struct stat s {};
    if (fails(Call::look) || ::fstatat(folder, name.c_str(), &s, AT_SYMLINK_NOFOLLOW) != 0)
        return std::nullopt;
    return identity_of(s);
}

ssize_t Calls::read(int file, char* to, std::size_t size) {
    return fails(Call::read) ? -1 : ::read(file, to, size);
}

int Calls::open_new(int folder, const std::string& name) {
    if (fails(Call::open_new)) return -1;
    const int file =
        ::openat(folder, name.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, rights);
    // Whatever the mask; a file system without rights has nothing to set.
    if (file >= 0 && ::fchmod(file, rights) != 0) errno = 0;
    return file;
}

ssize_t Calls::write(int file, std::string_view bytes) {
    return fails(Call::write) ? -1 : ::write(file, bytes.data(), bytes.size());
}

int Calls::flush(int file) {
    if (fails(Call::flush)) return -1;
    if (::fsync(file) == 0 || errno == EINVAL || errno == ENOTSUP) return 0;
    return -1;
}

void Calls::forget(int file) {
    ::posix_fadvise(file, 0, 0, POSIX_FADV_DONTNEED);
}

int Calls::rename(int folder, const std::string& from, const std::string& to) {
    if (fails(Call::rename)) return -1;
    if (::renameat2(folder, from.c_str(), folder, to.c_str(), RENAME_NOREPLACE) == 0) return 0;
    if (errno != EINVAL && errno != ENOSYS) return -1;
    // A file system that cannot promise it is looked at just before.
    struct stat s {};
    if (::fstatat(folder, to.c_str(), &s, AT_SYMLINK_NOFOLLOW) == 0) {
        errno = EEXIST;
        return -1;
    }
    return errno == ENOENT ? ::renameat(folder, from.c_str(), folder, to.c_str()) : -1;
}

int Calls::remove(int folder, const std::string& name) {
    return fails(Call::remove) ? -1 : ::unlinkat(folder, name.c_str(), 0);
}

void Calls::close(int file) {
    ::close(file);
}

}  // namespace seatwright::place
