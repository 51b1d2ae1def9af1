#include "seatwright/store/toml_lines.hpp"

#include <algorithm>

namespace seatwright::store {

namespace {

enum class Inside { nothing, basic, literal, basic_block, literal_block };

// Walks one line and keeps what carries over to the next: an open block string or open brackets.
class Walker {
  public:
    bool open() const { return inside_ != Inside::nothing || depth_ > 0; }

    void walk(std::string_view line) {
        for (std::size_t i = 0; i < line.size();) {
            if (inside_ == Inside::nothing && line[i] == '#') break;
            i += inside_ == Inside::nothing ? outside(line.substr(i)) : within(line.substr(i));
        }
        // A one-line string cannot go on; the reader has refused such a text.
        if (inside_ == Inside::basic || inside_ == Inside::literal) inside_ = Inside::nothing;
    }

  private:
    std::size_t outside(std::string_view rest) {
        if (rest.starts_with("\"\"\"")) return inside_ = Inside::basic_block, 3;
        if (rest.starts_with("'''")) return inside_ = Inside::literal_block, 3;
        if (rest[0] == '"') inside_ = Inside::basic;
        if (rest[0] == '\'') inside_ = Inside::literal;
        if (rest[0] == '[' || rest[0] == '{') ++depth_;
        if (rest[0] == ']' || rest[0] == '}') depth_ = std::max(0, depth_ - 1);
        return 1;
    }

    std::size_t within(std::string_view rest) {
        const bool escapes = inside_ == Inside::basic || inside_ == Inside::basic_block;
        if (escapes && rest[0] == '\\') return std::min<std::size_t>(2, rest.size());
        const std::string_view end = inside_ == Inside::basic         ? "\""
                                     : inside_ == Inside::literal     ? "'"
                                     : inside_ == Inside::basic_block ? "\"\"\""
                                                                      : "'''";
        if (!rest.starts_with(end)) return 1;
        // A block may end in up to two quotes of its own before the three that close it.
        std::size_t length = end.size();
        while (end.size() == 3 && length < rest.size() && length < 5 && rest[length] == end[0]) ++length;
        inside_ = Inside::nothing;
        return length;
    }

    Inside inside_ = Inside::nothing;
    int depth_ = 0;
};

std::string_view left_trimmed(std::string_view text) {
    const auto start = text.find_first_not_of(" \t");
    return start == std::string_view::npos ? std::string_view{} : text.substr(start);
}

// First segment of a dotted key, quotes taken off.
std::string first_segment(std::string_view key) {
    key = left_trimmed(key);
    if (!key.empty() && (key[0] == '"' || key[0] == '\'')) {
        const auto end = key.find(key[0], 1);
        return std::string(key.substr(1, end == std::string_view::npos ? end : end - 1));
    }
    return std::string(key.substr(0, key.find_first_of(" \t.=]\r\n")));
}

}  // namespace

std::vector<TomlLine> toml_lines(std::string_view text) {
    std::vector<TomlLine> lines;
    Walker walker;
    std::string section;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find('\n', at), text.size() - 1) + 1;
        TomlLine line{text.substr(at, end - at), LineKind::other, false, section, {}};
        const std::string_view words = left_trimmed(line.text);
        if (walker.open()) {
            line.kind = LineKind::statement;
            line.continued = true;
            line.first_key = lines.back().first_key;
            walker.walk(line.text);
        } else if (words.starts_with('[')) {
            line.kind = LineKind::header;
            section = first_segment(words.substr(words.starts_with("[[") ? 2 : 1));
            line.section = section;
        } else if (!words.empty() && words[0] != '#' && words[0] != '\r' && words[0] != '\n') {
            line.kind = LineKind::statement;
            line.first_key = first_segment(words);
            walker.walk(line.text);
        }
        lines.push_back(std::move(line));
        at = end;
    }
    return lines;
}

}  // namespace seatwright::store
