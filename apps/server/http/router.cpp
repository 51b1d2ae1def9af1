#include "server/http/router.hpp"

#include <fmt/format.h>
#include <soci/soci.h>
#include <spdlog/spdlog.h>

#include <utility>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/fault_words.hpp"
#include "server/http/pages.hpp"

namespace seatwright::server {

namespace {

// What the database says of a failure is for the log; a person needs what to do about it.
HttpError error_of_database(const std::string& said) {
    const auto has = [&](const char* words) { return said.find(words) != std::string::npos; };
    // A database server that went away, is not up yet or is held up: what a commit came to may not be known.
    for (const char* words :
         {"server closed the connection", "no connection to the server", "terminating connection",
          "Cannot establish connection", "connection to server", "is starting up", "is shutting down",
          "not yet accepting", "recovery mode", "lock timeout", "not connected"})
        if (has(words))
            return http_error(
                503,
                "the database server does not answer now: send this again in a moment; an entry "
                "is not kept twice under its key");
    if (has("disk is full") || has("disk I/O error") || has("No space left on device"))
        return http_error(
            507, "the disk is full or failing: nothing was changed; make room on it, then send this again");
    if (has("readonly") || has("read-only"))
        return http_error(507,
                          "the data may not be written to: nothing was changed; make its folder writable");
    return http_error(
        500, "the data could not be read or written: nothing was changed; the server's log says why");
}

// Does `work`; what stops it becomes the answer's refusal.
template <class Work>
void answer_within(const Route& route, Response& response, Work&& work) {
    try {
        work();
    } catch (const HttpError& stopped) {
        refuse(response, stopped);
    } catch (const store::Damaged& damaged) {
        spdlog::error(fmt::format("{} {}: {}", route.method, route.path, damaged.what()));
        refuse(response, http_error(503, damaged.what()));
    } catch (const soci::soci_error& fault) {
        spdlog::error(fmt::format("{} {}: database: {}", route.method, route.path, store::words_of(fault)));
        refuse(response, error_of_database(fault.get_error_message()));
    } catch (const std::exception& fault) {
        spdlog::error(fmt::format("{} {}: {}", route.method, route.path, store::words_of(fault)));
        refuse(response, http_error(500, "an error of the program itself; what was stored before is safe"));
    }
}

Heard of_page(const Request& asked) {
    Heard heard;
    heard.route = "/";
    if (asked.method != "GET" && asked.method != "HEAD") {
        refuse(heard.refused.emplace(), http_error(404, "there is nothing of that name"));
        return heard;
    }
    heard.answer = [](const Request& request) {
        Response response;
        answer_page(request, response);
        return response;
    };
    return heard;
}

}  // namespace

std::optional<Router::Found> Router::find(const Request& request) const {
    // A HEAD is answered as its GET, without the body.
    const std::string method = request.method == "HEAD" ? "GET" : request.method;
    for (std::size_t i = 0; i < routes_.size(); ++i) {
        if (routes_[i].method != method) continue;
        if (auto parts = patterns_[i].match(request.path)) return Found{routes_[i], std::move(*parts)};
    }
    return std::nullopt;
}

Heard Router::hear(const Request& asked) const {
    auto found = find(asked);
    if (!found) return of_page(asked);
    const Route& route = found->route;
    Heard heard;
    heard.route = route.path;
    std::optional<store::Login> login;
    Response refusal;
    answer_within(route, refusal, [&] {
        login = access_.login_of(asked);
        access_.check(asked, login, route.needs, route.body == Body::bytes);
    });
    if (refusal.status >= 400) {
        heard.refused = std::move(refusal);
        return heard;
    }
    if (login) heard.person = login->person.id;
    heard.most_body = route.body == Body::small ? most_small_body : most_file_body;
    heard.answer = [&route, login = std::move(login),
                    parts = std::move(found->parts)](const Request& request) {
        Response response;
        answer_within(route, response, [&] {
            Call call(request, response, parts);
            call.login = login;
            route.handler(call);
        });
        return response;
    };
    return heard;
}

}  // namespace seatwright::server
