// Bytes as a text a database keeps: packed (RFC 1950, zlib), then base64 (RFC 4648).
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace seatwright::store {

std::string deflated_text(std::string_view bytes);
// None: it is not of that form, or not of that many bytes.
std::optional<std::string> bytes_of_deflated(const std::string& text, std::size_t size);

}  // namespace seatwright::store
