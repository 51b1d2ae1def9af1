#include "cli/say.hpp"

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>

namespace seatwright::cli {

report::TableStyle table_style() {
    report::TableStyle style;
    style.colour = ::isatty(STDOUT_FILENO) == 1 && std::getenv("NO_COLOR") == nullptr;
    return style;
}

void say(const std::string& text) {
    std::fwrite(text.data(), 1, text.size(), stdout);
}

void say_json(const nlohmann::ordered_json& json) {
    // Bytes that are not UTF-8 can come in by a file name: they are replaced, never thrown over.
    say(json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n");
}

}  // namespace seatwright::cli
