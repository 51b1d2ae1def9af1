// The part of a file that is being written, beside its place: gone when it does not come to it.
#pragma once

#include <filesystem>
#include <string>
#include <system_error>
#include <utility>

namespace seatwright::store {

class PartFile {
  public:
    // What a run that was killed left there goes first.
    explicit PartFile(std::string path) : path_(std::move(path)) { remove(); }
    ~PartFile() { remove(); }
    PartFile(const PartFile&) = delete;
    PartFile& operator=(const PartFile&) = delete;
    const std::string& path() const { return path_; }

  private:
    void remove() const {
        std::error_code ignored;
        std::filesystem::remove(path_, ignored);
    }
    std::string path_;
};

}  // namespace seatwright::store
