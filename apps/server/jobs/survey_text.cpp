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

const char* const survey_kinds[] = {"head", "setup", "point", "level", "size", "way", "left out"};

bool is_survey_reading(const std::string& kind) {
    return kind == "point" || kind == "level" || kind == "size";
}

std::string word_in(const Json& values, const char* key) {
    const auto at = values.find(key);
    return at != values.end() && at->is_string() ? at->get<std::string>() : std::string();
}

std::optional<double> number_in(const Json& values, const char* key) {
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
            if (e->kind == "setup") setups_[word_in(e->values, "setup")] = e->values;
            if (e->kind == "way") say_way(e->values);
            if (e->kind == "left out") out_.said.left_out.push_back(word_in(e->values, "key"));
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
                // From which feed it came: beside the reading, not in it.
                if (const auto from = word_in(values, "from"); !from.empty()) line("\n# " + from);
                values.erase("from");
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
        if (const auto clamped = word_in(out_.head, "clamped"); !clamped.empty())
            line(fmt::format("clamped = {}", job::toml_string(clamped)));
        if (word_in(out_.head, "end") == "readout") line("\n[readout]\nx_sign = -1");
        line("\n[head]");
        line(fmt::format("name = {}", job::toml_string(row_.title)));
        for (const char* key : {"material", "mass"})
            if (out_.head.contains(key) && !out_.head[key].is_null())
                line(fmt::format("{} = {}", key, store::toml_literal(out_.head[key])));
        line("\n[sensor]");
        const auto zero = word_in(out_.head, "sensor_zero");
        line(fmt::format("zero = {}", job::toml_string(zero.empty() ? "table" : zero)));
        if (const auto sd = number_in(out_.head, "sensor_sd")) line(fmt::format("sd = {}", *sd));
    }

    void say_way(const Json& values) {
        const std::string id = word_in(values, "id");
        if (id.empty()) {
            ways_[word_in(values, "letters")] = word_in(values, "way");
        } else {
            ways_along_[letters_of(id)] = {id, word_in(values, "way")};
        }
    }

    // A row somebody has looked at has the sign that was seen, and its levels are stood by.
    void turn_level(Json& values) const {
        if (word_in(values, "what") != "guide") return;
        if (word_in(out_.head, "lean_of") == "stem") swap(values);
        const auto missed = sign_missed(values);
        if (!missed) return;
        if (*missed) swap(values);
        values["sure"] = true;
    }

    // None: nobody has looked.
    std::optional<bool> sign_missed(const Json& level) const {
        const std::string letters = letters_of(word_in(level, "id"));
        if (word_in(level, "across") != "cant") {
            const auto way = ways_.find(letters);
            const auto lean = lean_in(level);
            if (way == ways_.end() || !lean) return std::nullopt;
            return (*lean > 0) != (way->second == "back");
        }
        // Along the head one guide of the row was looked at: the sign of all is right or missed as its is.
        const auto way = ways_along_.find(letters);
        if (way == ways_along_.end()) return std::nullopt;
        const auto lean = cant_read(way->second.first);
        if (!lean) return std::nullopt;
        return (*lean > 0) != (way->second.second == "right");
    }

    // As it was read, on the chamber side.
    std::optional<double> cant_read(const std::string& guide) const {
        std::optional<double> out;
        for (const auto* e : entries_) {
            if (e->kind != "level" || word_in(e->values, "id") != guide ||
                word_in(e->values, "across") != "cant")
                continue;
            Json values = e->values;
            if (word_in(out_.head, "lean_of") == "stem") swap(values);
            if (const auto lean = lean_in(values)) out = lean;
        }
        return out;
    }

    static std::optional<double> lean_in(const Json& level) {
        const auto first = number_in(level, "first"), second = number_in(level, "second");
        return first && second ? std::optional((*first - *second) / 2) : first;
    }

    // As if the sensor had been turned round first. Alone a reading is turned with its zero in it.
    static void swap(Json& values) {
        const auto first = number_in(values, "first"), second = number_in(values, "second");
        if (!first) return;
        values["first"] = second ? *second : -*first + 0.0;
        if (second) values["second"] = *first;
    }

    void add_setup(Json& values) const {
        const auto at = setups_.find(word_in(values, "setup"));
        if (at == setups_.end()) return;
        for (const char* key : {"tilt", "swing"})
            if (const auto angle = number_in(at->second, key); angle && !values.contains(key))
                values[key] = std::string(key) == "tilt" ? with_way(at->first, *angle)
                                                         : with_way_along(at->first, *angle);
    }

    std::vector<std::string> guides_over(const std::string& setup) const {
        std::vector<std::string> out;
        for (const auto* e : entries_)
            if (e->kind == "point" && word_in(e->values, "setup") == setup &&
                word_in(e->values, "what") == "guide")
                out.push_back(word_in(e->values, "id"));
        return out;
    }

    // A setup's tilt has the sign of what stands plumb in it.
    double with_way(const std::string& setup, double tilt) const {
        std::set<std::string> ways;
        for (const auto& id : guides_over(setup)) {
            const auto way = ways_.find(letters_of(id));
            ways.insert(way == ways_.end() ? "" : way->second);
        }
        if (ways.size() != 1 || ways.begin()->empty()) return tilt;
        return std::copysign(tilt, *ways.begin() == "back" ? 1.0 : -1.0);
    }

    // Its swing has the other sign than their cants.
    double with_way_along(const std::string& setup, double swing) const {
        std::set<int> signs;
        for (const auto& id : guides_over(setup)) {
            const auto lean = cant_read(id);
            const auto missed = sign_missed(Json{{"id", id}, {"across", "cant"}});
            signs.insert(lean && missed ? ((*lean > 0) != *missed ? 1 : -1) : 0);
        }
        if (signs.size() != 1 || *signs.begin() == 0) return swing;
        return std::copysign(swing, -*signs.begin());
    }

    void said() {
        const auto count = [&](const char* key, int otherwise, int most) {
            return std::clamp(static_cast<int>(number_in(out_.head, key).value_or(otherwise)), 0, most);
        };
        out_.said.guides =
            survey::guide_names(count("cylinders", 0, 32), count("intake", 1, 4), count("exhaust", 1, 4));
        out_.said.end = out_.head.contains("end");
        for (const auto* e : entries_) {
            if (e->kind == "way") not_plumb_after_all(e->values);
            if (e->kind != "setup") continue;
            const std::string name = word_in(e->values, "setup");
            std::erase_if(out_.said.setups, [&](const auto& s) { return s.setup == name; });
            const auto angle = [&](const char* key) {
                const auto given = number_in(e->values, key);
                return given ? std::optional(rad(*given)) : std::nullopt;
            };
            out_.said.setups.push_back({name, angle("tilt"), angle("swing"), word_in(e->values, "id")});
        }
    }

    // Set by the figure and not by the pilot, which a look then saw lean the other way: it is to be set anew.
    void not_plumb_after_all(const Json& way) {
        const std::string letters = word_in(way, "letters");
        if (letters.empty()) return;
        const bool back = word_in(way, "way") == "back";
        std::erase_if(out_.said.setups, [&](const auto& s) {
            return letters_of(s.by) == letters && s.tilt && (*s.tilt > 0) != back &&
                   guides_over(s.setup).empty();
        });
    }

    const store::SurveyRow& row_;
    std::vector<const SurveyEntry*> entries_;
    std::map<std::string, Json> setups_;
    std::map<std::string, std::string> ways_;  // of rows, by their letters: "back", "front"
    // The guide of the row that was looked at, and whether it leans "right" or "left".
    std::map<std::string, std::pair<std::string, std::string>> ways_along_;
    SurveyText out_;
};

