#include "server/jobs/survey_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "seatwright/base/units.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/store/toml_json.hpp"
#include "seatwright/survey/read.hpp"

namespace seatwright::server {

namespace {

using store::SurveyEntry;

const char* const kinds[] = {"head", "setup", "point", "level", "size", "way", "left out"};

bool is_reading(const std::string& kind) {
    return kind == "point" || kind == "level" || kind == "size";
}

std::string word(const Json& values, const char* key) {
    const auto at = values.find(key);
    return at != values.end() && at->is_string() ? at->get<std::string>() : std::string();
}

std::optional<double> number(const Json& values, const char* key) {
    const auto at = values.find(key);
    return at != values.end() && at->is_number() ? std::optional(at->get<double>()) : std::nullopt;
}

std::string letters_of(const std::string& guide) {
    const auto name = survey::guide_name(guide);
    return name ? name->letters : std::string();
}

class Writer {
  public:
    Writer(const store::SurveyRow& row, const std::vector<SurveyEntry>& entries) : row_(row) {
        const auto live = store::live_entries(entries);
        for (std::size_t i = 0; i < entries.size(); ++i)
            if (live[i]) entries_.push_back(&entries[i]);
        out_.head = Json::object();
        for (const auto* e : entries_) {
            if (e->kind == "head") out_.head.update(e->values);
            if (e->kind == "setup") setups_[word(e->values, "setup")] = e->values;
            if (e->kind == "way") ways_[word(e->values, "letters")] = word(e->values, "way");
            if (e->kind == "left out") out_.said.left_out.push_back(word(e->values, "key"));
        }
    }

    SurveyText take() {
        begin();
        for (const char* table : {"point", "level", "size"}) {
            std::size_t index = 0;
            for (const auto* e : entries_) {
                if (e->kind != table) continue;
                out_.entries[fmt::format("{}[{}]", table, index++)] = e->id;
                Json values = e->values;
                if (e->kind == "level") turn_level(values);
                if (e->kind == "point") add_setup(values);
                line(fmt::format("\n[[{}]]", table));
                for (const auto& [key, value] : values.items())
                    if (!value.is_null()) line(fmt::format("{} = {}", key, store::toml_literal(value)));
            }
        }
        said();
        return std::move(out_);
    }

  private:
    void line(const std::string& text) { out_.text += text + "\n"; }

    void begin() {
        line("# Readings of a head nobody has a drawing of, as they were typed at the machine.");
        line(fmt::format("title = {}", job::toml_string(row_.title)));
        line(fmt::format("units = \"{}\"", row_.units == LengthUnit::inch ? "in" : "mm"));
        if (const auto clamped = word(out_.head, "clamped"); !clamped.empty())
            line(fmt::format("clamped = {}", job::toml_string(clamped)));
        if (word(out_.head, "end") == "readout") line("\n[readout]\nx_sign = -1");
        line("\n[head]");
        line(fmt::format("name = {}", job::toml_string(row_.title)));
        for (const char* key : {"material", "mass"})
            if (out_.head.contains(key) && !out_.head[key].is_null())
                line(fmt::format("{} = {}", key, store::toml_literal(out_.head[key])));
        line("\n[sensor]");
        const auto zero = word(out_.head, "sensor_zero");
        line(fmt::format("zero = {}", job::toml_string(zero.empty() ? "table" : zero)));
        if (const auto sd = number(out_.head, "sensor_sd")) line(fmt::format("sd = {}", *sd));
    }

    void turn_level(Json& values) const {
        if (word(values, "what") != "guide") return;
        if (word(out_.head, "lean_of") == "stem") swap(values);
        const auto way = ways_.find(letters_of(word(values, "id")));
        if (way == ways_.end() || word(values, "across") != "incline") return;
        const auto first = number(values, "first");
        if (!first) return;
        const auto second = number(values, "second");
        const double lean = second ? (*first - *second) / 2 : *first;
        if ((lean > 0) != (way->second == "back")) swap(values);
    }

    // As if the sensor had been turned round first. Alone a reading is turned with its zero in it.
    static void swap(Json& values) {
        const auto first = number(values, "first"), second = number(values, "second");
        if (!first) return;
        values["first"] = second ? *second : -*first + 0.0;
        if (second) values["second"] = *first;
    }

    void add_setup(Json& values) const {
        const auto at = setups_.find(word(values, "setup"));
        if (at == setups_.end()) return;
        for (const char* key : {"tilt", "swing"})
            if (const auto angle = number(at->second, key); angle && !values.contains(key))
                values[key] = std::string(key) == "tilt" ? with_way(at->first, *angle) : *angle;
    }

    // A setup's tilt has the sign of what stands plumb in it.
    double with_way(const std::string& setup, double tilt) const {
        std::set<std::string> ways;
        for (const auto* e : entries_) {
            if (e->kind != "point" || word(e->values, "setup") != setup || word(e->values, "what") != "guide")
                continue;
            const auto way = ways_.find(letters_of(word(e->values, "id")));
            ways.insert(way == ways_.end() ? "" : way->second);
        }
        if (ways.size() != 1 || ways.begin()->empty()) return tilt;
        return std::copysign(tilt, *ways.begin() == "back" ? 1.0 : -1.0);
    }

