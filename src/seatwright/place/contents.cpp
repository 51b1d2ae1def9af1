#include "seatwright/place/contents.hpp"

#include <algorithm>
#include <array>
#include <cerrno>

#include "seatwright/base/sha256.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/place/open_file.hpp"

namespace seatwright::place {

namespace {

constexpr off_t largest = 16 << 20;  // bytes; the contract's guard on files
constexpr std::size_t piece = 1 << 16;

std::optional<std::string> read_all(Calls& calls, int file, off_t size) {
    std::string bytes;
    std::array<char, piece> buffer{};
    while (static_cast<off_t>(bytes.size()) <= size) {
        const ssize_t got = calls.read(file, buffer.data(), buffer.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return std::nullopt;
        if (got == 0) break;
        bytes.append(buffer.data(), static_cast<std::size_t>(got));
    }
    return bytes;
}

}  // namespace

std::optional<There> contents(Calls& calls, int folder, const std::string& name) {
    const auto seen = calls.look(folder, name);
    if (!seen) return std::nullopt;
    There there{name, *seen, std::nullopt, ""};
    if (!seen->regular || seen->size > largest) return there;
    const OpenFile file(calls, calls.open_old(folder, name));
    if (!file.open()) return std::nullopt;
    const auto opened = calls.look(file.handle());
    if (!opened) return std::nullopt;
    there.identity = *opened;
    if (!opened->regular || opened->size > largest) return there;
    calls.forget(file.handle());
    there.bytes = read_all(calls, file.handle(), opened->size);
    if (!there.bytes) return std::nullopt;
    there.sha256 = sha256(*there.bytes);
    return there;
}

std::vector<std::string> alike(const std::vector<std::string>& names, const std::string& name) {
    std::vector<std::string> found;
    const std::string wanted = job::without_case(name);
    std::copy_if(names.begin(), names.end(), std::back_inserter(found),
                 [&](const auto& one) { return job::without_case(one) == wanted; });
    return found;
}

}  // namespace seatwright::place
