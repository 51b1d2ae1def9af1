// A TOML text beside its parsed tree: where each value stands, byte by byte. For the editor.
#pragma once

#include <toml++/toml.h>
#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

namespace seatwright::job {

// A part of a path: a key, or an index from 0.
struct PathPart {
    std::string key;
    std::optional<std::size_t> index;
};
using Path = std::vector<PathPart>;

// "reading.touch[2].x" as parts, or a sentence.
tl::expected<Path, std::string> parse_path(std::string_view text);

struct Span {
    std::size_t begin = 0;
    std::size_t end = 0;
};

class TomlText {
  public:
    // Refuses, with a sentence, what the job reader's guard or the parser refuses.
    static tl::expected<TomlText, std::string> open(std::string_view text);

    const std::string& text() const { return text_; }
    const toml::table& root() const { return root_; }
    std::string_view newline() const;

    const toml::node* find(const Path& path) const;
    // Bytes of a value, or of a table's header.
    Span span_of(const toml::node& node) const;
    // Bytes from a key to the end of its value; none if the key's place is not known.
    std::optional<Span> key_span_of(const toml::table& in, const std::string& key) const;
    // Whether this table has a header of its own that says exactly this path.
    bool has_header(const toml::table& table, const Path& path) const;
    // A list written as [[…]] or a table not written in braces.
    static bool is_spread(const toml::node& node);
    // End of everything written of this node, its sub-tables too.
    std::size_t end_of(const toml::node& node) const;
    // First byte of the line, and the byte after its line end.
    std::size_t line_begin(std::size_t at) const;
    std::size_t line_end(std::size_t at) const;
    // Where a further key of the table whose header starts at `header` (none: of the file as a whole) goes.
    std::size_t after_keys(std::optional<std::size_t> header) const;

  private:
    std::size_t offset_of(const toml::source_position& at) const;
    void gather(const toml::table& table);

    std::string text_;
    std::vector<std::size_t> lines_;
    toml::table root_;
    std::vector<std::size_t> headers_;  // first bytes of all headers, ascending
    std::vector<Span> values_;          // of all keys
};

}  // namespace seatwright::job
