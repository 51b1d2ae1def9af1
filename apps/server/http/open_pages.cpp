#include "server/http/open_pages.hpp"

#include "server/http/http_error.hpp"

namespace seatwright::server {

OpenPages::OpenPages(const std::string& address, int port, Pages pages, std::string elsewhere)
    : pages_(std::move(pages)), elsewhere_(std::move(elsewhere)) {
    WebOptions web;
    web.address = address;
    web.port = port;
    web.headers = {{"Content-Security-Policy",
                    "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; "
                    "frame-ancestors 'none'"},
                   {"X-Content-Type-Options", "nosniff"},
                   {"Referrer-Policy", "no-referrer"},
                   {"Cache-Control", "no-store"}};
    web.asker = [](const Request& request) { return Asker{request.address, false}; };
    web.hear = [this](const Request& asked) {
        Heard heard;
        if (asked.method != "GET" && asked.method != "HEAD")
            refuse(heard.refused.emplace(), http_error(405, "this is only to be looked at"));
        heard.answer = [this](const Request& request) { return answer(request); };
        return heard;
    };
    web_ = std::make_unique<WebServer>(std::move(web));
}

Response OpenPages::answer(const Request& request) const {
    Response response;
    const auto page = pages_.find(request.path);
    if (page == pages_.end())
        refuse(response, http_error(404, elsewhere_));
    else
        response = page->second();
    return response;
}

}  // namespace seatwright::server
