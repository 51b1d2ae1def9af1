#include "house/rooms.hpp"

#include <algorithm>
#include <fstream>
#include <regex>
#include <set>

namespace seatwright::house {

namespace {

namespace fs = std::filesystem;

std::string room_of(const fs::path& file) {
    return file.parent_path().generic_string();
}

template <class Each>
void each_line(const fs::path& file, const Each& each) {
    std::ifstream in(file);
    std::string text;
    for (int n = 1; std::getline(in, text); ++n) each(n, text);
}

bool stands_on(const Plan& plan, const std::string& from, const std::string& to,
               std::set<std::string>& seen) {
    const auto at = plan.find(from);
    if (at == plan.end() || !seen.insert(from).second) return false;
    return std::any_of(at->second.begin(), at->second.end(),
                       [&](const auto& below) { return below == to || stands_on(plan, below, to, seen); });
}

using Graph = std::map<std::string, std::set<std::string>>;

void collect(const Graph& graph, const std::string& from, std::set<std::string>& reached) {
    const auto at = graph.find(from);
    if (at == graph.end()) return;
    for (const auto& to : at->second)
        if (reached.insert(to).second) collect(graph, to, reached);
}

std::vector<std::string> reaching_themselves(const Graph& graph) {
    std::vector<std::string> names;
    for (const auto& [name, to] : graph) {
        std::set<std::string> reached;
        collect(graph, name, reached);
        if (reached.count(name) > 0) names.push_back(name);
    }
    return names;
}

}  // namespace

std::vector<Use> includes_below(const fs::path& root, const std::string& folder) {
    static const std::regex quoted(R"rx(^\s*#\s*include\s+"([^"]+)")rx");
    std::vector<Use> uses;
    for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
        if (entry.path().extension() != ".cpp" && entry.path().extension() != ".hpp") continue;
        const fs::path own = fs::relative(entry.path(), root);
        each_line(entry.path(), [&](int line, const std::string& text) {
            std::smatch match;
            if (!std::regex_search(text, match, quoted)) return;
            const fs::path to(match[1].str());
            uses.push_back({entry.path().string(), line, room_of(own),
                            to.has_parent_path() ? room_of(to) : "?", fs::path(own).generic_string(),
                            to.generic_string()});
        });
    }
    return uses;
}

std::vector<Use> imports_below(const fs::path& root) {
    static const std::regex own_file(R"rx((?:\bfrom|\bimport|\bimport\()\s*['"](\.[^'"]*)['"])rx");
    std::vector<Use> uses;
    for (const auto& entry : fs::recursive_directory_iterator(root)) {
        if (entry.path().extension() != ".ts" && entry.path().extension() != ".tsx") continue;
        const fs::path own = fs::relative(entry.path(), root);
        each_line(entry.path(), [&](int line, const std::string& text) {
            for (std::sregex_iterator it(text.begin(), text.end(), own_file), end; it != end; ++it) {
                const fs::path to = (own.parent_path() / (*it)[1].str()).lexically_normal();
                uses.push_back({entry.path().string(), line, room_of(own), room_of(to),
                                fs::path(own).replace_extension().generic_string(), to.generic_string()});
            }
        });
    }
    return uses;
}

std::vector<std::string> faults_of(const Plan& plan, const std::vector<Use>& uses) {
    std::vector<std::string> faults;
    for (const auto& use : uses) {
        const std::string where = use.file + ":" + std::to_string(use.line) + ": ";
        std::set<std::string> seen;
        if (plan.count(use.from) == 0)
            faults.push_back(where + "no plan says what the room '" + use.from + "' may use");
        else if (use.from != use.to && !stands_on(plan, use.from, use.to, seen))
            faults.push_back(where + "'" + use.from + "' may not use '" + use.to + "' (" + use.target + ")");
    }
    return faults;
}

std::vector<std::string> circles_of(const Plan& plan) {
    Graph graph;
    for (const auto& [room, on] : plan) graph[room] = {on.begin(), on.end()};
    return reaching_themselves(graph);
}

std::vector<std::string> circles_of(const std::vector<Use>& uses) {
    Graph graph;
    for (const auto& use : uses) graph[use.of].insert(use.target);
    return reaching_themselves(graph);
}

}  // namespace seatwright::house
