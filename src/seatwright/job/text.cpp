#include "seatwright/job/text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

// More lines than this help nobody.
constexpr std::size_t most_faults_told = 200;

}  // namespace

toml::Document read_text(std::string text) {
    toml::Rules rules;
    rules.most_bytes = max_file_bytes;
    rules.moments = false;
    rules.octal_and_binary = false;
    return toml::Document::parse(std::move(text), rules);
}

LengthUnit units_of(const toml::Document& document, LengthUnit otherwise) {
    const auto units = document.root().find("units").text();
    if (units == "in") return LengthUnit::inch;
    return units == "mm" ? LengthUnit::mm : otherwise;
}

Faults faults_of_text(const toml::Document& document, const std::string& file) {
    Faults out;
    out.reserve(document.faults().size());
    for (const auto& wrong : document.faults())
        out.push_back({file, wrong.at.line, std::string(wrong.at.line > 0 ? of_the_text : ""), wrong.text});
    return out;
}

Faults in_reading_order(Faults faults, const std::string& job_file, std::size_t more) {
    std::stable_sort(faults.begin(), faults.end(), [&](const Fault& a, const Fault& b) {
        const bool a_shop = a.file != job_file, b_shop = b.file != job_file;
        if (a_shop != b_shop) return b_shop;
        return a.line < b.line;
    });
    if (faults.size() > most_faults_told) {
        more += faults.size() - most_faults_told;
        faults.resize(most_faults_told);
    }
    if (more > 0) faults.push_back({job_file, 0, "", fmt::format("and {} more faults", more)});
    return faults;
}

}  // namespace seatwright::job
