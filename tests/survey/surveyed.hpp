// From the text of readings to a survey, as the command does it; a fault is a test that stops with its words.
#pragma once

#include <stdexcept>
#include <string>

#include "seatwright/survey/read.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

inline std::string words_of(const Faults& faults) {
    std::string all;
    for (const auto& fault : faults) all += to_line(fault) + "\n";
    return all;
}

inline Survey surveyed(const std::string& text) {
    const auto readings = read_readings(text, "readings.toml");
    if (!readings) throw std::runtime_error(words_of(readings.error()));
    auto out = survey(*readings);
    if (!out) throw std::runtime_error(words_of(out.error()));
    return *out;
}

// The faults of readings that are refused; empty if they are not.
inline Faults refused(const std::string& text) {
    const auto readings = read_readings(text, "readings.toml");
    if (!readings) return readings.error();
    const auto out = survey(*readings);
    return out ? Faults{} : out.error();
}

inline const Valve& valve(const Survey& survey, const std::string& id) {
    for (const auto& v : survey.valves)
        if (v.id == id) return v;
    throw std::runtime_error("no valve " + id);
}

}  // namespace seatwright::survey
