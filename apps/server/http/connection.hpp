// Each connection is served here, plain or under TLS. A request's head is read and judged
// before the HTTP library sees it (head.hpp), the body is given to it up to the announced length, and both
// have their time. The library itself would wait and keep without bound.
#pragma once

#include "server/http/http.hpp"

#include <chrono>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>

#include "server/http/guests.hpp"
#include "server/http/request_head.hpp"
#include "server/http/transport.hpp"

namespace seatwright::server {

// The address or the certificate cannot be used; a sentence.
struct CannotServe : std::runtime_error {
    using std::runtime_error::runtime_error;
};

struct ConnectionTimes {
    using Span = std::chrono::milliseconds;
    Span idle = std::chrono::seconds(2);    // nobody asks over the connection
    Span head = std::chrono::seconds(10);   // the whole of it, from its first byte
    Span body = std::chrono::seconds(30);   // the whole of it
    Span write = std::chrono::seconds(10);  // a piece of an answer nobody takes
};

// What happens after a request.
enum class Next { go_on, close };

struct Visit {
    ConnectionTimes times;
    std::size_t most_requests = 1;  // over one connection
    std::function<bool()> open;     // false: the server stops, no further request is waited for
    std::function<Next(httplib::Stream&, bool last)> answer;
    std::function<bool(const RequestHead&)> welcome;  // false: no room for who asks this; none: room for all
    httplib::Headers headers;                         // of an answer made without the library
};

// Who may come in.
struct Doors {
    std::shared_ptr<Guests> guests = std::make_shared<Guests>();
    std::function<bool(const std::string& cookie)> knows;  // somebody logged in
    bool behind_proxy = false;                             // the forwarded address counts
    httplib::Headers headers;                              // every answer carries
};

// Serves one connection until it ends; the socket stays open.
void serve_connection(Transport& transport, const Visit& visit);

// The HTTP library's server, its connections served so; both files empty: plain HTTP. Each request's
// `progress` tells whether its asker is still there. Throws CannotServe.
std::unique_ptr<httplib::Server> make_server(const std::string& certificate, const std::string& key,
                                             Doors doors);

}  // namespace seatwright::server
