#include "seatwright/live/shdr.hpp"

#include <algorithm>

#include "seatwright/live/figures.hpp"
#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {

constexpr std::size_t most_fields = 512;
constexpr std::string_view several = "--multiline--";

// Parted at "|"; one behind "\" belongs to the text.
std::vector<std::string> fields_of(std::string_view line) {
    std::vector<std::string> fields(1);
    for (std::size_t i = 0; i < line.size() && fields.size() <= most_fields; ++i) {
        if (line[i] == '\\' && i + 1 < line.size() && line[i + 1] == '|')
            fields.back() += line[++i];
        else if (line[i] == '|')
            fields.emplace_back();
        else
            fields.back() += line[i];
    }
    return fields;
}

Observation observed(const std::string& key, const std::string& text, std::optional<Ms> at) {
    Observation seen;
    seen.key = std::string(trimmed(key));
    const auto value = trimmed(text);
    seen.raw = std::string(value.substr(0, longest_raw));
    seen.unavailable = value == "UNAVAILABLE" || value.empty();
    if (!seen.unavailable) seen.numbers = numbers_of(value);
    seen.stated = at;
    return seen;
}

}  // namespace

ShdrLine Shdr::read(std::string_view line) {
    ShdrLine result;
    line = trimmed(line);
    if (!ends_with_.empty()) {
        if (line.find(ends_with_) != std::string_view::npos) ends_with_.clear();
        return result;
    }
    if (line.starts_with('*')) {
        constexpr std::string_view pong = "* PONG";
        if (line.starts_with(pong)) {
            const auto wait = number_of(line.substr(pong.size()));
            constexpr double least = 100, most = 3'600'000;  // ms
            if (wait) result.pong = static_cast<Ms>(std::clamp(*wait, least, most));
        }
        return result;
    }
    if (const auto at = line.find(several); at != std::string_view::npos) {
        ends_with_ = std::string(line.substr(at));
        return result;
    }
    const auto fields = fields_of(line);
    if (fields.size() > most_fields) {
        result.fault = sentence<"too-many-fields">("most"_is = most_fields);
        return result;
    }
    if (fields.size() < 3) {
        if (!line.empty()) result.fault = sentence<"no-adapter">("line"_is = line.substr(0, 60));
        return result;
    }
    const auto at = time_of(std::string_view(fields[0]).substr(0, fields[0].find('@')));
    if (trimmed(fields[1]).starts_with('@')) return result;  // assets: not of readings
    for (std::size_t i = 1; i + 1 < fields.size(); i += 2)
        if (!trimmed(fields[i]).empty())
            result.observations.push_back(observed(fields[i], fields[i + 1], at));
    return result;
}

}  // namespace seatwright::live
