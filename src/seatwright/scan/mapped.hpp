// A file mapped into memory, to read from as if it were there: what is read is shared with the system's own
// cache and is no memory of ours.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace seatwright::scan {

class Mapped {
  public:
    // Error: a sentence without the file's name ("is a folder", "is empty", …).
    static tl::expected<Mapped, std::string> of(const std::filesystem::path& path);
    // Of a file that is open; it need not stay so.
    static tl::expected<Mapped, std::string> of(int file);
    Mapped(Mapped&& other) noexcept;
    Mapped& operator=(Mapped&& other) noexcept;
    Mapped(const Mapped&) = delete;
    Mapped& operator=(const Mapped&) = delete;
    ~Mapped();

    std::string_view bytes() const { return {at_, size_}; }

  private:
    Mapped(const char* at, std::size_t size) : at_(at), size_(size) {}
    const char* at_ = nullptr;
    std::size_t size_ = 0;
};

}  // namespace seatwright::scan
