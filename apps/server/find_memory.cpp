#include "find_memory.hpp"

#include <sodium.h>

#include <array>
#include <string_view>

#include "seatwright/store/toml_lines.hpp"

namespace seatwright::server {

namespace {

// Tables find never looks at. A table written in another way (dotted, inline) counts as something it may
// read.
bool opens_unread(const store::TomlLine& header) {
    if (header.section == "seat" || header.section == "depth") return true;
    return header.text.starts_with("[[reading.seat]]") || header.text.starts_with("[[reading.proof]]");
}

void add(crypto_generichash_state& state, std::string_view text) {
    const unsigned long long size = text.size();
    crypto_generichash_update(&state, reinterpret_cast<const unsigned char*>(&size), sizeof size);
    crypto_generichash_update(&state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
}

}  // namespace

std::string find_key(const std::string& text, const std::string& shop_text, const std::string& first_head) {
    crypto_generichash_state state;
    crypto_generichash_init(&state, nullptr, 0, crypto_generichash_BYTES);
    add(state, shop_text);
    add(state, first_head);
    std::string read;
    bool unread = false;
    for (const auto& line : store::toml_lines(text)) {
        if (line.kind == store::LineKind::header) unread = opens_unread(line);
        if (!unread) read += line.text;
    }
    add(state, read);
    std::array<char, crypto_generichash_BYTES> key{};
    crypto_generichash_final(&state, reinterpret_cast<unsigned char*>(key.data()), key.size());
    return {key.data(), key.size()};
}

}  // namespace seatwright::server
