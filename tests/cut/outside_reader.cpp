#include "outside_reader.hpp"
#include "places.hpp"

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>

namespace seatwright::outside {

namespace fs = std::filesystem;

namespace {

std::string thousandfold(const std::string& program) {
    static const std::regex axis("([XYZR])(-?[0-9.]+)");
    std::istringstream in(program);
    std::string out;
    for (std::string line; std::getline(in, line);) {
        const bool comment = !line.empty() && (line[0] == '(' || line[0] == ';');
        out += (comment ? line : std::regex_replace(line, axis, "$1[$2*1000]")) + "\n";
    }
    return out;
}

std::string slurp(const fs::path& path) {
    std::ifstream file(path);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

Call call_of(const std::string& name, const std::string& words) {
    Call call{name, {}, words};
    const char* at = words.c_str();
    for (double& value : call.at) {
        char* end = nullptr;
        value = std::strtod(at, &end);
        if (end == at) break;
        at = *end == ',' ? end + 1 : end;
    }
    return call;
}

}  // namespace

std::optional<std::string> interpreter() {
    const char* named = std::getenv("SEATWRIGHT_RS274");
    const fs::path folder =
        named != nullptr ? fs::path(named) : fs::path(places::root) / "build/outside/rs274";
    if (!fs::exists(folder / "usr/bin/rs274")) return std::nullopt;
    return folder.string();
}

Reading read(const std::string& folder, const std::string& program) {
    const fs::path room = fs::temp_directory_path() / ("seatwright-outside-" + std::to_string(getpid()));
    fs::create_directories(room);
    std::ofstream(room / "p.ngc") << thousandfold(program);
    std::ofstream tools(room / "t.tbl");
    for (int t = 1; t <= 20; ++t) tools << "T" << t << " P" << t << " D0 Z+0.0\n";
    tools.close();
    const std::string command = "cd '" + room.string() + "' && HOME=. LD_LIBRARY_PATH='" + folder +
                                "/usr/lib' '" + folder +
                                "/usr/bin/rs274' -g -t t.tbl -v t.var p.ngc out.canon </dev/null >said 2>&1";
    const int status = std::system(command.c_str());
    Reading reading;
    if (status != 0) reading.fault = slurp(room / "said");
    if (status != 0 && reading.fault.empty()) reading.fault = "no answer";
    static const std::regex form(R"(^\s*\d+\s+N\S*\s+([A-Z0-9_]+)\((.*)\)\s*$)");
    std::istringstream in(slurp(room / "out.canon"));
    bool started = false;
    for (std::string line; std::getline(in, line);) {
        std::smatch found;
        if (!std::regex_match(line, found, form)) continue;
        // Before this it sets its own starting state, after the end it resets.
        started = started || found[1] == "ON_RESET";
        if (started) reading.calls.push_back(call_of(found[1], found[2]));
        if (found[1] == "PROGRAM_END") break;
    }
    std::error_code ignored;
    fs::remove_all(room, ignored);
    return reading;
}

}  // namespace seatwright::outside
