#include "seatwright/job/text.hpp"

#include "seatwright/job/reader.hpp"

namespace seatwright::job {

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

}  // namespace seatwright::job
