#include "server/intake/permission.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <vector>

#include "seatwright/job/key_tree.hpp"
#include "seatwright/store/database.hpp"
#include "seatwright/store/toml_json.hpp"
#include "server/http/http_error.hpp"

namespace seatwright::server {

namespace {

using store::Role;

// Every value that is no table by its place in the file.
void gather(const Json& node, const std::string& place, std::map<std::string, Json>& out) {
    const bool tables = node.is_array() && !node.empty() && node.front().is_object();
    if (node.is_object()) {
        for (const auto& [name, value] : node.items())
            gather(value, place.empty() ? name : place + "." + name, out);
    } else if (tables) {
        for (std::size_t i = 0; i < node.size(); ++i) gather(node[i], fmt::format("{}[{}]", place, i), out);
    } else {
        out.emplace(place, node);
    }
}

struct Text {
    std::map<std::string, Json> values;
    LengthUnit units = LengthUnit::mm;
};

Text read_text(const std::string& text) {
    Text out;
    gather(store::tables_of(text), {}, out.values);
    const auto units = out.values.find("units");
    if (units != out.values.end() && units->second == "in") out.units = LengthUnit::inch;
    return out;
}

// A value as the reader takes it: quantities in memory units, whatever they were written in.
Json meant(const job::Key* key, const Json& value, LengthUnit units) {
    if (value.is_array()) {
        Json out = Json::array();
        for (const auto& one : value) out.push_back(meant(key, one, units));
        return out;
    }
    using enum job::ValueType;
    const bool is_quantity =
        key != nullptr && (key->type == quantity || key->type == range || key->type == quantities ||
                           key->type == point || key->type == points);
    if (!is_quantity || !(value.is_number() || value.is_string())) return value;
    if (value.is_number()) return job::from_bare(value.get<double>(), key->dimension, units);
    const auto parsed = job::parse_quantity(value.get<std::string>(), key->dimension, units);
    return parsed ? Json(*parsed) : value;
}

std::vector<std::string> changed_places(const Text& before, const Text& after) {
    std::vector<std::string> out;
    const auto in = [](const Text& text, const std::string& place) {
        const auto at = text.values.find(place);
        return at == text.values.end() ? Json(nullptr) : meant(job::key_at(place), at->second, text.units);
    };
    std::map<std::string, Json> all = before.values;
    all.insert(after.values.begin(), after.values.end());
    for (const auto& [place, value] : all)
        if (in(before, place) != in(after, place)) out.push_back(place);
    return out;
}

std::string named(const std::vector<std::string>& places) {
    constexpr std::size_t most = 4;
    const std::vector<std::string> first(places.begin(),
                                         places.begin() + static_cast<long>(std::min(most, places.size())));
    return fmt::format("{}{}", fmt::join(first, ", "),
                       places.size() > most ? fmt::format(" and {} more", places.size() - most) : "");
}

}  // namespace

std::string settings_unlike_the_shops(const std::string& text, const std::optional<std::string>& shop_text,
                                      const std::string& shelf) {
    const Text shop = read_text(shelf), job = read_text(text);
    std::vector<std::string> unlike;
    // Which files a job is read with, and in which unit, is no figure: what they say is compared.
    const auto is_a_leads = [](const std::string& place) {
        const job::Key* key = job::key_at(place);
        return key != nullptr && (key->limit || key->who.hand() == job::Who::leads) && place != "units" &&
               place != "shop" && place != "casting";
    };
    for (const auto& place : changed_places(shop, job))
        if (is_a_leads(place) && job.values.contains(place)) unlike.push_back(place);
    // A shop file of one's own counts with what it leaves out, too.
    if (shop_text)
        for (const auto& place : changed_places(shop, read_text(*shop_text)))
            if (is_a_leads(place)) unlike.push_back(place);
    return unlike.empty() ? std::string() : named(unlike);
}

std::optional<std::string> refusal_of_change(const store::Person& person, const std::string& before,
                                             const std::string& after,
                                             const std::optional<store::TakenProgram>& taken) {
    if (person.may(Role::lead)) return std::nullopt;
    std::vector<std::string> limits, leads, late;
    for (const auto& place : changed_places(read_text(before), read_text(after))) {
        const job::Key* key = job::key_at(place);
        if (key == nullptr || key->who.hand() == job::Who::leads) {
            (key != nullptr && key->limit ? limits : leads).push_back(place);
        } else if (key->who.hand() == job::Who::machinists_at_first && taken) {
            late.push_back(place);
        }
    }
    if (!limits.empty())
        return fmt::format("{} {}: only a lead changes {}", named(limits),
                           limits.size() > 1 ? "are limits" : "is a limit",
                           limits.size() > 1 ? "them" : "it");
    if (!leads.empty())
        return fmt::format("{}: only a lead changes {}", named(leads), leads.size() > 1 ? "these" : "this");
    if (!late.empty())
        return fmt::format(
            "{}: since {} was taken ({}, {}) only a lead changes what the head's programs are made from",
            named(late), taken->file, taken->by, store::iso_day(taken->at_ms));
    return std::nullopt;
}

}  // namespace seatwright::server
