#include "stage_memory.hpp"

#include <sodium.h>

#include <array>
#include <string_view>

#include "seatwright/store/toml_lines.hpp"

namespace seatwright::server {

namespace {

// A table written in another way (dotted, inline) counts as something every stage may read.
bool is_beside_find(const store::TomlLine& header) {
    return header.section == "seat" || header.section == "depth" ||
           header.text.starts_with("[[reading.seat]]") || header.text.starts_with("[[reading.proof]]");
}

// A digest of texts one after the other, each with its length.
class Digest {
  public:
    Digest() { crypto_generichash_init(&state_, nullptr, 0, crypto_generichash_BYTES); }
    void add(std::string_view text) {
        const unsigned long long size = text.size();
        take(&size, sizeof size);
        take(text.data(), text.size());
    }
    std::string end() {
        std::array<char, crypto_generichash_BYTES> key{};
        crypto_generichash_final(&state_, reinterpret_cast<unsigned char*>(key.data()), key.size());
        return {key.data(), key.size()};
    }

  private:
    void take(const void* bytes, std::size_t size) {
        crypto_generichash_update(&state_, static_cast<const unsigned char*>(bytes), size);
    }
    crypto_generichash_state state_{};
};

}  // namespace

StageKeys stage_keys(const std::string& text, const std::string& shop_text, const job::Job& job) {
    std::string for_find;
    bool find_reads = true;
    for (const auto& line : store::toml_lines(text)) {
        if (line.kind == store::LineKind::header) find_reads = !is_beside_find(line);
        if (find_reads) for_find += line.text;
    }
    const auto key = [&](const std::string& read, const std::vector<std::string>& heads) {
        Digest digest;
        digest.add(read);
        digest.add(shop_text);
        for (const auto& assumed : job.assumptions) digest.add(assumed);
        for (const auto& head : heads) digest.add(head);
        return digest.end();
    };
    const auto heads = job.heads();
    return {key(for_find, {heads.front()}), key(text, heads)};
}

}  // namespace seatwright::server
