#include "seatwright/store/toml_json.hpp"

#include <fmt/format.h>

#include <cmath>
#include <sstream>

#include "seatwright/job/guard.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::store {

Json json_of(const toml::node& node) {
    if (const auto* table = node.as_table()) {
        Json object = Json::object();
        for (const auto& [key, value] : *table) object[std::string(key.str())] = json_of(value);
        return object;
    }
    if (const auto* array = node.as_array()) {
        Json list = Json::array();
        for (const auto& value : *array) list.push_back(json_of(value));
        return list;
    }
    if (const auto* text = node.as_string()) return text->get();
    if (const auto* whole = node.as_integer()) return whole->get();
    if (const auto* number = node.as_floating_point())
        return std::isfinite(number->get()) ? Json(number->get()) : Json(nullptr);
    if (const auto* flag = node.as_boolean()) return flag->get();
    std::ostringstream out;
    node.visit([&](const auto& value) {
        if constexpr (toml::is_date<decltype(value)> || toml::is_time<decltype(value)> ||
                      toml::is_date_time<decltype(value)>)
            out << value.get();
    });
    return out.str();
}

std::string toml_literal(const Json& value) {
    if (value.is_object()) {
        std::string out;
        for (const auto& [key, inner] : value.items())
            out += (out.empty() ? " " : ", ") + job::toml_string(key) + " = " + toml_literal(inner);
        return out.empty() ? "{}" : "{" + out + " }";
    }
    if (value.is_array()) {
        std::string out;
        for (const auto& one : value) out += (out.empty() ? "" : ", ") + toml_literal(one);
        return "[" + out + "]";
    }
    if (value.is_number_integer()) return fmt::format("{}", value.get<long long>());
    if (value.is_number()) return fmt::format("{}", value.get<double>());
    if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
    return job::toml_string(value.is_string() ? value.get<std::string>() : std::string());
}

std::optional<toml::table> parse_toml(const std::string& text) {
    if (!job::guard_text(text, "").empty()) return std::nullopt;
    try {
        return toml::parse(text);
    } catch (const toml::parse_error&) {
        return std::nullopt;
    }
}

}  // namespace seatwright::store
