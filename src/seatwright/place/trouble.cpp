#include "seatwright/place/trouble.hpp"

#include <cerrno>
#include <cstring>

#include "seatwright/words/english_place.hpp"

namespace seatwright::place {

Sentence trouble_of(int fault) {
    switch (fault) {
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            return sentence<"full">();
        case EROFS:
            return sentence<"read-only">();
        case EACCES:
        case EPERM:
            return sentence<"not-allowed">();
        case ENOENT:
            return sentence<"not-there">();
        case ENOTDIR:
            return sentence<"no-folder">();
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
            return sentence<"went-away">();
        default:
            return sentence<"cannot-be-used">("fault"_is = std::strerror(fault));
    }
}

}  // namespace seatwright::place
