// Answers packed on their way: over a slow network most of a page's wait is bytes, and JSON, SVG and scripts
// come to a fifth of theirs. Brotli where the browser takes it (over TLS and on this machine), else gzip.
#pragma once

#include <string>
#include <string_view>

namespace seatwright::server {

enum class Packing { none, gzip, brotli };

// Shorter answers fit into one packet as they are. The session's token is in none that is packed.
inline constexpr std::size_t least_packed = 1024;  // bytes

// The better one of those an Accept-Encoding names (RFC 9110, 12.5.3), weights of 0 left out.
Packing packing_of(std::string_view accepted);

// Of text; pictures and papers are packed already.
bool is_packed_media(std::string_view media);

// "gzip", "br".
const char* word_of(Packing packing);

// `level`: of Brotli 0 to 11, of gzip 1 to 9 (more means 9).
std::string packed(std::string_view bytes, Packing packing, int level);

}  // namespace seatwright::server
