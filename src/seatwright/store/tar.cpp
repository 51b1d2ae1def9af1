#include "seatwright/store/tar.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace seatwright::store {

namespace {

constexpr std::size_t block = 512, longest_name = 100;
// Where the fields of a header begin.
constexpr std::size_t mode_at = 100, owner_at = 108, group_at = 116, size_at = 124, time_at = 136,
                      sum_at = 148, kind_at = 156, magic_at = 257;

void put(std::string& header, std::size_t at, std::string_view text) {
    header.replace(at, text.size(), text);
}

// Eleven octal digits and an end.
std::string octal(long long number) {
    return fmt::format("{:011o}", number) + '\0';
}

}  // namespace

void Tar::add(const std::string& name, std::string_view bytes, long long at_ms) {
    if (name.empty() || name.size() > longest_name)
        throw std::runtime_error("a name in the file would be too long: " + name);
    std::string header(block, '\0');
    put(header, 0, name);
    put(header, mode_at, "0000600");
    put(header, owner_at, "0000000");
    put(header, group_at, "0000000");
    put(header, size_at, octal(static_cast<long long>(bytes.size())));
    put(header, time_at, octal(at_ms / 1000));
    put(header, sum_at, "        ");  // counted as blanks
    header[kind_at] = '0';
    put(header, magic_at, std::string_view("ustar\00000", 8));
    long long sum = 0;
    for (const char c : header) sum += static_cast<unsigned char>(c);
    put(header, sum_at, fmt::format("{:06o}", sum) + std::string("\0 ", 2));
    out_(header);
    out_(bytes);
    out_(std::string((block - bytes.size() % block) % block, '\0'));
}

void Tar::end() {
    out_(std::string(2 * block, '\0'));
}

}  // namespace seatwright::store
