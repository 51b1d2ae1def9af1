#include "seatwright/store/toml_json.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::store {

Json json_of(const toml::Value& value) {
    switch (value.kind()) {
        case toml::Kind::table: {
            std::map<std::string, Json> sorted;
            for (const auto& item : value.items()) sorted.emplace(item.name(), json_of(item));
            Json object = Json::object();
            for (auto& [name, json] : sorted) object[name] = std::move(json);
            return object;
        }
        case toml::Kind::list: {
            Json list = Json::array();
            for (const auto& item : value.items()) list.push_back(json_of(item));
            return list;
        }
        case toml::Kind::text:
            return *value.text();
        case toml::Kind::integer:
            return *value.integer();
        case toml::Kind::number:
            return std::isfinite(*value.number()) ? Json(*value.number()) : Json(nullptr);
        case toml::Kind::flag:
            return *value.flag();
        case toml::Kind::moment:
            return std::string(value.written());
        default:
            return nullptr;
    }
}

Json tables_of(const std::string& text) {
    const auto document = job::read_text(text);
    return document.is_good() ? json_of(document.root()) : Json::object();
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

}  // namespace seatwright::store
