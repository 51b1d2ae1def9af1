// The drawing built for one vector width alone, under a name of its own for its namespace:
// tests/CMakeLists.txt builds it, with the sources it draws by, once for each width.
#include "forecast/drawn_row.hpp"
#include "forecast/full_batch.hpp"

namespace seatwright::forecast {

std::vector<std::uint64_t> drawn(std::uint64_t heads, std::uint64_t seed) {
    return test::everything_of(draw({test::full_batch(), heads, seed, 1}));
}

}  // namespace seatwright::forecast
