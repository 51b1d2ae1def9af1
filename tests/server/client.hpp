// A browser's side of the workbench, for tests: a server of its own on loopback and logged-in clients.
#pragma once

// The client library's <resolv.h> defines a macro `_res` that breaks Eigen's headers when they come after it.
#include <Eigen/Core>

#include <httplib.h>

#include "../store/cluster.hpp"
#include "seatwright/store/passwords.hpp"
#include "server/http_server.hpp"
#include "server/intake/examples.hpp"

namespace seatwright::server {

inline const std::string good_password = "a few plain words";

struct Answered {
    int status = 0;
    std::string text;
    httplib::Headers headers;
    Json json() const { return Json::parse(text, nullptr, false); }
    std::string error() const { return json().value("error", std::string()); }
};

// One person's browser: cookie and token as the server gave them.
class Client {
  public:
    explicit Client(int port) : http_("127.0.0.1", port), port_(port), cookie_name_(cookie_name(port)) {
        http_.set_keep_alive(true);
        http_.set_tcp_nodelay(true);
        http_.set_read_timeout(30);
    }

    Answered send(const std::string& method, const std::string& path, const std::string& body = "",
                  httplib::Headers headers = {}) {
        httplib::Request request;
        request.method = method;
        request.path = path;
        request.headers = std::move(headers);
        std::string cookies = cookie.empty() ? "" : cookie_name_ + "=" + cookie;
        if (!screen.empty()) cookies += (cookies.empty() ? "" : "; ") + cookie_name_ + "_screen=" + screen;
        if (!cookies.empty()) request.headers.emplace("Cookie", cookies);
        if (!csrf.empty() && request.headers.count("X-CSRF-Token") == 0)
            request.headers.emplace("X-CSRF-Token", csrf);
        if (!body.empty()) {
            request.body = body;
            if (request.headers.count("Content-Type") == 0)
                request.headers.emplace("Content-Type", "application/json");
        }
        const auto result = http_.send(request);
        if (!result) return {};
        return {result->status, result->body, result->headers};
    }
    Answered get(const std::string& path) { return send("GET", path); }
    Answered post(const std::string& path, const Json& body) { return send("POST", path, body.dump()); }

    // Takes the session an answer gave.
    void take_session(const Answered& answer) {
        const auto set = answer.headers.find("Set-Cookie");
        if (set == answer.headers.end()) return;
        const auto start = set->second.find('=') + 1;
        cookie = set->second.substr(start, set->second.find(';') - start);
        csrf = answer.json().value("csrf", std::string());
    }
    // Takes what makes this browser an enrolled screen.
    void take_screen(const Answered& answer) {
        const auto set = answer.headers.find("Set-Cookie");
        if (set == answer.headers.end()) return;
        const auto start = set->second.find('=') + 1;
        screen = set->second.substr(start, set->second.find(';') - start);
    }
    Answered log_in(const std::string& name, const std::string& password = good_password) {
        const auto answer = post("/api/session", {{"name", name}, {"password", password}});
        if (answer.status == 200) take_session(answer);
        return answer;
    }

    int port() const { return port_; }

    std::string cookie, csrf;
    std::string screen;  // empty: it is none that takes PINs

  private:
    httplib::Client http_;
    int port_;
    std::string cookie_name_;
};

// Where a new shop's data are to be: in that folder, or a new database where tests are to run on a server.
inline std::string new_data(const std::string& folder) {
    if (!store::on_server()) return folder;
    return store::Cluster::shared().url(store::Cluster::shared().new_database());
}

// A workbench with an owner named Pat.
struct TestShop {
    store::TestFolder folder;
    std::unique_ptr<Workbench> bench;
    std::unique_ptr<HttpServer> server;
    std::unique_ptr<Client> pat;

    // `place`: a folder or the URL of a database; empty: a new one.
    explicit TestShop(std::size_t most_subscribers = 32, const std::string& place = "",
                      const std::string& backups = "") {
        store::start_sodium();
        WorkbenchOptions options;
        options.data = place.empty() ? new_data(folder.path()) : place;
        options.password_cost = {1, 8192};  // libsodium's least: the tests check the rules, not the price
        options.most_subscribers = most_subscribers;
        if (!backups.empty()) options.backups = folder.path() + "/" + backups;
        bench = std::make_unique<Workbench>(options);
        bench->shelf.stock(default_shop());
        server = std::make_unique<HttpServer>(*bench, HttpOptions{});
        pat = std::make_unique<Client>(server->port());
        pat->take_session(pat->post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
    }
    std::unique_ptr<Client> person(const std::string& name, const std::string& role) {
        pat->post("/api/people", {{"name", name}, {"role", role}, {"password", good_password}});
        auto client = std::make_unique<Client>(server->port());
        client->log_in(name);
        return client;
    }
    // A job from an example; its id.
    long long job(const std::string& example = "wedge") {
        return pat->post("/api/jobs", {{"from", "example"}, {"example", example}}).json().value("id", 0LL);
    }
};

inline std::string path_of(long long job, const std::string& rest = "") {
    return "/api/jobs/" + std::to_string(job) + rest;
}

}  // namespace seatwright::server
