#include "seatwright/job/toml_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>

#include "seatwright/job/guard.hpp"

namespace seatwright::job {
namespace {

constexpr std::size_t max_parts = 12;

bool is_bare_letter(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-';
}

std::string dotted_path(const Path& path) {
    std::string out;
    for (const auto& part : path)
        if (!part.index) out += (out.empty() ? "" : ".") + part.key;
    return out;
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
            const auto close = text.find(']', at);
            std::size_t index = 0;
            const char* first = text.data() + at + 1;
            if (close == std::string_view::npos) return wrong();
            const char* last = text.data() + close;
            const auto read = std::from_chars(first, last, index);
            if (read.ec != std::errc() || read.ptr != last) return wrong();
            out.push_back({"", index});
            at = close + 1;
            continue;
        }
        if (text[at] == '.' && !out.empty()) ++at;
        const std::size_t begin = at;
        while (at < text.size() && is_bare_letter(text[at])) ++at;
        if (at == begin) return wrong();
        out.push_back({std::string(text.substr(begin, at - begin)), std::nullopt});
        if (at < text.size() && text[at] != '.' && text[at] != '[') return wrong();
    }
    if (out.empty() || at < text.size() || text.back() == '.') return wrong();
    return out;
}

tl::expected<TomlText, std::string> TomlText::open(std::string_view text) {
    const auto faults = guard_text(text, "");
    if (!faults.empty()) return tl::unexpected(fmt::format("line {}: {}", faults[0].line, faults[0].text));
    TomlText out;
    out.text_ = text;
    out.lines_.push_back(0);
    for (std::size_t i = 0; i < text.size(); ++i)
        if (text[i] == '\n') out.lines_.push_back(i + 1);
    try {
        out.root_ = toml::parse(out.text_);
    } catch (const toml::parse_error& error) {
        return tl::unexpected(
            fmt::format("line {}: is not TOML: {}", error.source().begin.line, error.description()));
    }
    out.gather(out.root_);
    std::sort(out.headers_.begin(), out.headers_.end());
    out.headers_.erase(std::unique(out.headers_.begin(), out.headers_.end()), out.headers_.end());
    return out;
}

std::string_view TomlText::newline() const {
    return text_.find("\r\n") != std::string::npos ? "\r\n" : "\n";
}

std::size_t TomlText::offset_of(const toml::source_position& at) const {
    if (at.line == 0 || at.line > lines_.size()) return text_.size();
    std::size_t offset = lines_[at.line - 1];
    if (at.line == 1 && text_.starts_with("\xEF\xBB\xBF")) offset += 3;
    // Columns count characters, the text bytes.
    for (auto column = at.column; column > 1 && offset < text_.size(); --column) {
        ++offset;
        while (offset < text_.size() && (static_cast<unsigned char>(text_[offset]) & 0xC0u) == 0x80u)
            ++offset;
    }
    return std::min(offset, text_.size());
}

Span TomlText::span_of(const toml::node& node) const {
    return {offset_of(node.source().begin), offset_of(node.source().end)};
}

bool TomlText::is_spread(const toml::node& node) {
    if (const auto* table = node.as_table()) return !table->is_inline();
    const auto* array = node.as_array();
    return array && !array->empty() && array->front().is_table() && !array->front().as_table()->is_inline();
}

void TomlText::gather(const toml::table& table) {
    for (const auto& [key, value] : table) {
        if (!is_spread(value)) {
            values_.push_back(span_of(value));
            continue;
        }
        const auto one = [&](const toml::table& inner) {
            const std::size_t at = span_of(inner).begin;
            if (at < text_.size() && text_[at] == '[') headers_.push_back(at);
            gather(inner);
        };
        if (const auto* inner = value.as_table()) one(*inner);
        if (const auto* array = value.as_array())
            for (const auto& item : *array) one(*item.as_table());
    }
}

const toml::node* TomlText::find(const Path& path) const {
    const toml::node* at = &root_;
    for (const auto& part : path) {
        if (part.index) {
            const auto* array = at->as_array();
            at = array && *part.index < array->size() ? array->get(*part.index) : nullptr;
        } else {
            const auto* table = at->as_table();
            at = table ? table->get(part.key) : nullptr;
        }
        if (!at) return nullptr;
    }
    return at;
}

std::optional<Span> TomlText::key_span_of(const toml::table& in, const std::string& key) const {
    for (const auto& [k, value] : in)
        if (k.str() == key && k.source().begin.line > 0)
            return Span{offset_of(k.source().begin), span_of(value).end};
    return std::nullopt;
}

bool TomlText::has_header(const toml::table& table, const Path& path) const {
    std::size_t at = span_of(table).begin;
    if (table.is_inline() || at >= text_.size() || text_[at] != '[') return false;
    std::string written;
    for (; at < text_.size() && text_[at] != '\n'; ++at) {
        if (text_[at] == ']') break;
        if (is_bare_letter(text_[at]) || text_[at] == '.') written += text_[at];
    }
    return written == dotted_path(path);
}

std::size_t TomlText::end_of(const toml::node& node) const {
    std::size_t end = span_of(node).end;
    if (!is_spread(node)) return end;
    if (const auto* table = node.as_table())
        for (const auto& [key, value] : *table) end = std::max(end, end_of(value));
    if (const auto* array = node.as_array())
        for (const auto& item : *array) end = std::max(end, end_of(item));
    return end;
}

std::size_t TomlText::line_begin(std::size_t at) const {
    return *std::prev(std::upper_bound(lines_.begin(), lines_.end(), at));
}

std::size_t TomlText::line_end(std::size_t at) const {
    const auto next = std::upper_bound(lines_.begin(), lines_.end(), at);
    return next == lines_.end() ? text_.size() : *next;
}

std::size_t TomlText::after_keys(std::optional<std::size_t> header) const {
    const std::size_t begin = header.value_or(0);
    const auto next = header ? std::upper_bound(headers_.begin(), headers_.end(), begin) : headers_.begin();
    const std::size_t end = next == headers_.end() ? text_.size() : *next;
    std::optional<std::size_t> last;
    for (const auto& value : values_)
        if (value.begin >= begin && value.begin < end) last = std::max(last.value_or(0), value.end);
    if (last) return line_end(*last > 0 ? *last - 1 : 0);
    if (header) return line_end(begin);
    return next == headers_.end() ? text_.size() : line_begin(end);
}

}  // namespace seatwright::job
