#include "server/intake/edits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>

#include "seatwright/job/said_by.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/store/toml_json.hpp"
#include "seatwright/toml/edit.hpp"
#include "seatwright/toml/path.hpp"
#include "server/http/call.hpp"

namespace seatwright::server {

namespace {

// Paths are echoed in refusals and in the history: the longest of the reference is under 40 characters.
constexpr std::size_t longest_key = 200;

std::string edited_key(const Json& edit) {
    std::string key = text_field(edit, "key");
    if (key.size() > longest_key)
        throw http_error(
            400, fmt::format("a key such as seat.intake.width has at most {} characters; one here has {}",
                             longest_key, key.size()));
    return key;
}

}  // namespace

std::vector<Edit> edits_of(const Json& body) {
    const auto list = body.find("edits");
    if (list == body.end() || !list->is_array()) throw http_error(400, "edits is a list of {key, value}");
    if (list->size() > most_edits)
        throw http_error(400,
                         fmt::format("at most {} changes are made at once, these are {}: send them in parts",
                                     most_edits, list->size()));
    std::vector<Edit> edits;
    for (const auto& one : *list) {
        if (!one.is_object() || !one.contains("value"))
            throw http_error(400, "edits is a list of {key, value}");
        edits.push_back({edited_key(one), one.at("value")});
    }
    if (edits.empty()) throw http_error(400, "there is nothing to change");
    return edits;
}

namespace {

// "pilot[3]" → "pilot", 3; nothing for a path that does not end in an index.
std::optional<std::pair<std::string, std::size_t>> entry_of_list(const std::string& key) {
    constexpr std::ptrdiff_t most_digits = 6;
    const auto open = key.rfind('[');
    if (open == std::string::npos || open == 0 || key.back() != ']') return std::nullopt;
    const char *first = key.data() + open + 1, *last = key.data() + key.size() - 1;
    std::size_t index = 0;
    const auto read = std::from_chars(first, last, index);
    if (read.ec != std::errc() || read.ptr != last || last - first > most_digits) return std::nullopt;
    return std::pair(key.substr(0, open), index);
}

// True when `list` is a list of tables, or not there, that the entry of that index would be one more of.
bool is_one_more(const toml::Document& document, const std::string& list, std::size_t index) {
    const auto path = toml::parse_path(list);
    if (!path) return false;
    const toml::Value there = toml::find(document.root(), *path);
    return there ? there.kind() == toml::Kind::list && there.size() == index : index == 0;
}

toml::Edited edited_once(const toml::Document& document, const Edit& edit) {
    if (edit.value.is_null()) return toml::remove_value(document, edit.key);
    const auto entry = entry_of_list(edit.key);
    if (edit.value.is_object() && entry && is_one_more(document, entry->first, entry->second)) {
        toml::Fields fields;
        for (const auto& [key, value] : edit.value.items())
            fields.emplace_back(key, store::toml_literal(value));
        return toml::append_table(document, entry->first, fields);
    }
    return toml::set_value(document, edit.key, store::toml_literal(edit.value));
}

// Whether `of` is the key or a table or list above it.
bool covers(const std::string& of, const std::string& key) {
    return key.starts_with(of) && (key.size() == of.size() || key[of.size()] == '.' || key[of.size()] == '[');
}

// What a person typed is no longer a figure made up, nor one that was surveyed: its key leaves that list.
toml::Edited without_key(const toml::Document& document, const std::string& key, const std::string& list) {
    std::string left;
    std::size_t kept = 0, all = 0;
    for (const auto& item : document.root().find("head").find(list).items()) {
        ++all;
        const auto of = item.text();
        if (!of || covers(*of, key) || covers(key, *of)) continue;
        left += (kept++ > 0 ? ", " : "") + job::toml_string(*of);
    }
    return kept == all ? toml::Edited(document) : toml::set_value(document, "head." + list, "[" + left + "]");
}

// What the text says to be right already.
std::set<std::string> confirmed_in(const toml::Document& text) {
    std::set<std::string> out;
    for (const auto& item : text.root().find("sure").items())
        if (const auto words = item.text()) out.insert(std::string(*words));
    return out;
}

void sign_sure(Json& said, const std::set<std::string>& stands, const std::string& name,
               const std::string& date) {
    if (!said.is_string() || stands.contains(said.get<std::string>())) return;
    said = job::with_who(said.get<std::string>(), name, date);
}

// What the text allows already, each with who allowed it.
std::vector<Json> allowed_in(const toml::Document& text) {
    std::vector<Json> out;
    for (const auto& item : text.root().find("allow").items()) out.push_back(store::json_of(item));
    return out;
}

bool stands_in(const std::vector<Json>& list, const Json& one) {
    return std::find(list.begin(), list.end(), one) != list.end();
}

void sign_allowed(Json& list, const std::vector<Json>& stands, const std::string& name) {
    for (Json& one : list)
        if (one.is_object() && !stands_in(stands, one)) one["by"] = name;
}

}  // namespace

store::Answer<std::string> signed_text(const std::string& text, const std::string& before,
                                       const std::string& name, const std::string& date) {
    const toml::Document now = job::read_text(text), then = job::read_text(before);
    const auto confirmed = confirmed_in(then);
    std::vector<Edit> edits;
    std::size_t at = 0;
    for (const auto& item : now.root().find("sure").items()) {
        const Json given = std::string(item.text().value_or(""));
        Json said = given;
        sign_sure(said, confirmed, name, date);
        if (said != given) edits.push_back({fmt::format("sure[{}]", at), said});
        ++at;
    }
    const auto given = allowed_in(now);
    Json said = given;
    sign_allowed(said, allowed_in(then), name);
    for (std::size_t i = 0; i < given.size(); ++i)
        if (said[i] != given[i]) edits.push_back({fmt::format("allow[{}].by", i), name});
    return edits.empty() ? text : edited(text, edits);
}

std::vector<Edit> signed_by(std::vector<Edit> edits, const std::string& text, const std::string& name,
                            const std::string& date) {
    // The text is read only where it is asked what it says.
    const bool any = std::any_of(edits.begin(), edits.end(), [](const Edit& edit) {
        return edit.key.starts_with("sure") || edit.key == "allow";
    });
    const toml::Document now = job::read_text(any ? text : std::string());
    const std::set<std::string> stands = confirmed_in(now);
    for (Edit& edit : edits) {
        if (edit.key == "sure" && edit.value.is_array())
            for (Json& item : edit.value) sign_sure(item, stands, name, date);
        else if (edit.key.starts_with("sure["))
            sign_sure(edit.value, stands, name, date);
        else if (edit.key == "allow" && edit.value.is_array())
            sign_allowed(edit.value, allowed_in(now), name);
        else if (edit.key.starts_with("allow[") && edit.key.ends_with("].by"))
            edit.value = name;
        else if (edit.key.starts_with("allow[") && edit.value.is_object())
            edit.value["by"] = name;
    }
    return edits;
}

store::Answer<std::string> edited(const std::string& text, const std::vector<Edit>& edits,
                                  std::chrono::milliseconds most) {
    const auto until = std::chrono::steady_clock::now() + most;
    toml::Document now = job::read_text(text);
    for (const auto& edit : edits) {
        if (&edit != &edits.front() && std::chrono::steady_clock::now() >= until)
            return store::refuse(
                store::Why::too_large,
                fmt::format("{} changes of a text this long take more than {} s: send them in "
                            "smaller parts",
                            edits.size(), std::chrono::duration<double>(most).count()));
        auto next = edited_once(now, edit);
        if (!next) return store::refuse(store::Why::bad, fmt::format("{}: {}", edit.key, next.error()));
        now = std::move(*next);
        if (edit.key == "head.assumed" || edit.key == "head.surveyed" || edit.key == "head") continue;
        for (const char* list : {"assumed", "surveyed"}) {
            auto mine = without_key(now, edit.key, list);
            if (!mine) return store::refuse(store::Why::bad, fmt::format("head.{}: {}", list, mine.error()));
            now = std::move(*mine);
        }
    }
    return now.text();
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
