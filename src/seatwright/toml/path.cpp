#include "seatwright/toml/path.hpp"

#include <fmt/format.h>

#include <charconv>

namespace seatwright::toml {
namespace {

constexpr std::size_t max_parts = 12;

// "[12]" at `at`, which moves behind it.
std::optional<std::size_t> index_at(std::string_view text, std::size_t& at) {
    const auto close = text.find(']', at);
    if (close == std::string_view::npos) return std::nullopt;
    const char *first = text.data() + at + 1, *last = text.data() + close;
    std::size_t index = 0;
    const auto read = std::from_chars(first, last, index);
    if (read.ec != std::errc() || read.ptr != last) return std::nullopt;
    at = close + 1;
    return index;
}

}  // namespace

tl::expected<Path, std::string> parse_path(std::string_view text) {
    const auto wrong = [&] {
        return tl::unexpected(
            fmt::format("\"{}\" is not a path such as seat.intake.width or reading.touch[0].x", text));
    };
    Path out;
    std::size_t at = 0;
    while (at < text.size() && out.size() < max_parts) {
        if (text[at] == '[' && !out.empty()) {
            const auto index = index_at(text, at);
            if (!index) return wrong();
            out.push_back({"", index});
            continue;
        }
        if (text[at] == '.' && !out.empty()) ++at;
        const std::size_t begin = at;
        while (at < text.size() && is_key_letter(text[at])) ++at;
        if (at == begin) return wrong();
        out.push_back({std::string(text.substr(begin, at - begin)), std::nullopt});
        if (at < text.size() && text[at] != '.' && text[at] != '[') return wrong();
    }
    if (out.empty() || at < text.size() || text.back() == '.') return wrong();
    return out;
}

std::string to_text(const Path& path) {
    std::string out;
    for (const auto& part : path)
        out += part.index ? fmt::format("[{}]", *part.index) : (out.empty() ? "" : ".") + part.key;
    return out;
}

Value find(const Value& from, const Path& path) {
    Value at = from;
    for (const auto& part : path) at = part.index ? at.at(*part.index) : at.find(part.key);
    return at;
}

}  // namespace seatwright::toml
