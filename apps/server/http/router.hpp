// The table of routes, and the one way every request takes through it: access, body, handler, refusal.
#pragma once

#include "server/http/http.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "server/http/access.hpp"
#include "server/http/call.hpp"
#include "server/http/path_pattern.hpp"

namespace seatwright::server {

using Handler = std::function<void(Call&)>;

enum class Body {
    small,  // up to 1 MiB
    file    // a job file and its shop file, escaped as JSON
};

struct Route {
    std::string method;  // "GET"
    std::string path;    // "/api/jobs/{id}", as in docs/api/openapi.json
    std::optional<store::Role> needs;
    Handler handler;
    Body body = Body::small;
};

inline constexpr std::size_t most_small_body = 1u << 20;
// Two files of 16 MiB each would be refused by the reader one by one; escaping adds a little to each.
inline constexpr std::size_t most_file_body = 24u << 20;

class Router {
  public:
    explicit Router(const Access& access) : access_(access) {}

    void add(Route route) {
        patterns_.emplace_back(route.path);
        routes_.push_back(std::move(route));
    }
    const std::vector<Route>& routes() const { return routes_; }
    // Answers every request by its route, a GET without one by `pages`; the router must outlive the server.
    // Needs hide_path before each request. Call once.
    void install(httplib::Server& server, const httplib::Server::Handler& pages) const;

  private:
    struct Found {
        const Route& route;
        std::vector<std::string> parts;
    };
    std::optional<Found> find(const httplib::Request& request) const;
    void dispatch(Found found, const httplib::Request& request, httplib::Response& response,
                  const httplib::ContentReader* reader) const;
    const Access& access_;
    std::vector<Route> routes_;
    std::vector<PathPattern> patterns_;  // of the routes, in their order
};

// The library matches paths by regular expressions, which follow a long one letter by letter down the stack.
// So every request shows it the path "/" alone; the one asked for is kept where asked_path finds it.
void hide_path(const httplib::Request& request);
const std::string& asked_path(const httplib::Request& request);

// Writes a refusal as the answer.
void refuse(httplib::Response& response, const HttpError& error);

}  // namespace seatwright::server