    void said() {
        const auto count = [&](const char* key, int otherwise, int most) {
            return std::clamp(static_cast<int>(number(out_.head, key).value_or(otherwise)), 0, most);
        };
        out_.said.guides =
            survey::guide_names(count("cylinders", 0, 32), count("intake", 1, 4), count("exhaust", 1, 4));
        out_.said.end = out_.head.contains("end");
        for (const auto* e : entries_) {
            if (e->kind != "setup") continue;
            const std::string name = word(e->values, "setup");
            std::erase_if(out_.said.setups, [&](const auto& s) { return s.setup == name; });
            const auto angle = [&](const char* key) {
                const auto given = number(e->values, key);
                return given ? std::optional(rad(*given)) : std::nullopt;
            };
            out_.said.setups.push_back({name, angle("tilt"), angle("swing")});
        }
    }

    const store::SurveyRow& row_;
    std::vector<const SurveyEntry*> entries_;
    std::map<std::string, Json> setups_;
    std::map<std::string, std::string> ways_;
    SurveyText out_;
};

// Values of an entry that is no reading.
std::optional<HttpError> fault_of_words(const store::NewSurveyEntry& e) {
    const auto angle = [&](const char* key) {
        const auto a = number(e.values, key);
        return !e.values.contains(key) || (a && std::abs(*a) <= 180);
    };
    if (e.kind == "setup" && (word(e.values, "setup").empty() || !angle("tilt") || !angle("swing")))
        return http_error(400, "a setup has a name, and tilt and swing in degrees as the sensor shows them");
    if (e.kind == "way" && (word(e.values, "letters").empty() ||
                            (word(e.values, "way") != "back" && word(e.values, "way") != "front")))
        return http_error(400, "a row of guides (\"I\", \"Ea\") leans to the \"back\" or to the \"front\"");
    if (e.kind == "left out" && word(e.values, "key").empty())
        return http_error(400, "what is left out is named by its key");
    if (e.kind != "head") return std::nullopt;
    if (e.values.contains("end") && word(e.values, "end") != "turned" && word(e.values, "end") != "readout")
        return http_error(400,
                          "end is \"turned\" (the head lies end for end) or \"readout\" (the readout counts "
                          "the other way)");
    for (const auto& [key, low, high] :
         {std::tuple{"cylinders", 1, 32}, {"intake", 1, 3}, {"exhaust", 1, 3}}) {
        const auto n = number(e.values, key);
        if (e.values.contains(key) && (!n || *n != std::floor(*n) || *n < low || *n > high))
            return http_error(400, fmt::format("{} is a whole number from {} to {}", key, low, high));
    }
    return std::nullopt;
}

}  // namespace

std::optional<long long> SurveyText::entry_of(const std::string& key) const {
    const auto end = key.find(']');
    const auto at = entries.find(key.substr(0, end == std::string::npos ? 0 : end + 1));
    return at == entries.end() ? std::nullopt : std::optional(at->second);
}

SurveyText survey_text(const store::SurveyRow& row, const std::vector<SurveyEntry>& entries) {
    return Writer(row, entries).take();
}

std::optional<HttpError> fault_of_survey_entry(const store::SurveyRow& row, std::vector<SurveyEntry> entries,
                                               const store::NewSurveyEntry& entry) {
    if (std::find(std::begin(kinds), std::end(kinds), entry.kind) == std::end(kinds))
        return http_error(400, "kind is head, setup, point, level, size, way or left out");
    if (!entry.values.is_object()) return http_error(400, "the values of an entry are an object of keys");
    if (entry.withdrawn) {
        if (!entry.corrects) return http_error(400, "an entry that takes back says which one it corrects");
        return std::nullopt;
    }
    if (auto fault = fault_of_words(entry)) return fault;
    if (!is_reading(entry.kind) && entry.kind != "head") return std::nullopt;
    constexpr long long itself = -1;
    SurveyEntry added;
    static_cast<store::NewSurveyEntry&>(added) = entry;
    added.id = itself;
    added.sequence = row.sequence + 1;
    entries.push_back(std::move(added));
    const auto text = survey_text(row, entries);
    const auto read = survey::read_readings(text.text, "readings");
    if (read) return std::nullopt;
    for (const auto& fault : read.error()) {
        const bool mine = text.entry_of(fault.key) == itself ||
                          (entry.kind == "head" && !text.entry_of(fault.key) && fault.key != "point");
        if (!mine) continue;
        const auto dot = fault.key.rfind('.');
        HttpError stopped = http_error(
            400, fmt::format("{}: {}", dot == std::string::npos ? fault.key : fault.key.substr(dot + 1),
                             fault.text));
        stopped.body["faults"] = json_of(Faults{fault});
        return stopped;
    }
    return std::nullopt;
}

}  // namespace seatwright::server
