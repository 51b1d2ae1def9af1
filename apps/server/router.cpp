#include "router.hpp"

#include <fmt/format.h>
#include <soci/soci.h>
#include <spdlog/spdlog.h>

#include <regex>

namespace seatwright::server {

namespace {

// "/api/jobs/{id}" as the pattern the HTTP library matches whole paths with: numbers where a part is a
// number, else one path segment without anything that could climb out of it.
std::string pattern_of(const std::string& path) {
    static const std::regex numbers(R"(\{(id|version|person)\})"), words(R"(\{[a-z]+\})");
    const std::string escaped = std::regex_replace(path, std::regex(R"(\.)"), R"(\.)");
    return std::regex_replace(std::regex_replace(escaped, numbers, "([0-9]{1,18})"), words,
                              "([A-Za-z0-9._-]{1,120})");
}

bool has_body(const httplib::Request& request) {
    return request.get_header_value<uint64_t>("Content-Length") > 0 ||
           request.has_header("Transfer-Encoding");
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
    if (seen > most) throw halt(413, fmt::format("too large: at most {} MiB", most >> 20));
    return body;
}

// What the database says of a failure is for the log; a person needs what to do about it.
Halt halt_of_database(const std::string& said) {
    const auto has = [&](const char* words) { return said.find(words) != std::string::npos; };
    if (has("disk is full") || has("disk I/O error"))
        return halt(
            507, "the disk is full or failing: nothing was changed; make room on it, then send this again");
    if (has("readonly") || has("read-only"))
        return halt(507, "the data may not be written to: nothing was changed; make its folder writable");
    return halt(500, "the data could not be read or written: nothing was changed; the server's log says why");
}

void read_away(const httplib::ContentReader& reader) {
    try {
        read_body(reader, 0);
    } catch (const Halt&) {
        // It had a body; the refusal to tell is the one already under way.
    }
}

}  // namespace

void refuse(httplib::Response& response, const Halt& halt) {
    response.status = halt.status;
    response.set_content(halt.body.dump(), "application/json");
}

void Router::dispatch(const Route& route, const httplib::Request& request, httplib::Response& response,
                      const httplib::ContentReader* reader) const {
    const httplib::ContentReader* unread = reader != nullptr && has_body(request) ? reader : nullptr;
    try {
        Call call(request, response);
        call.login = gate_.login_of(request);
        gate_.check(request, call.login, route.needs);
        if (unread != nullptr) {
            unread = nullptr;
            call.body = read_body(*reader, route.body == Body::file ? most_file_body : most_small_body);
        }
        route.handler(call);
    } catch (const Halt& stopped) {
        if (unread != nullptr) read_away(*unread);
        refuse(response, stopped);
    } catch (const soci::soci_error& fault) {
        spdlog::error("{} {}: database: {}", route.method, route.path, fault.what());
        refuse(response, halt_of_database(fault.get_error_message()));
    } catch (const std::exception& fault) {
        spdlog::error("{} {}: {}", route.method, route.path, fault.what());
        refuse(response, halt(500, "an error of the program itself; what was stored before is safe"));
    }
}

void Router::install(httplib::Server& server) const {
    for (const auto& route : routes_) {
        const std::string pattern = pattern_of(route.path);
        const auto plain = [this, &route](const httplib::Request& q, httplib::Response& r) {
            dispatch(route, q, r, nullptr);
        };
        const auto reading = [this, &route](const httplib::Request& q, httplib::Response& r,
                                            const httplib::ContentReader& reader) {
            dispatch(route, q, r, &reader);
        };
        if (route.method == "GET") server.Get(pattern, plain);
        if (route.method == "POST") server.Post(pattern, reading);
        if (route.method == "PUT") server.Put(pattern, reading);
        if (route.method == "PATCH") server.Patch(pattern, reading);
        if (route.method == "DELETE") server.Delete(pattern, reading);
    }
    // Whatever fits no route: an answer without waiting for a body that may never come.
    const auto nothing = [](const httplib::Request& q, httplib::Response& r,
                            const httplib::ContentReader& reader) {
        if (has_body(q)) read_away(reader);
        refuse(r, halt(404, "there is nothing of that name"));
    };
    server.Post(".*", nothing);
    server.Put(".*", nothing);
    server.Patch(".*", nothing);
    server.Delete(".*", nothing);
}

}  // namespace seatwright::server
