#include "seatwright/report/keys_json.hpp"

#include <cmath>

#include "seatwright/job/keys.hpp"
#include "seatwright/job/measures.hpp"

namespace seatwright::report {

namespace {

using KeyJson = nlohmann::ordered_json;
using job::Dimension;

std::string key_word(Dimension dimension) {
    switch (dimension) {
        case Dimension::feed:
            return "feed";
        case Dimension::surface_speed:
            return "surface_speed";
        case Dimension::axis_speed:
            return "axis_speed";
        case Dimension::specific_cut:
            return "specific_cut";
        case Dimension::modulus:
            return "modulus";
        case Dimension::rotation:
            return "rotation";
        case Dimension::number:
            return "number";
        default: {  // "a length"
            const auto name = job::measure(dimension).name;
            return std::string(name.substr(name.find(' ') + 1));
        }
    }
}

const char* key_word(job::Who who) {
    switch (who.hand()) {
        case job::Who::machinists:
            return "machinist";
        case job::Who::machinists_at_first:
            return "at first";
        case job::Who::leads:
            return "lead";
    }
    return "";
}

bool is_number(const job::Key& key) {
    using enum job::ValueType;
    return key.type == quantity || key.type == range || key.type == quantities || key.type == point ||
           key.type == points;
}

KeyJson key_json(const job::Key& key) {
    KeyJson json{{"key", key.path},
                 {"label", job::label_of(key)},
                 {"stage", job::name_of(key.stage)},
                 {"who", key_word(key.who)},
                 {"limit", key.limit}};
    if (is_number(key)) json["dimension"] = key_word(key.dimension);
    if (!key.fallback.empty()) json["otherwise"] = key.fallback;
    if (!key.trade.what.empty()) {
        json["what"] = key.trade.what;
        json["low"] = key.trade.low;
        json["high"] = key.trade.high;
    }
    if (key.limit && is_number(key) && std::isfinite(key.bounds.low))
        json[key.bounds.low_open ? "above" : "from"] = key.bounds.low;
    if (std::isfinite(key.new_head.low)) json["new_head"] = {key.new_head.low, key.new_head.high};
    return json;
}

KeyJson units_json(Dimension dimension) {
    const auto& measure = job::measure(dimension);
    const double bare = measure.bare.empty() ? 1 : measure.bare_factor;
    KeyJson factors = KeyJson::object(), spellings = KeyJson::object();
    for (const auto& unit : job::all_units())
        if (job::fits(measure, unit.base))
            (unit.shown ? factors : spellings)[std::string(unit.text)] = unit.factor / bare;
    return {{"bare", job::bare_unit_of(dimension, LengthUnit::mm)},
            {"factors", std::move(factors)},
            {"spellings", std::move(spellings)}};
}

}  // namespace

nlohmann::ordered_json keys_json() {
    KeyJson keys = KeyJson::array(), units = KeyJson::object();
    for (const auto& key : job::all_keys()) keys.push_back(key_json(key));
    for (int d = 0; d <= static_cast<int>(Dimension::number); ++d)
        units[key_word(static_cast<Dimension>(d))] = units_json(static_cast<Dimension>(d));
    return {{"keys", std::move(keys)}, {"units", std::move(units)}};
}

}  // namespace seatwright::report
