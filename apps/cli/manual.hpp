// The manual page, made from what the command line takes, so that it names every command and option there is.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace seatwright::cli {

// In the man macros of roff, whole: `seatwright --manual | man -l -`.
std::string manual(const CLI::App& app);

}  // namespace seatwright::cli
