#include "server/http/router.hpp"

#include <fmt/format.h>
#include <soci/soci.h>
#include <spdlog/spdlog.h>

#include <utility>

#include "seatwright/store/chain.hpp"

namespace seatwright::server {

namespace {

// The one path the library is shown.
constexpr const char* shown_path = "/";

bool has_body(const httplib::Request& request) {
    return request.get_header_value<uint64_t>("Content-Length") > 0;
}

// Reads the body up to `most`. What is beyond is read away, so that the next request on the connection starts
// where it should, and given up when it does not end.
std::string read_body(const httplib::ContentReader& reader, std::size_t most) {
    std::string body;
    std::size_t seen = 0;
    reader([&](const char* data, std::size_t length) {
        seen += length;
        if (seen <= most) body.append(data, length);
        return seen <= 2 * most_file_body;
    });
    if (seen > most) throw http_error(413, fmt::format("too large: at most {} MiB", most >> 20));
    return body;
}

// What the database says of a failure is for the log; a person needs what to do about it.
HttpError error_of_database(const std::string& said) {
    const auto has = [&](const char* words) { return said.find(words) != std::string::npos; };
    if (has("disk is full") || has("disk I/O error"))
        return http_error(
            507, "the disk is full or failing: nothing was changed; make room on it, then send this again");
    if (has("readonly") || has("read-only"))
        return http_error(507,
                          "the data may not be written to: nothing was changed; make its folder writable");
    return http_error(
        500, "the data could not be read or written: nothing was changed; the server's log says why");
}

void read_away(const httplib::ContentReader& reader) {
    try {
        read_body(reader, 0);
    } catch (const HttpError&) {
        // It had a body; the refusal to tell is the one already under way.
    }
}

}  // namespace

void refuse(httplib::Response& response, const HttpError& error) {
    response.status = error.status;
    response.set_content(error.body.dump(), "application/json");
}

void hide_path(const httplib::Request& request) {
    // The request is ours to change, only the handler's view of it is const; nothing reads its target.
    auto& ours = const_cast<httplib::Request&>(request);
    ours.target = std::exchange(ours.path, shown_path);
}

const std::string& asked_path(const httplib::Request& request) {
    return request.target;
}

std::optional<Router::Found> Router::find(const httplib::Request& request) const {
    // A HEAD is answered as its GET, without the body.
    const std::string method = request.method == "HEAD" ? "GET" : request.method;
    for (std::size_t i = 0; i < routes_.size(); ++i) {
        if (routes_[i].method != method) continue;
        if (auto parts = patterns_[i].match(asked_path(request))) return Found{routes_[i], std::move(*parts)};
    }
    return std::nullopt;
}

void Router::dispatch(Found found, const httplib::Request& request, httplib::Response& response,
                      const httplib::ContentReader* reader) const {
    const Route& route = found.route;
    const httplib::ContentReader* unread = reader != nullptr && has_body(request) ? reader : nullptr;
    try {
        Call call(request, response, std::move(found.parts));
        call.login = access_.login_of(request);
        access_.check(request, call.login, route.needs);
        if (unread != nullptr) {
            unread = nullptr;
            call.body = read_body(*reader, route.body == Body::file ? most_file_body : most_small_body);
        }
        route.handler(call);
    } catch (const HttpError& stopped) {
        if (unread != nullptr) read_away(*unread);
        refuse(response, stopped);
    } catch (const store::Damaged& damaged) {
        spdlog::error("{} {}: {}", route.method, route.path, damaged.what());
        refuse(response, http_error(503, damaged.what()));
    } catch (const soci::soci_error& fault) {
        spdlog::error("{} {}: database: {}", route.method, route.path, fault.what());
        refuse(response, error_of_database(fault.get_error_message()));
    } catch (const std::exception& fault) {
        spdlog::error("{} {}: {}", route.method, route.path, fault.what());
        refuse(response, http_error(500, "an error of the program itself; what was stored before is safe"));
    }
}

void Router::install(httplib::Server& server, const httplib::Server::Handler& pages) const {
    server.Get(shown_path, [this, pages](const httplib::Request& q, httplib::Response& r) {
        if (auto route = find(q)) return dispatch(std::move(*route), q, r, nullptr);
        pages(q, r);
    });
    const auto reading = [this](const httplib::Request& q, httplib::Response& r,
                                const httplib::ContentReader& reader) {
        if (auto route = find(q)) return dispatch(std::move(*route), q, r, &reader);
        if (has_body(q)) read_away(reader);
        refuse(r, http_error(404, "there is nothing of that name"));
    };
    server.Post(shown_path, reading);
    server.Put(shown_path, reading);
    server.Patch(shown_path, reading);
    server.Delete(shown_path, reading);
}

}  // namespace seatwright::server
