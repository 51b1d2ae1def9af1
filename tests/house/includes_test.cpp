// The house rule: includes go only downwards, and files stay small enough to read in one sitting.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

// Each room may include itself and what stands before it.
const std::vector<std::string> order = {"base",
                                        "toml",
                                        "job",
                                        "hold",
                                        "find",
                                        "shape",
                                        "cut",
                                        "prove",
                                        "plan",
                                        "forecast",
                                        "report",
                                        "papers/page",
                                        "papers/drawings",
                                        "papers/sheet",
                                        "papers/certificate",
                                        "papers"};

bool allowed(const std::string& from, const std::string& to) {
    if (from == to) return true;
    // The store keeps documents and readings; it computes nothing.
    if (from == "store") return to == "base" || to == "toml" || to == "job";
    // Two papers that know nothing of each other.
    if (from == "papers/certificate" && to == "papers/sheet") return false;
    const auto a = std::find(order.begin(), order.end(), from), b = std::find(order.begin(), order.end(), to);
    return a != order.end() && b != order.end() && b < a;
}

struct Include {
    std::string file, from, to;
    int line;
};

std::vector<Include> all_includes() {
    std::vector<Include> out;
    const fs::path root = fs::path(places::root) / "src" / "seatwright";
    const std::regex own(R"rx(^\s*#include\s+"seatwright/([a-z/]+)/[a-z0-9_]+\.hpp")rx");
    for (const auto& entry : fs::recursive_directory_iterator(root)) {
        if (!entry.is_regular_file()) continue;
        const std::string room = fs::relative(entry.path().parent_path(), root).string();
        std::ifstream file(entry.path());
        std::string text;
        for (int n = 1; std::getline(file, text); ++n) {
            std::smatch match;
            if (std::regex_search(text, match, own))
                out.push_back({entry.path().string(), room, match[1], n});
        }
    }
    return out;
}

TEST(House, IncludesGoOnlyDownwards) {
    const auto includes = all_includes();
    ASSERT_GT(includes.size(), 20u) << "the sources were not found";
    for (const auto& i : includes)
        EXPECT_TRUE(allowed(i.from, i.to))
            << i.file << ":" << i.line << ": " << i.from << " includes " << i.to;
}

TEST(House, NoHeaderIncludesItselfByARoundabout) {
    std::map<std::string, std::set<std::string>> graph;
    const fs::path root = fs::path(places::root) / "src";
    const std::regex own(R"rx(^\s*#include\s+"(seatwright/[a-z0-9_/]+\.hpp)")rx");
    for (const auto& entry : fs::recursive_directory_iterator(root)) {
        if (entry.path().extension() != ".hpp") continue;
        std::ifstream file(entry.path());
        std::string text;
        while (std::getline(file, text)) {
            std::smatch match;
            if (std::regex_search(text, match, own))
                graph[fs::relative(entry.path(), root).string()].insert(match[1]);
        }
    }
    ASSERT_GT(graph.size(), 10u);
    // Leaves fall off until only circles are left.
    for (std::size_t before = graph.size() + 1; before != graph.size();) {
        before = graph.size();
        for (auto it = graph.begin(); it != graph.end();) {
            const bool leaf = std::none_of(it->second.begin(), it->second.end(),
                                           [&](const auto& h) { return graph.count(h) > 0; });
            it = leaf ? graph.erase(it) : std::next(it);
        }
    }
    for (const auto& [header, to] : graph) ADD_FAILURE() << "in a circle of includes: " << header;
}

TEST(House, FilesStayReadable) {
    constexpr int most_lines = 500;
    int seen = 0;
    for (const char* folder : {"src", "apps", "tests", "bench", "fuzz", "web/src"}) {
        const fs::path root = fs::path(places::root) / folder;
        if (!fs::exists(root)) continue;
        for (const auto& entry : fs::recursive_directory_iterator(root)) {
            const auto ext = entry.path().extension();
            if (ext != ".cpp" && ext != ".hpp" && ext != ".ts" && ext != ".tsx") continue;
            if (entry.path().parent_path().filename() == "made") continue;  // read where it is made from
            std::ifstream file(entry.path());
            std::string text;
            int lines = 0;
            while (std::getline(file, text)) ++lines;
            EXPECT_LE(lines, most_lines) << entry.path();
            ++seen;
        }
    }
    EXPECT_GT(seen, 30);
}

}  // namespace
}  // namespace seatwright
