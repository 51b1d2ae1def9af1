// The table of routes, and the one way every request takes through it: access, body, handler, refusal.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "server/http/access.hpp"
#include "server/http/call.hpp"
#include "server/http/path_pattern.hpp"
#include "server/http/web_server.hpp"

namespace seatwright::server {

using Handler = std::function<void(Call&)>;

enum class Body {
    small,  // up to 1 MiB
    file,   // a job file and its shop file, escaped as JSON
    bytes   // a piece of a file, as it is
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
    // What becomes of a request: its route and who may ask it are known from its head, a GET without a route
    // is a page's. The router must outlive what it gives.
    Heard hear(const Request& request) const;

  private:
    struct Found {
        const Route& route;
        std::vector<std::string> parts;
    };
    std::optional<Found> find(const Request& request) const;
    const Access& access_;
    std::vector<Route> routes_;
    std::vector<PathPattern> patterns_;  // of the routes, in their order
};

}  // namespace seatwright::server
