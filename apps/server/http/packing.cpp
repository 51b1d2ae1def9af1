#include "server/http/packing.hpp"

#include <brotli/encode.h>
#include <zlib.h>

#include <algorithm>
#include <stdexcept>

namespace seatwright::server {

namespace {

std::string by_brotli(std::string_view bytes, int level) {
    std::string out(BrotliEncoderMaxCompressedSize(bytes.size()), '\0');
    std::size_t size = out.size();
    if (BrotliEncoderCompress(std::min(level, BROTLI_MAX_QUALITY), BROTLI_DEFAULT_WINDOW, BROTLI_MODE_TEXT,
                              bytes.size(), reinterpret_cast<const std::uint8_t*>(bytes.data()), &size,
                              reinterpret_cast<std::uint8_t*>(out.data())) != BROTLI_TRUE)
        throw std::runtime_error("an answer could not be packed");
    out.resize(size);
    return out;
}

std::string by_gzip(std::string_view bytes, int level) {
    constexpr int gzip_window = 15 + 16, memory = 8;  // 16: with the head and tail of RFC 1952
    z_stream stream{};
    if (deflateInit2(&stream, std::min(level, Z_BEST_COMPRESSION), Z_DEFLATED, gzip_window, memory,
                     Z_DEFAULT_STRATEGY) != Z_OK)
        throw std::runtime_error("an answer could not be packed");
    std::string out(deflateBound(&stream, bytes.size()), '\0');
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
    stream.avail_in = static_cast<uInt>(bytes.size());
    stream.next_out = reinterpret_cast<Bytef*>(out.data());
    stream.avail_out = static_cast<uInt>(out.size());
    const int done = deflate(&stream, Z_FINISH);
    out.resize(stream.total_out);
    deflateEnd(&stream);
    if (done != Z_STREAM_END) throw std::runtime_error("an answer could not be packed");
    return out;
}

// "gzip", "gzip;q=0.5"; not "gzip;q=0".
bool names_coding(std::string_view accepted, std::string_view coding) {
    for (std::size_t at = 0; at <= accepted.size();) {
        const auto end = std::min(accepted.find(',', at), accepted.size());
        std::string one;
        for (const char c : accepted.substr(at, end - at))
            if (c != ' ' && c != '\t') one += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        at = end + 1;
        const auto weight = one.find(";q=");
        if (one.substr(0, weight) != coding) continue;
        if (weight == std::string::npos || one.find_first_not_of("0.", weight + 3) != std::string::npos)
            return true;
    }
    return false;
}

}  // namespace

Packing packing_of(std::string_view accepted) {
    if (names_coding(accepted, "br")) return Packing::brotli;
    return names_coding(accepted, "gzip") ? Packing::gzip : Packing::none;
}

bool is_packed_media(std::string_view media) {
    return media.starts_with("text/") || media.starts_with("application/json") ||
           media.starts_with("image/svg");
}

const char* word_of(Packing packing) {
    return packing == Packing::brotli ? "br" : "gzip";
}

std::string packed(std::string_view bytes, Packing packing, int level) {
    if (packing == Packing::brotli) return by_brotli(bytes, level);
    return packing == Packing::gzip ? by_gzip(bytes, level) : std::string(bytes);
}

}  // namespace seatwright::server
