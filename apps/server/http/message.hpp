// A request as the routes see it, and the answer they make; nothing of sockets.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace seatwright::server {

// Names and values, in the order they came.
using Fields = std::vector<std::pair<std::string, std::string>>;

struct Request {
    std::string method;  // "GET"
    std::string path;    // decoded, without the query: "/api/jobs/1"
    Fields query;        // decoded
    Fields headers;
    std::string address;  // of who is connected; a proxy's own, where there is one (Access::address_of)
    std::string body;
    std::function<bool()> asker_there;  // from any thread: whether who asks is still connected; none: yes

    // The first of that name, whatever its capitals; empty if there is none.
    std::string_view header(std::string_view name) const;
    // The last of that name: of headers each proxy adds a line of.
    std::string_view last_header(std::string_view name) const;
    // A query parameter; empty if absent.
    std::string param(std::string_view name) const;
};

// Sets path and query from a request line's target, percent signs decoded (RFC 3986; '+' in a query is a
// blank). False when it does not begin with '/'.
bool take_target(Request& request, std::string_view target);

// An answer without an end, told piece by piece. Goes when its connection does.
class Live {
  public:
    virtual ~Live() = default;
    // `wake` is called, from any thread, when there is something to take. Called once, before take().
    virtual void listen(std::function<void()> wake) = 0;
    // What is to be told now; empty: nothing yet; nothing at all: it is over.
    virtual std::optional<std::string> take() = 0;
    // Asked every ten seconds, on a thread that may wait: a sign of life to be told; nothing: it is over.
    virtual std::optional<std::string> heartbeat() = 0;
};

struct Response {
    int status = 200;
    Fields headers;
    std::string media;
    std::string text;
    std::string_view fixed;      // in place of text: bytes that outlive the server
    std::shared_ptr<Live> live;  // in place of both
    bool last = false;           // the connection ends after it

    // In place of one of that name, if there is one.
    void set_header(std::string_view name, std::string_view value);
    void set_content(std::string text, std::string_view media);
    void set_fixed(std::string_view bytes, std::string_view media);
    std::string_view body() const { return fixed.empty() ? std::string_view(text) : fixed; }
};

}  // namespace seatwright::server
