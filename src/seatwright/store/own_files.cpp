#include "seatwright/store/own_files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <filesystem>

#include "seatwright/store/last_digests.hpp"

namespace seatwright::store {

namespace {

constexpr mode_t owner_only = 0600;
// What SQLite keeps beside a file (sqlite.org/tempfiles.html).
constexpr std::array companions{"-wal", "-shm", "-journal"};

}  // namespace

void keep_to_owner(const std::string& file) {
    const int made = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, owner_only);
    if (made >= 0) ::close(made);
    static_cast<void>(::chmod(file.c_str(), owner_only));
    for (const std::string end : companions) static_cast<void>(::chmod((file + end).c_str(), owner_only));
}

std::string left_beside(const std::string& file) {
    if (std::filesystem::exists(file)) return {};
    for (const std::string end : companions)
        if (std::filesystem::exists(file + end)) return file + end;
    // What it knows of the other data's last entries would count against the restored ones.
    if (std::filesystem::exists(LastDigests::file_beside(file))) return LastDigests::file_beside(file);
    return {};
}

}  // namespace seatwright::store
