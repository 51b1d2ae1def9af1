// The sockets: connections plain or under TLS, served by two threads that never wait for anything but bytes.
// A request's head is gathered and judged within its bounds (request_head.hpp), its body within the bound its
// route gives, both within their time; the answer is made on a pool of workers. An answer without an end
// (Live) holds no thread.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>

#include "server/http/guests.hpp"
#include "server/http/message.hpp"

namespace seatwright::server {

// The address or the certificate cannot be used; a sentence.
struct CannotServe : std::runtime_error {
    using std::runtime_error::runtime_error;
};

struct ConnectionTimes {
    using Span = std::chrono::milliseconds;
    Span idle = std::chrono::seconds(10);          // nobody asks over the connection
    Span idle_stranger = std::chrono::seconds(2);  // one that is not logged in: there are few places
    Span head = std::chrono::seconds(10);       // the whole of it, from its first byte; a TLS handshake, too
    Span body = std::chrono::seconds(30);       // the whole of it
    Span write = std::chrono::seconds(10);      // a piece of an answer nobody takes
    Span heartbeat = std::chrono::seconds(10);  // of an answer without an end
    Span gather = std::chrono::milliseconds(
        25);  // between two writes of such a one: what comes in a burst goes together
};

// What becomes of a request whose head has come.
struct Heard {
    std::optional<Response> refused;                 // its body, if it has one, is read away
    std::size_t most_body = 0;                       // bytes; a longer one is refused (413)
    std::function<Response(const Request&)> answer;  // called once, with the body
    std::string_view route;                          // "/api/jobs/{id}"; of a page "/"
    long long person = 0;                            // who is logged in, if anybody
};

struct Asker {
    std::string address;
    bool logged_in = false;
};

struct WebOptions {
    std::string address = "127.0.0.1";
    int port = 0;                  // 0 = any free one
    std::string certificate, key;  // PEM files; both empty = plain HTTP
    bool behind_proxy = false;     // whoever is connected counts for nothing, only who asks
    ConnectionTimes times;
    GuestLimits guests;
    Fields headers;                       // every answer carries, unless it has its own of that name
    std::function<void(int port)> bound;  // called before the first connection is taken; may be empty
    // Both are called on workers, by several at once; neither throws, nor does an answer.
    std::function<Asker(const Request&)> asker;
    std::function<Heard(const Request&)> hear;
};

// A body longer than this is not even read away.
inline constexpr std::size_t most_read_away = 48u << 20;  // bytes
// Bodies on their way in at once, all connections together; who comes beyond is asked to try again.
inline constexpr std::size_t most_bodies = 160u << 20;  // bytes

class WebServer {
  public:
    // Binds and begins to serve. Throws CannotServe.
    explicit WebServer(WebOptions options);
    ~WebServer();
    WebServer(const WebServer&) = delete;
    WebServer& operator=(const WebServer&) = delete;

    int port() const;
    // TLS connections from now on are greeted with these; those that stand go on. Throws CannotServe.
    void use_certificate(const std::string& certificate, const std::string& key);
    // Takes no more connections, lets requests under way be answered, ends the others, and waits for all.
    // Answers without an end must have been ended by who tells them.
    void stop();

  private:
    class Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace seatwright::server
