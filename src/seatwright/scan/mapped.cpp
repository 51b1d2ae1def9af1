#include "seatwright/scan/mapped.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>

namespace seatwright::scan {

tl::expected<Mapped, std::string> Mapped::of(const std::filesystem::path& path) {
    // A pipe without a writer would be waited for.
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) return tl::unexpected(fmt::format("cannot be opened: {}", std::strerror(errno)));
    auto out = of(file);
    ::close(file);
    return out;
}

tl::expected<Mapped, std::string> Mapped::of(int file) {
    const auto no = [](std::string why) { return tl::unexpected(std::move(why)); };
    struct stat is {};
    if (::fstat(file, &is) != 0) return no(fmt::format("cannot be read: {}", std::strerror(errno)));
    if (S_ISDIR(is.st_mode)) return no("is a folder; a file of points was wanted");
    if (!S_ISREG(is.st_mode)) return no("is no plain file; a scan is read from a file on the disk");
    if (is.st_size == 0) return no("is empty; points were wanted");
    void* at = ::mmap(nullptr, static_cast<std::size_t>(is.st_size), PROT_READ, MAP_PRIVATE, file, 0);
    if (at == MAP_FAILED) return no(fmt::format("cannot be read: {}", std::strerror(errno)));
    return Mapped(static_cast<const char*>(at), static_cast<std::size_t>(is.st_size));
}

Mapped::Mapped(Mapped&& other) noexcept
    : at_(std::exchange(other.at_, nullptr)), size_(std::exchange(other.size_, 0)) {}

Mapped& Mapped::operator=(Mapped&& other) noexcept {
    std::swap(at_, other.at_);
    std::swap(size_, other.size_);
    return *this;
}

Mapped::~Mapped() {
    if (at_ != nullptr) ::munmap(const_cast<char*>(at_), size_);
}

}  // namespace seatwright::scan
