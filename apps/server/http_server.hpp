// The HTTP side: the routes registered on the sockets (web_server.hpp).
#pragma once

#include <memory>
#include <string>

#include "server/http/router.hpp"
#include "server/http/web_server.hpp"
#include "server/jobs/workbench.hpp"
#include "server/other_servers.hpp"

namespace seatwright::server {

struct HttpOptions {
    std::string address = "127.0.0.1";
    int port = 0;                  // 0 = any free one
    std::string certificate, key;  // PEM files; both empty = plain HTTP
    ConnectionTimes times{};
    bool log_requests = false;  // a line for each answer (http/log_lines.hpp)
};

class HttpServer {
  public:
    // Binds and starts to answer in threads of its own. Throws CannotServe.
    HttpServer(Workbench& bench, const HttpOptions& options);
    ~HttpServer();
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;

    int port() const { return web_->port(); }
    // From now on connections are greeted with these files. Throws CannotServe.
    void use_certificate(const std::string& certificate, const std::string& key) {
        web_->use_certificate(certificate, key);
    }
    const Router& router() const { return router_; }
    // Ends every stream and connection; waits for requests under way.
    void stop();

  private:
    Asker asker_of(const Request& request) const;
    Heard noted(Heard heard, const std::string& method) const;
    void note(const AnswerNote& answered) const;
    Workbench& bench_;
    Router router_;
    bool log_requests_;
    std::unique_ptr<WebServer> web_;
    OtherServers others_;
};

}  // namespace seatwright::server
