#include "edits.hpp"

#include <fmt/format.h>

#include "call.hpp"

namespace seatwright::server {

std::vector<Edit> edits_of(const Json& body) {
    const auto list = body.find("edits");
    if (list == body.end() || !list->is_array()) throw halt(400, "edits is a list of {key, value}");
    std::vector<Edit> edits;
    for (const auto& one : *list) {
        if (!one.is_object() || !one.contains("value")) throw halt(400, "edits is a list of {key, value}");
        edits.push_back({text_field(one, "key"), one.at("value")});
    }
    if (edits.empty()) throw halt(400, "there is nothing to change");
    return edits;
}

std::string said_of(const std::vector<Edit>& edits) {
    std::string said;
    for (const auto& edit : edits) {
        if (!said.empty()) said += "; ";
        said += edit.value.is_null()
                    ? "took out " + edit.key
                    : fmt::format("set {} to {}", edit.key,
                                  edit.value.is_string() ? edit.value.get<std::string>() : edit.value.dump());
    }
    constexpr std::size_t longest = 200;
    if (said.size() > longest) said = said.substr(0, longest) + " …";
    return said;
}

}  // namespace seatwright::server
