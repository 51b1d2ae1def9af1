#include "seatwright/base/fingerprint.hpp"

#include <sodium.h>

namespace seatwright {

Fingerprint FingerprintOf::end() const {
    Fingerprint out{};
    crypto_generichash(out.data(), out.size(), reinterpret_cast<const unsigned char*>(bytes_.data()),
                       bytes_.size(), nullptr, 0);
    return out;
}

}  // namespace seatwright
