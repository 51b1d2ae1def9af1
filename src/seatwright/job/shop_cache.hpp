// Shop files as walked lately: a shop's hundred jobs name one shelf, which is walked once for all of them.
#pragma once

#include <memory>
#include <string>

#include "seatwright/job/walk.hpp"

namespace seatwright::job {

struct WalkedShop : Walked {
    std::string plain;  // as plainly.hpp says it
};

// walk_file of a shop file; the same text in the same file and unit gives the same result without work.
// Thread-safe. Keeps the last few.
std::shared_ptr<const WalkedShop> walked_shop(const std::string& text, const std::string& file,
                                              LengthUnit inherited);

}  // namespace seatwright::job
