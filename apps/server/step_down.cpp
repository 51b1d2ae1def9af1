#include "server/step_down.hpp"

#include <fmt/format.h>
#include <grp.h>
#include <pwd.h>
#include <sys/prctl.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

namespace seatwright::server {

namespace {

struct Ids {
    uid_t user = 0;
    gid_t group = 0;
};

Ids ids_of(const std::string& user) {
    passwd entry{}, *found = nullptr;
    std::array<char, 4096> room{};
    ::getpwnam_r(user.c_str(), &entry, room.data(), room.size(), &found);
    if (found == nullptr) throw CannotStepDown(fmt::format("--as {}: there is no such user", user));
    return {found->pw_uid, found->pw_gid};
}

void give(const std::string& file, const Ids& to) {
    // A link is not followed: what it leads to is not ours to give away.
    if (::lchown(file.c_str(), to.user, to.group) != 0 && errno != ENOENT)
        throw CannotStepDown(fmt::format("{}: cannot be given away: {}", file, std::strerror(errno)));
}

}  // namespace

void step_down(const std::string& user, const std::string& folder, const std::vector<std::string>& own) {
    if (::geteuid() != 0)
        throw CannotStepDown("--as: only root serves as somebody else; leave it out, or log in as that user");
    const Ids ids = ids_of(user);
    if (ids.user == 0) return;  // as root, if that is what is asked for
    for (const auto& file : own) give(file, ids);
    const bool done = ::initgroups(user.c_str(), ids.group) == 0 && ::setgid(ids.group) == 0 &&
                      ::setuid(ids.user) == 0 && ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0;
    if (!done || ::setuid(0) == 0)
        throw CannotStepDown(fmt::format("--as {}: the system does not let go of root's rights", user));
    if (!folder.empty() && ::access(folder.c_str(), R_OK | W_OK | X_OK) != 0)
        throw CannotStepDown(
            fmt::format("{}: {} cannot reach this folder; choose another with --data, or let {} "
                        "through the folders above it",
                        folder, user, user));
}

}  // namespace seatwright::server
