#include "seatwright/plan/fingerprint_of.hpp"

#include <sodium.h>

namespace seatwright::plan {

Fingerprint FingerprintOf::end() const {
    Fingerprint out{};
    crypto_generichash(out.data(), out.size(), reinterpret_cast<const unsigned char*>(bytes_.data()),
                       bytes_.size(), nullptr, 0);
    return out;
}

}  // namespace seatwright::plan
