// Files on a disk, flushed: the few calls that replacing a set of papers rests on.
#pragma once

#include <filesystem>
#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace seatwright::cli {

// An open file or folder, closed with its owner.
class Descriptor {
  public:
    explicit Descriptor(int fd) : fd_(fd) {}
    ~Descriptor();
    Descriptor(Descriptor&& other) noexcept : fd_(other.fd_) { other.fd_ = -1; }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    Descriptor& operator=(Descriptor&&) = delete;
    int get() const { return fd_; }
    int close();

  private:
    int fd_;
};

// What errno says, in words.
std::string reason();

// The whole file, flushed to the disk. Error: why not.
tl::expected<void, std::string> write_flushed(const std::filesystem::path& path, const std::string& bytes);

// Folders that had to be made, outermost first, so that a failure can take them away again.
tl::expected<std::vector<std::filesystem::path>, std::string> make_folders(
    const std::filesystem::path& folder);

}  // namespace seatwright::cli
