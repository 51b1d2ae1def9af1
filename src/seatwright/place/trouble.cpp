#include "seatwright/place/trouble.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>

namespace seatwright::place {

std::string trouble_words(int fault) {
    switch (fault) {
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            return "is full: make room there";
        case EROFS:
            return "is read-only: unlock the stick or the share";
        case EACCES:
        case EPERM:
            return "may not be written to by the workbench: give it the right to";
        case ENOENT:
            return "is not there: is the share mounted, the stick plugged in?";
        case ENOTDIR:
            return "is no folder";
        case ENODEV:
        case ENXIO:
        case EIO:
        case ESTALE:
        case ENOTCONN:
        case EHOSTDOWN:
        case EHOSTUNREACH:
        case ETIMEDOUT:
        case ECONNRESET:
        case EPIPE:
            return "went away: is the share mounted, the stick or cable plugged in?";
        default:
            return fmt::format("cannot be used: {}", std::strerror(fault));
    }
}

}  // namespace seatwright::place
