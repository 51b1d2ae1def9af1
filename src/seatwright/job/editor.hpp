// Changes to a job's text that leave every other byte of it alone, by the rules of job files. For several
// changes of one text, read it once and change the document (toml/edit.hpp).
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "seatwright/toml/edit.hpp"

namespace seatwright::job {

// The changed text, or a sentence saying why the change cannot be made.
using Edited = tl::expected<std::string, std::string>;
using Fields = toml::Fields;

Edited set_value(std::string_view text, std::string_view path, std::string_view literal);
Edited append_table(std::string_view text, std::string_view path, const Fields& fields);
Edited remove_value(std::string_view text, std::string_view path);

}  // namespace seatwright::job
