// Who is let in: the session cookie, the role, the token and origin that keep other pages from acting for a
// person, and the name the browser called us by.
#pragma once

#include "server/http/http.hpp"

#include <optional>
#include <string>

#include "seatwright/store/people.hpp"

namespace seatwright::server {

// Browsers keep cookies by host and name, whatever the port: with the port in the name two workbenches on one
// machine do not log each other out.
std::string cookie_name(int port);

struct AccessRules {
    bool loopback = true;  // only names of this machine are answered (against DNS rebinding)
    bool secure = false;   // TLS here or in a proxy in front: cookies are marked Secure
    bool behind_proxy = false;
};

class Access {
  public:
    Access(store::People& people, AccessRules rules) : people_(people), rules_(rules) {}

    // The login behind the cookie, if any.
    std::optional<store::Login> login_of(const httplib::Request& request) const;
    // Throws HttpError when the request may not go on: 401, 403.
    void check(const httplib::Request& request, const std::optional<store::Login>& login,
               std::optional<store::Role> needs) const;

    // The port people reach it by, once it is bound; before the first request.
    void serve_on(int port) { cookie_name_ = cookie_name(port); }
    std::string cookie(const std::string& token) const;  // Set-Cookie; an empty token takes the cookie away
    std::string address_of(const httplib::Request& request) const;
    const AccessRules& rules() const { return rules_; }

  private:
    void check_host(const httplib::Request& request) const;
    void check_origin(const httplib::Request& request) const;
    store::People& people_;
    AccessRules rules_;
    std::string cookie_name_ = cookie_name(0);
};

}  // namespace seatwright::server
