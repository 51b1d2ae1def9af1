#include "server/http/call.hpp"
#include "server/http/packing.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

namespace seatwright::server {

namespace {

// The whole text as a number, or nothing.
template <class Number>
std::optional<Number> number_in(const std::string& text) {
    Number value{};
    const char* end = text.data() + text.size();
    const auto [stop, fault] = std::from_chars(text.data(), end, value);
    if (fault != std::errc{} || stop != end) return std::nullopt;
    return value;
}

// Reading goes by a loop, but copying and writing JSON by calls within calls: what is nested without end
// would end the program.
constexpr int deepest_json = 32;

bool nested_deeper(const std::string& text, int most) {
    int depth = 0;
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '"') quoted = !quoted;
        if (quoted && c == '\\') ++i;  // and what it escapes
        if (quoted) continue;
        if (c == '[' || c == '{') ++depth;
        if (c == ']' || c == '}') --depth;
        if (depth > most) return true;
    }
    return false;
}

const Json* field(const Json& body, const std::string& name) {
    const auto at = body.find(name);
    return at == body.end() || at->is_null() ? nullptr : &*at;
}

}  // namespace

long long Call::number(std::size_t n) const {
    const auto value = number_in<long long>(part(n));
    if (!value) throw http_error(404, "there is none of that number");
    return *value;
}

std::optional<long long> Call::query_number(const std::string& name) const {
    const std::string text = query(name);
    if (text.empty()) return std::nullopt;
    const auto value = number_in<long long>(text);
    if (!value) throw http_error(400, fmt::format("{} is a whole number", name));
    return value;
}

std::optional<double> Call::query_real(const std::string& name) const {
    const std::string text = query(name);
    if (text.empty()) return std::nullopt;
    const auto value = number_in<double>(text);
    if (!value || !std::isfinite(*value)) throw http_error(400, fmt::format("{} is a number", name));
    return value;
}

std::optional<LengthUnit> Call::query_units() const {
    return units_named(query("units"));
}

namespace {

// Databases keep texts up to a zero only. How deep it goes has been looked at.
bool has_zero(const Json& value) {
    if (value.is_string()) return value.get_ref<const std::string&>().find('\0') != std::string::npos;
    for (const auto& [key, inner] : value.items())
        if (value.is_structured() && (key.find('\0') != std::string::npos || has_zero(inner))) return true;
    return false;
}

}  // namespace

Json Call::json() const {
    if (nested_deeper(request_.body, deepest_json)) throw http_error(400, "the body is nested too deeply");
    Json value = Json::parse(request_.body, nullptr, false);
    if (!value.is_object()) throw http_error(400, "the body is not a JSON object");
    if (request_.body.find("\\u0000") != std::string::npos && has_zero(value))
        throw http_error(400, "a text with the character U+0000 in it cannot be kept; leave it out");
    return value;
}

void Call::answer_text(int status, std::string text, const std::string& media) {
    constexpr int level = 4;  // most of what is to be had, at some milliseconds a megabyte
    response_.status = status;
    const Packing packing = text.size() < least_packed || !is_packed_media(media)
                                ? Packing::none
                                : packing_of(request_.header("Accept-Encoding"));
    if (packing == Packing::none) return response_.set_content(std::move(text), media);
    response_.set_header("Content-Encoding", word_of(packing));
    response_.set_header("Vary", "Accept-Encoding");
    response_.set_content(packed(text, packing, level), media);
}

double angle_within(double degrees, const std::string& name) {
    constexpr double most = 180;
    if (!(std::abs(degrees) <= most))
        throw http_error(400, fmt::format("{} is an angle in degrees, from -{} to {}", name, most, most));
    return degrees;
}

std::string text_field(const Json& body, const std::string& name) {
    const auto text = text_field_if(body, name);
    if (!text) throw http_error(400, fmt::format("{} is missing", name));
    return *text;
}

std::optional<std::string> text_field_if(const Json& body, const std::string& name) {
    const Json* value = field(body, name);
    if (value == nullptr) return std::nullopt;
    if (!value->is_string()) throw http_error(400, fmt::format("{} is a text", name));
    return value->get<std::string>();
}

long long number_field(const Json& body, const std::string& name) {
    const auto number = number_field_if(body, name);
    if (!number) throw http_error(400, fmt::format("{} is missing", name));
    return *number;
}

std::optional<long long> number_field_if(const Json& body, const std::string& name) {
    const Json* value = field(body, name);
    if (value == nullptr) return std::nullopt;
    if (!value->is_number_integer()) throw http_error(400, fmt::format("{} is a whole number", name));
    return value->get<long long>();
}

bool flag_field(const Json& body, const std::string& name) {
    const Json* value = field(body, name);
    if (value == nullptr) return false;
    if (!value->is_boolean()) throw http_error(400, fmt::format("{} is true or false", name));
    return value->get<bool>();
}

std::optional<LengthUnit> units_named(const std::string& name) {
    if (name.empty()) return std::nullopt;
    if (name == "in") return LengthUnit::inch;
    if (name == "mm") return LengthUnit::mm;
    throw http_error(400, "units are in or mm");
}

}  // namespace seatwright::server
