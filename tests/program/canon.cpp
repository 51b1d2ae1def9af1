#include "canon.hpp"

#include <unistd.h>

#include <cctype>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "places.hpp"

namespace seatwright::sim {

namespace fs = std::filesystem;

namespace {

constexpr const char* parting = "program parted here";
constexpr const char* beginning = "program begins here";
// Each program begins with the machine as switched on.
constexpr const char* as_switched_on = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 X0 Y0 Z0\n";

bool speaks(const std::string& line) {
    return line.empty() || line[0] == '(' || line[0] == ';';
}

// Axis words as expressions, "Z1.5" to "Z[1.5*1000]"; the end of the program as a comment, so that others
// follow.
std::string handed_over(const std::string& program) {
    std::istringstream in(program);
    std::string out;
    for (std::string line; std::getline(in, line);) {
        if (speaks(line)) {
            // It passes over what stands behind a semicolon; a person reads that too.
            out += (line.empty() || line[0] == '(' ? line : "(" + line.substr(1) + ")") + "\n";
            continue;
        }
        std::string put;
        for (std::size_t i = 0; i < line.size(); ++i) {
            put += line[i];
            if (std::string("XYZ").find(line[i]) == std::string::npos) continue;
            std::size_t end = i + 1;
            while (end < line.size() && (std::isdigit(static_cast<unsigned char>(line[end])) ||
                                         line[end] == '.' || line[end] == '-'))
                ++end;
            put += "[" + line.substr(i + 1, end - i - 1) + "*1000]";
            i = end - 1;
        }
        const std::size_t m = put.find('M');
        const std::string word = m == std::string::npos ? "" : put.substr(m);
        out += (word == "M30" || word == "M2" ? std::string("(") + parting + ")" : put) + "\n";
    }
    return out;
}

std::vector<CanonCall> run(const std::string& folder, const std::string& text, std::string& fault) {
    const fs::path room = fs::temp_directory_path() / ("seatwright-canon-" + std::to_string(getpid()));
    fs::create_directories(room);
    std::ofstream(room / "p.ngc") << text << "M2\n";
    {
        std::ofstream tools(room / "t.tbl");
        for (int t = 1; t <= 20; ++t) tools << "T" << t << " P" << t << " D0 Z+" << t << ".0\n";
    }
    const std::string command = "cd '" + room.string() + "' && HOME=. LD_LIBRARY_PATH='" + folder +
                                "/usr/lib' '" + folder +
                                "/usr/bin/rs274' -g -t t.tbl -v t.var p.ngc out.canon </dev/null >said 2>&1";
    const int status = std::system(command.c_str());
    std::vector<CanonCall> calls;
    std::ifstream canon(room / "out.canon");
    bool started = false;
    for (std::string line; std::getline(canon, line);) {
        const std::size_t n = line.find(" N"), open = line.find('('), close = line.rfind(')');
        if (n == std::string::npos || open == std::string::npos || close == std::string::npos || close < open)
            continue;
        std::size_t name = line.find(' ', n + 1);
        name = line.find_first_not_of(' ', name);
        CanonCall call{line.substr(name, open - name), line.substr(open + 1, close - open - 1)};
        started = started || call.name == "ON_RESET";
        if (call.name == "PROGRAM_END") break;
        if (started) calls.push_back(std::move(call));
    }
    if (status != 0) {
        std::ifstream said(room / "said");
        std::stringstream all;
        all << said.rdbuf();
        fault = all.str().empty() ? "no answer" : all.str();
    }
    std::error_code ignored;
    fs::remove_all(room, ignored);
    return calls;
}

}  // namespace

double CanonCall::number(int which) const {
    const char* at = words.c_str();
    for (int i = 0;; ++i) {
        char* end = nullptr;
        const double value = std::strtod(at, &end);
        if (end == at) return 0;
        if (i == which) return value;
        at = end;
        while (*at == ',' || *at == ' ') ++at;
    }
}

std::optional<std::string> interpreter_folder() {
    const char* named = std::getenv("SEATWRIGHT_RS274");
    const fs::path folder =
        named != nullptr ? fs::path(named) : fs::path(places::root) / "build/outside/rs274";
    if (!fs::exists(folder / "usr/bin/rs274")) return std::nullopt;
    return folder.string();
}

std::vector<CanonProgram> read_programs(const std::string& folder, const std::vector<std::string>& programs) {
    std::string all;
    for (const std::string& program : programs)
        all += as_switched_on + ("(" + std::string(beginning) + ")\n") + handed_over(program);
    std::string fault;
    std::vector<CanonProgram> out(1);
    for (CanonCall& call : run(folder, all, fault)) {
        if (call.name == "COMMENT" && call.words.find(parting) != std::string::npos)
            out.emplace_back();
        else if (call.name == "COMMENT" && call.words.find(beginning) != std::string::npos)
            out.back().calls.clear();
        else
            out.back().calls.push_back(std::move(call));
    }
    // The one that was being read when it stopped is the one refused.
    out.back().fault = fault;
    if (fault.empty()) out.pop_back();
    while (out.size() < programs.size()) out.push_back({{}, "not reached"});
    return out;
}

}  // namespace seatwright::sim
