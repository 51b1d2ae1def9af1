// Who is let in: the session cookie, the role, the token and origin that keep other pages from acting for a
// person, and the name the browser called us by.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/store/people.hpp"
#include "server/http/message.hpp"

namespace seatwright::server {

// Browsers keep cookies by host and name, whatever the port: with the port in the name two workbenches on one
// machine do not log each other out. `secure`: with the prefix that keeps other hosts and plain http from
// setting it (__Host-, RFC 6265bis, section 4.1.3.2).
std::string cookie_name(int port, bool secure = false);

// The last address of an X-Forwarded-For header: the proxy appends the one it saw; what stands before it
// anybody can have written.
std::string last_forwarded(std::string_view header);

struct AccessRules {
    bool loopback = true;  // only names of this machine are answered (against DNS rebinding)
    bool secure = false;   // TLS here or in a proxy in front: cookies are marked Secure
    bool behind_proxy = false;
};

class Access {
  public:
    Access(store::People& people, AccessRules rules) : people_(people), rules_(rules) {}

    // The login behind the cookie, if any.
    std::optional<store::Login> login_of(const Request& request) const;
    // Throws HttpError when the request may not go on: 401, 403, or 400 for a body that is
    // neither JSON nor, where `takes_bytes`, bytes.
    void check(const Request& request, const std::optional<store::Login>& login,
               std::optional<store::Role> needs, bool takes_bytes) const;

    // The port people reach it by, once it is bound; before the first request.
    void serve_on(int port) { cookie_name_ = cookie_name(port, rules_.secure); }
    std::string cookie(const std::string& token) const;  // Set-Cookie; an empty token takes the cookie away
    // The same of a screen at which PINs are taken; it lasts as long as browsers let it.
    std::string screen_cookie(const std::string& token) const;
    std::string screen_of(const Request& request) const;  // its token; empty: none
    // Who asks: the address connected, or, behind a proxy, the one it saw. Each proxy appends to the header
    // or adds a line of its own: the last of the last line counts.
    std::string address_of(const Request& request) const;
    const AccessRules& rules() const { return rules_; }

  private:
    void check_host(const Request& request) const;
    void check_origin(const Request& request) const;
    store::People& people_;
    AccessRules rules_;
    std::string cookie_name_ = cookie_name(0);
};

}  // namespace seatwright::server
