#include "seatwright/scan/cloud.hpp"

#include <sys/mman.h>

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <new>

namespace seatwright::scan {

Point* Points::room_for(std::size_t size) {
    constexpr std::size_t large_page = 2U << 20;
    if (size > std::numeric_limits<std::size_t>::max() / 2 / sizeof(Point)) throw std::bad_alloc();
    const std::size_t bytes = size * sizeof(Point);
    const bool many = bytes >= large_page;
    void* at = many ? std::aligned_alloc(large_page, (bytes + large_page - 1) / large_page * large_page)
                    : std::malloc(std::max<std::size_t>(bytes, 1));
    if (at == nullptr) throw std::bad_alloc();
    if (many) ::madvise(at, bytes, MADV_HUGEPAGE);
    return static_cast<Point*>(at);
}

void Points::Free::operator()(Point* at) const {
    std::free(at);
}

}  // namespace seatwright::scan
