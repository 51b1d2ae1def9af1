// The head of a request, its first line and its header lines, gathered within bounds and judged before
// anything is made of it: nothing longer is ever kept, and no body is read whose end is not known. Grammar
// after RFC 9112; what is stricter here is said at `judged`.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "server/http/http_error.hpp"

namespace seatwright::server {

// Bytes with their line end; a line as long as this is still taken.
inline constexpr std::size_t longest_line = 8u << 10;
inline constexpr std::size_t most_headers = 64;
inline constexpr std::size_t longest_head = 32u << 10;

// Collects bytes until the head is whole or refused. Never holds more than `longest_head` of them.
class RequestHeadReader {
  public:
    // Takes bytes up to the end of the head; says how many of them it took. What is left belongs to the body.
    std::size_t take(std::string_view bytes);

    bool begun() const { return !text_.empty(); }
    bool whole() const { return whole_; }
    const std::optional<HttpError>& refused() const { return refused_; }
    const std::string& text() const { return text_; }

  private:
    void end_line();
    std::string text_;
    std::size_t line_ = 0;   // where the present line starts
    std::size_t lines_ = 0;  // lines ended
    bool whole_ = false;
    std::optional<HttpError> refused_;
};

// Of a whole head: how many bytes of body follow it, or why it is refused. Beyond what the RFC refuses:
// - methods this workbench has no use for;
// - a body without a length (411 is the RFC's own answer);
// - a body with GET or HEAD;
// - packed bodies, and those in several parts.
// Byte ranges are not offered: Range and If-Range are let through and mean nothing.
tl::expected<unsigned long long, HttpError> judged(std::string_view text);

}  // namespace seatwright::server
