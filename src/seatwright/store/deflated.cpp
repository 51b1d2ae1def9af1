#include "seatwright/store/deflated.hpp"

#include <zlib.h>

#include <stdexcept>

#include "seatwright/store/photographs.hpp"

namespace seatwright::store {

std::string deflated_text(std::string_view bytes) {
    uLongf size = ::compressBound(bytes.size());
    std::string packed(size, '\0');
    if (::compress2(reinterpret_cast<Bytef*>(packed.data()), &size,
                    reinterpret_cast<const Bytef*>(bytes.data()), bytes.size(),
                    Z_DEFAULT_COMPRESSION) != Z_OK)
        throw std::runtime_error("there is no memory to keep a paper");
    packed.resize(size);
    return base64_of(packed);
}

std::optional<std::string> bytes_of_deflated(const std::string& text, std::size_t size) {
    const auto packed = bytes_of_base64(text);
    if (!packed) return std::nullopt;
    std::string bytes(size, '\0');
    uLongf got = size;
    if (::uncompress(reinterpret_cast<Bytef*>(bytes.data()), &got,
                     reinterpret_cast<const Bytef*>(packed->data()), packed->size()) != Z_OK ||
        got != size)
        return std::nullopt;
    return bytes;
}

}  // namespace seatwright::store
