// Job and shop files as TOML documents.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/toml/document.hpp"

namespace seatwright::job {

// The key of a fault of the text itself, where no key of a job can be named.
inline constexpr std::string_view of_the_text = "TOML";

// The text by the rules of job and shop files: at most max_file_bytes (reader.hpp), no dates or times outside
// quotes, no octal or binary numbers.
toml::Document read_text(std::string text);

// The unit it names, `otherwise` if it names none.
LengthUnit units_of(const toml::Document& document, LengthUnit otherwise = LengthUnit::mm);

// What is wrong with the text itself, as faults of that file.
Faults faults_of_text(const toml::Document& document, const std::string& file);

// Those of that file first, each file's by line, the first 200; `more` are known of without a sentence.
Faults in_reading_order(Faults faults, const std::string& job_file, std::size_t more);

}  // namespace seatwright::job
