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
};

class HttpServer {
  public:
    // Binds and starts to answer in threads of its own. Throws CannotServe.
    HttpServer(Workbench& bench, const HttpOptions& options);
    ~HttpServer();
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;

    int port() const { return web_->port(); }
    const Router& router() const { return router_; }
    // Ends every stream and connection; waits for requests under way.
    void stop();

  private:
    Asker asker_of(const Request& request) const;
    Workbench& bench_;
    Router router_;
    std::unique_ptr<WebServer> web_;
    OtherServers others_;
};

}  // namespace seatwright::server
