// A route's path with its places, "/api/jobs/{id}/papers/{file}", matched segment by segment: paths come from
// outside, and a recursive matcher (regular expressions) could be led to the end of the stack by them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::server {

class PathPattern {
  public:
    explicit PathPattern(std::string_view path);

    // The texts of the places in their order; nothing if the path is another. {id}, {version} and {person}
    // are numbers of 1 to 18 digits, any other place is one segment of 1 to 120 letters, digits, '.', '_' and
    // '-', so nothing that could climb out of it.
    std::optional<std::vector<std::string>> match(std::string_view path) const;

  private:
    enum class Takes { itself, number, word };
    struct Segment {
        Takes takes = Takes::itself;
        std::string text;
    };
    static bool fits(const Segment& segment, std::string_view text);
    std::vector<Segment> segments_;
};

}  // namespace seatwright::server