bool is_one_line(const Json& value) {
    constexpr std::size_t longest = 2000;
    if (!value.is_string()) return false;
    const auto& words = value.get_ref<const std::string&>();
    return words.size() <= longest &&
           std::none_of(words.begin(), words.end(), [](unsigned char c) { return c < ' ' || c == 0x7f; });
}

bool is_way(const Json& values) {
    const std::string way = word_in(values, "way");
    if (!letters_of(word_in(values, "id")).empty()) return way == "right" || way == "left";
    return !word_in(values, "letters").empty() && (way == "back" || way == "front");
}

// Values of an entry that is no reading.
std::optional<HttpError> fault_of_words(const store::NewSurveyEntry& e) {
    const auto angle = [&](const char* key) {
        const auto a = number_in(e.values, key);
        return !e.values.contains(key) || (a && std::abs(*a) <= 180);
    };
    if (e.kind == "setup" && (word_in(e.values, "setup").empty() || !angle("tilt") || !angle("swing")))
        return http_error(400, "a setup has a name, and tilt and swing in degrees as the sensor shows them");
    if (e.kind == "way" && !is_way(e.values))
        return http_error(
            400,
            "a row of guides (letters \"I\", \"Ea\") leans to the \"back\" or to the \"front\", "
            "along the head one guide (id \"1I\") to the \"right\" or to the \"left\"");
    if (e.kind == "left out" && word_in(e.values, "key").empty())
        return http_error(400, "what is left out is named by its key");
    if (e.kind != "head") return std::nullopt;
    if (e.values.contains("end") && word_in(e.values, "end") != "turned" &&
        word_in(e.values, "end") != "readout")
        return http_error(400,
                          "end is \"turned\" (the head lies end for end) or \"readout\" (the readout counts "
                          "the other way)");
    constexpr std::size_t most_accepted = 100;
    if (e.values.contains("accepted") &&
        (!e.values["accepted"].is_array() || e.values["accepted"].size() > most_accepted ||
         !std::all_of(e.values["accepted"].begin(), e.values["accepted"].end(), is_one_line)))
        return http_error(400, fmt::format("accepted is a list of at most {} of what repeats, as "
                                           "found.repeats names it",
                                           most_accepted));
    for (const auto& [key, low, high] :
         {std::tuple{"cylinders", 1, 32}, {"intake", 1, 3}, {"exhaust", 1, 3}}) {
        const auto n = number_in(e.values, key);
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
    if (std::find(std::begin(survey_kinds), std::end(survey_kinds), entry.kind) == std::end(survey_kinds))
        return http_error(400, "kind is head, setup, point, level, size, way or left out");
    if (!entry.values.is_object()) return http_error(400, "the values of an entry are an object of keys");
    if (entry.withdrawn) {
        if (!entry.corrects) return http_error(400, "an entry that takes back says which one it corrects");
        return std::nullopt;
    }
    if (auto fault = fault_of_words(entry)) return fault;
    if (entry.values.contains("from") && !is_one_line(entry.values["from"]))
        return http_error(400, "from is where a reading came from, one line of at most 2000 letters");
    if (!is_survey_reading(entry.kind) && entry.kind != "head") return std::nullopt;
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
        return http_error(
            400,
            fmt::format("{}: {}", dot == std::string::npos ? fault.key : fault.key.substr(dot + 1),
                        fault.text),
            {fault});
    }
    return std::nullopt;
}

}  // namespace seatwright::server
