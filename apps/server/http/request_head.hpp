// The head of a request, its first line and its header lines, gathered and judged before the HTTP library
// sees any of it: the library keeps a head of whatever length, looks for byte ranges with a recursive
// matcher, and takes a body whose end it cannot know. Grammar after RFC 9112; what is stricter here is said
// at `judged`.
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

struct RequestHead {
    std::string text;               // as the library is given it, empty line at its end included
    unsigned long long length = 0;  // bytes of body that follow
    std::string cookie;             // the headers of these names, empty if there are none
    std::string forwarded_for;
};

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

// A whole head as the library may see it, or why not. Refused beyond what the RFC refuses:
// - methods this workbench has no use for;
// - a body without a length (411 is the RFC's own answer): what the library reads of one has no bound;
// - a body with GET or HEAD: the library would take it for the next request;
// - packed bodies, and those in several parts, which the library takes apart with a recursive matcher.
// Taken out: Range and If-Range, which a server need not offer, and Accept-Encoding, which goes on under
// another name (packing.hpp).
tl::expected<RequestHead, HttpError> judged(std::string_view text);

}  // namespace seatwright::server
