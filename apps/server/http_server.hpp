// The HTTP side: sockets, threads, headers, and the routes registered; connections are served by
// connection.hpp.
#pragma once

#include "server/http/http.hpp"

#include <memory>
#include <string>
#include <thread>

#include "server/http/connection.hpp"
#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

struct HttpOptions {
    std::string address = "127.0.0.1";
    int port = 0;                  // 0 = any free one
    std::string certificate, key;  // PEM files; both empty = plain HTTP
};

class HttpServer {
  public:
    // Binds and starts to answer in threads of its own. Throws CannotServe.
    HttpServer(Workbench& bench, const HttpOptions& options);
    ~HttpServer();
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;

    int port() const { return port_; }
    const Router& router() const { return router_; }
    // Ends every stream and connection; waits for requests under way.
    void stop();

  private:
    void configure(httplib::Server& server);
    Doors doors();
    Workbench& bench_;
    Router router_;
    httplib::Headers headers_;  // every answer carries
    std::unique_ptr<httplib::Server> server_;
    std::thread thread_;
    int port_ = 0;
    socket_t socket_ = -1;
};

}  // namespace seatwright::server
