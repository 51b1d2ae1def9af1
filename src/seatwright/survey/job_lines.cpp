#include "seatwright/survey/job_lines.hpp"

#include <fmt/format.h>

#include <cmath>

#include "seatwright/job/writer.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::survey {

void JobLines::figure(const std::string& key, const std::string& value, const std::string& comment) {
    line(fmt::format("{:<32}# {}", fmt::format("{} = {}", key, value), comment));
}

void JobLines::title(const std::string& title) {
    line(fmt::format("title = {}", job::toml_string(title)));
    line(fmt::format("units = \"{}\"", units_ == LengthUnit::inch ? "in" : "mm"));
}

void JobLines::notes(const std::vector<Repeat>& repeats, const std::vector<Missing>& missing) {
    const auto said = [&](const Sentence& words) { return comment_text(in_words(words, {units_})); };
    if (!repeats.empty()) line("# What repeats, and the chance that it is chance:");
    for (const auto& r : repeats) line(fmt::format("#   {} ({:.1g})", said(r.words), r.chance));
    if (!missing.empty()) line("# To be asked or read:");
    for (const auto& m : missing)
        line(fmt::format("#   {}: {}; {}", said(m.what), said(m.why), said(m.next)));
    line("");
}

void JobLines::reach(double tilt_low, double tilt_high, double swing_low, double swing_high) {
    constexpr double hardly = 0.5;
    const auto pair = [](const char* key, double low, double high) {
        return fmt::format("{} = [\"{:.0f} deg\", \"{:.0f} deg\"]", key, std::floor(low) - 1,
                           std::ceil(high) + 1);
    };
    line(pair("tilt", tilt_low, tilt_high));
    line(swing_low < -hardly || swing_high > hardly ? pair("swing", swing_low, swing_high)
                                                    : "swing = [\"0 deg\", \"0 deg\"]");
}

job::Kind JobLines::kind_or_named(const std::optional<job::Kind>& kind, const std::string& id) {
    return kind.value_or(id.find('I') != std::string::npos ? job::Kind::intake : job::Kind::exhaust);
}

std::string JobLines::length(double mm) const {
    return units_ == LengthUnit::inch ? fmt::format("{:.5f}", mm / mm_per_inch + 0.0)
                                      : fmt::format("{:.4f}", mm + 0.0);
}

std::string JobLines::u_words(double mm) const {
    return units_ == LengthUnit::inch ? fmt::format("u = {:.2g} in", mm / mm_per_inch)
                                      : fmt::format("u = {:.2g} mm", mm);
}

std::string JobLines::comment_text(std::string text) {
    for (char& c : text)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
    return text;
}

}  // namespace seatwright::survey
