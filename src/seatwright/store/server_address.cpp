#include "seatwright/store/server_address.hpp"

#include <libpq-fe.h>

#include <map>
#include <memory>

namespace seatwright::store {

namespace {

using Parts = std::map<std::string, std::string>;

// What the address itself says; nothing else that libpq would look up. `fault` when it cannot be read.
Parts parts_of(const std::string& url, std::string* fault = nullptr) {
    char* words = nullptr;
    const std::unique_ptr<PQconninfoOption, void (*)(PQconninfoOption*)> all(
        PQconninfoParse(url.c_str(), &words), PQconninfoFree);
    if (fault != nullptr && !all) *fault = words != nullptr ? words : "out of memory";
    PQfreemem(words);
    Parts parts;
    for (const PQconninfoOption* one = all.get(); one != nullptr && one->keyword != nullptr; ++one)
        if (one->val != nullptr) parts[one->keyword] = one->val;
    return parts;
}

// In the quotation of a connection string (34.1.1.1).
std::string in_quotes(const std::string& value) {
    std::string out = "'";
    for (const char c : value) {
        if (c == '\'' || c == '\\') out += '\\';
        out += c;
    }
    return out + '\'';
}

}  // namespace

std::string fault_of_address(const std::string& url) {
    const std::string form = "an address is written postgresql://USER@HOST/DATABASE";
    const auto colon = url.find(':');
    if (url.compare(colon, 3, "://") != 0) return form;
    std::string fault;
    const Parts parts = parts_of(url, &fault);
    if (!fault.empty()) return form + ": " + fault.substr(0, fault.find('\n'));
    if (!parts.contains("dbname")) return form + "; the name of the database is missing";
    return {};
}

std::string connect_string_of(const std::string& url) {
    Parts parts = parts_of(url);
    if (parts.empty()) return url;
    const Parts bounds{{"connect_timeout", "10"},     {"keepalives_idle", "20"},
                       {"keepalives_interval", "5"},  {"keepalives_count", "3"},
                       {"tcp_user_timeout", "30000"}, {"application_name", "seatwright"}};
    parts.insert(bounds.begin(), bounds.end());
    std::string all;
    for (const auto& [key, value] : parts) all += key + "=" + in_quotes(value) + " ";
    return all;
}

std::string shown_address(const std::string& url) {
    Parts parts = parts_of(url);
    if (parts.empty()) return url.substr(0, url.find(':')) + ":…";
    std::string out = "postgresql://";
    if (parts.contains("user")) out += parts["user"] + "@";
    out += parts["host"];
    if (parts.contains("port")) out += ":" + parts["port"];
    return out + "/" + parts["dbname"];
}

}  // namespace seatwright::store
