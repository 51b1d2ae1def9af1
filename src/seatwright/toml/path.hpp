// Where a value is, by names: "reading.touch[2].x".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/toml/document.hpp"

namespace seatwright::toml {

// A part of a path: a name, or an index from 0.
struct PathPart {
    std::string key{};
    std::optional<std::size_t> index{};
};
using Path = std::vector<PathPart>;

// A path of at most 12 parts as text, or a sentence. Names are of letters, figures, _ and -.
tl::expected<Path, std::string> parse_path(std::string_view text);
std::string to_text(const Path& path);

// The value there; absent if there is none.
Value find(const Value& from, const Path& path);

}  // namespace seatwright::toml
