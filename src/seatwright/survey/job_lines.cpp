#include "seatwright/survey/job_lines.hpp"

#include <fmt/format.h>

#include "seatwright/job/writer.hpp"

namespace seatwright::survey {

void JobLines::figure(const std::string& key, const std::string& value, const std::string& comment) {
    line(fmt::format("{:<32}# {}", fmt::format("{} = {}", key, value), comment));
}

void JobLines::title(const std::string& title) {
    line(fmt::format("title = {}", job::toml_string(title)));
    line(fmt::format("units = \"{}\"", units_ == LengthUnit::inch ? "in" : "mm"));
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
