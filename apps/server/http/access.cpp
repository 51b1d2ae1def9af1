#include "server/http/access.hpp"

#include <fmt/format.h>
#include <sodium.h>

#include <string_view>

#include "server/http/http_error.hpp"

namespace seatwright::server {

namespace {

constexpr const char* screen_ending = "_screen";

bool changes_something(const Request& request) {
    return request.method != "GET" && request.method != "HEAD";
}

std::string_view without_port(std::string_view host) {
    if (host.starts_with('[')) return host.substr(0, host.find(']') + 1);
    return host.substr(0, host.find(':'));
}

std::string cookie_value(std::string_view header, std::string_view name) {
    while (!header.empty()) {
        const auto end = header.find(';');
        std::string_view one = header.substr(0, end);
        one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
        if (one.starts_with(name) && one.substr(name.size()).starts_with('='))
            return std::string(one.substr(name.size() + 1));
        header = end == std::string_view::npos ? std::string_view{} : header.substr(end + 1);
    }
    return {};
}

// In constant time for texts of one length, so that a token cannot be found out byte by byte.
bool same_secret(std::string_view a, std::string_view b) {
    return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace

std::string cookie_name(int port, bool secure) {
    return fmt::format("{}seatwright_session_{}", secure ? "__Host-" : "", port);
}

std::string last_forwarded(std::string_view header) {
    const auto last = header.find_last_of(", ");
    return std::string(last == std::string_view::npos ? header : header.substr(last + 1));
}

std::optional<store::Login> Access::login_of(const Request& request) const {
    const auto token = cookie_value(request.header("Cookie"), cookie_name_);
    constexpr std::size_t token_length = 64;
    if (token.size() != token_length) return std::nullopt;
    return people_.login_of(token);
}

void Access::check_host(const Request& request) const {
    if (!rules_.loopback) return;
    const auto host = without_port(request.header("Host"));
    if (host != "localhost" && host != "127.0.0.1" && host != "[::1]")
        throw http_error(403, "this workbench answers on this machine only, as localhost or 127.0.0.1");
}

void Access::check_origin(const Request& request) const {
    const std::string_view origin = request.header("Origin");
    const std::string host(request.header("Host"));
    const bool same = origin == "http://" + host || origin == "https://" + host;
    if (!origin.empty() && !same)
        throw http_error(403, "a change was asked for by another site; it is refused");
    const std::string_view from = request.header("Sec-Fetch-Site");
    if (!from.empty() && from != "same-origin" && from != "none")
        throw http_error(403, "a change was asked for by another site; it is refused");
}

void Access::check(const Request& request, const std::optional<store::Login>& login,
                   std::optional<store::Role> needs, bool takes_bytes) const {
    check_host(request);
    if (changes_something(request)) {
        check_origin(request);
        const std::string_view length = request.header("Content-Length");
        const bool has_body = length.find_first_not_of('0') != std::string_view::npos;
        const std::string_view type = request.header("Content-Type");
        // Neither is a type another site's page may send without asking first.
        const bool known =
            type.starts_with("application/json") || (takes_bytes && type == "application/octet-stream");
        if (has_body && !known) throw http_error(400, "bodies are JSON: Content-Type application/json");
    }
    if (!needs) return;
    if (!login) throw http_error(401, "log in first");
    if (changes_something(request) && !same_secret(request.header("X-CSRF-Token"), login->csrf))
        throw http_error(403, "the page is out of date: load it again and log in");
    if (!login->person.may(*needs))
        throw http_error(403, fmt::format("this needs the role {}; you are logged in as {}",
                                          store::name_of(*needs), store::name_of(login->person.role)));
}

std::string Access::cookie(const std::string& token) const {
    constexpr int thirty_days = 30 * 24 * 3600;
    return fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict; Max-Age={}{}", cookie_name_, token,
                       token.empty() ? 0 : thirty_days, rules_.secure ? "; Secure" : "");
}

std::string Access::screen_cookie(const std::string& token) const {
    constexpr int as_long_as_allowed = 400 * 24 * 3600;  // RFC 6265bis, 5.5: browsers cut at 400 days
    return fmt::format("{}{}={}; Path=/; HttpOnly; SameSite=Strict; Max-Age={}{}", cookie_name_,
                       screen_ending, token, token.empty() ? 0 : as_long_as_allowed,
                       rules_.secure ? "; Secure" : "");
}

std::string Access::screen_of(const Request& request) const {
    return cookie_value(request.header("Cookie"), cookie_name_ + screen_ending);
}

std::string Access::address_of(const Request& request) const {
    const std::string_view forwarded = rules_.behind_proxy ? request.last_header("X-Forwarded-For") : "";
    return forwarded.empty() ? request.address : last_forwarded(forwarded);
}

}  // namespace seatwright::server
