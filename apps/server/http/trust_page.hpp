// The page in the open (plain http) from which a device of the shop takes the root certificate of a workbench
// that made its own (own_certificate.hpp): the root, its fingerprint to compare, and a square code of the
// address to go on to. Nothing of the workbench is served there.
#pragma once

#include <memory>
#include <string>

#include "server/http/own_certificate.hpp"
#include "server/http/web_server.hpp"

namespace seatwright::server {

class TrustPage {
  public:
    // Binds at `address`, `port` (0 = any free one). `workbench`: "https://192.0.2.10:8137/". Throws
    // CannotServe.
    TrustPage(const std::string& address, int port, const OwnCertificate& own, const std::string& workbench);
    int port() const { return web_->port(); }

  private:
    Response answer(const Request& request) const;
    std::string page_, root_;
    std::unique_ptr<WebServer> web_;
};

// A square code (ISO/IEC 18004) of `text` as an SVG drawing, with the light border it needs. Throws
// std::runtime_error when the text is too long for one.
std::string square_code(const std::string& text);

}  // namespace seatwright::server
