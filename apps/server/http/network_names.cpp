#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <memory>

#include "server/http/own_certificate.hpp"

namespace seatwright::server {

namespace {

// Of interfaces that are up, loopback aside; addresses that hold on one cable only (IPv6 link-local) left
// out.
std::vector<std::string> addresses_here() {
    ifaddrs* first = nullptr;
    if (::getifaddrs(&first) != 0) return {};
    const std::unique_ptr<ifaddrs, void (*)(ifaddrs*)> all(first, ::freeifaddrs);
    std::vector<std::string> out;
    for (const ifaddrs* one = first; one != nullptr; one = one->ifa_next) {
        if (one->ifa_addr == nullptr || (one->ifa_flags & IFF_UP) == 0 ||
            (one->ifa_flags & IFF_LOOPBACK) != 0)
            continue;
        std::array<char, INET6_ADDRSTRLEN> text{};
        const void* address = nullptr;
        if (one->ifa_addr->sa_family == AF_INET) {
            address = &reinterpret_cast<const sockaddr_in*>(one->ifa_addr)->sin_addr;
        } else if (one->ifa_addr->sa_family == AF_INET6) {
            const auto& v6 = reinterpret_cast<const sockaddr_in6*>(one->ifa_addr)->sin6_addr;
            if (!IN6_IS_ADDR_LINKLOCAL(&v6)) address = &v6;
        }
        if (address != nullptr &&
            ::inet_ntop(one->ifa_addr->sa_family, address, text.data(), text.size()) != nullptr)
            out.emplace_back(text.data());
    }
    return out;
}

}  // namespace

bool is_address(const std::string& name) {
    std::array<unsigned char, sizeof(in6_addr)> room{};
    return ::inet_pton(AF_INET, name.c_str(), room.data()) == 1 ||
           ::inet_pton(AF_INET6, name.c_str(), room.data()) == 1;
}

bool can_be_certified(const std::string& name) {
    constexpr std::size_t longest = 253;
    const auto allowed = [](unsigned char c) { return std::isalnum(c) != 0 || c == '-' || c == '.'; };
    return is_address(name) || (!name.empty() && name.size() <= longest &&
                                std::isalnum(static_cast<unsigned char>(name.front())) != 0 &&
                                std::all_of(name.begin(), name.end(), allowed));
}

std::vector<std::string> network_names(const std::string& listen) {
    std::vector<std::string> out;
    std::array<char, 256> host{};
    const bool named = ::gethostname(host.data(), host.size() - 1) == 0 && can_be_certified(host.data());
    if (named) {
        out.emplace_back(host.data());
        if (out.front().find('.') == std::string::npos) out.push_back(out.front() + ".local");
    }
    const bool any = listen == "0.0.0.0" || listen == "::" || listen.empty();
    if (any) {
        for (auto& address : addresses_here()) out.push_back(std::move(address));
        out.emplace_back("127.0.0.1");
        out.emplace_back("localhost");
    } else {
        out.push_back(listen);
    }
    std::vector<std::string> once;
    for (auto& name : out)
        if (std::find(once.begin(), once.end(), name) == once.end()) once.push_back(std::move(name));
    return once;
}

}  // namespace seatwright::server
