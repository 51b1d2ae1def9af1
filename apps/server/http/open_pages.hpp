// A few fixed answers on a port of their own, without login: nothing else is there, and nothing can be
// changed.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>

#include "server/http/web_server.hpp"

namespace seatwright::server {

class OpenPages {
  public:
    using Pages =
        std::map<std::string, std::function<Response()>>;  // by path; called on workers, by several at once
    // Binds at `address`, `port` (0 = any free one). `elsewhere`: the sentence at any other path. Throws
    // CannotServe.
    OpenPages(const std::string& address, int port, Pages pages, std::string elsewhere);
    int port() const { return web_->port(); }

  private:
    Response answer(const Request& request) const;
    Pages pages_;
    std::string elsewhere_;
    std::unique_ptr<WebServer> web_;
};

}  // namespace seatwright::server
