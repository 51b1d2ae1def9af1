// The house rule: every page of the docs is named in docs/README.md, by who reads it, and a link within them
// leads to something: a file that is there, a heading it has. Every table of what was measured is linked from
// a page that quotes it, and README.md says of every room what stands in it.
#include <gtest/gtest.h>

#include <cctype>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

// The lines of a page that are no code; what stands between backquotes is left out.
std::vector<std::string> prose_of(const std::string& page) {
    static const std::regex code("`[^`]*`");
    std::vector<std::string> out;
    bool fenced = false;
    std::istringstream lines(page);
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("```")) fenced = !fenced;
        out.push_back(fenced ? "" : line);
    }
    for (auto& line : out)
        if (!line.starts_with("#")) line = std::regex_replace(line, code, "");
    return out;
}

// What a heading is reached by: its letters and figures, small, with hyphens for blanks.
std::string anchor_of(const std::string& heading) {
    static const std::regex link(R"(\[([^\]]*)\]\([^)]*\))");
    std::string out;
    for (const char c : std::regex_replace(heading, link, "$1")) {
        const auto code = static_cast<unsigned char>(c);
        if (code >= 0x80 || c == '_' || c == '-' || std::isalnum(code) != 0)
            out += static_cast<char>(std::tolower(code));
        else if (c == ' ')
            out += '-';
    }
    return out;
}

std::set<std::string> anchors_of(const std::string& page) {
    static const std::regex heading(R"(^#{1,6} +(.*?) *$)");
    std::set<std::string> out;
    std::map<std::string, int> before;
    for (const auto& line : prose_of(page)) {
        std::smatch found;
        if (!std::regex_match(line, found, heading)) continue;
        const std::string anchor = anchor_of(found[1]);
        const int n = before[anchor]++;
        out.insert(n == 0 ? anchor : anchor + "-" + std::to_string(n));
    }
    return out;
}

struct Link {
    int line = 0;
    std::string path, anchor;  // path: empty for the page itself
};

// Those that stay in the house.
std::vector<Link> links_of(const std::string& page) {
    static const std::regex link(R"(\]\(([^)\s]+)\))"), elsewhere(R"(^[a-z]+:.*)");
    std::vector<Link> out;
    int n = 0;
    for (const auto& line : prose_of(page)) {
        ++n;
        for (std::sregex_iterator at(line.begin(), line.end(), link), end; at != end; ++at) {
            const std::string to = (*at)[1];
            if (std::regex_match(to, elsewhere)) continue;
            const auto hash = to.find('#');
            out.push_back({n, to.substr(0, hash), hash == std::string::npos ? "" : to.substr(hash + 1)});
        }
    }
    return out;
}

std::string text_of(const fs::path& path) {
    std::ifstream file(path);
    return {std::istreambuf_iterator<char>(file), {}};
}

// A sentence for each link of `page`, which stands at `path`, that leads nowhere.
std::vector<std::string> dead_links(const std::string& page, const fs::path& path) {
    std::vector<std::string> out;
    for (const Link& link : links_of(page)) {
        const fs::path to = link.path.empty() ? path : (path.parent_path() / link.path).lexically_normal();
        const std::string said = path.filename().string() + ":" + std::to_string(link.line) + ": ";
        if (!link.path.empty() && !fs::exists(to))
            out.push_back(said + "there is no " + link.path);
        else if (!link.anchor.empty() &&
                 !anchors_of(link.path.empty() ? page : text_of(to)).contains(link.anchor))
            out.push_back(said + (link.path.empty() ? "it" : link.path) + " has no heading #" + link.anchor);
    }
    return out;
}

std::vector<fs::path> pages() {
    std::vector<fs::path> out{fs::path(places::root) / "README.md"};
    for (const auto& entry : fs::directory_iterator(fs::path(places::root) / "docs"))
        if (entry.path().extension() == ".md") out.push_back(entry.path());
    return out;
}

TEST(Docs, NoLinkLeadsNowhere) {
    std::size_t links = 0;
    for (const fs::path& path : pages()) {
        const std::string page = text_of(path);
        links += links_of(page).size();
        for (const auto& fault : dead_links(page, path)) ADD_FAILURE() << fault;
    }
    EXPECT_GT(links, 100u);
}

TEST(Docs, EveryPageIsNamedInTheIndex) {
    const fs::path index = fs::path(places::root) / "docs/README.md";
    std::set<std::string> named{"README.md"};
    for (const Link& link : links_of(text_of(index))) named.insert(link.path);
    std::size_t seen = 0;
    for (const fs::path& path : pages()) {
        const std::string name = path.filename().string();
        EXPECT_TRUE(named.contains(name)) << name << " stands in no line of docs/README.md";
        ++seen;
    }
    EXPECT_GT(seen, 35u);
}

TEST(Docs, EveryTableOfFiguresIsLinkedFromAPage) {
    std::set<std::string> linked;
    for (const fs::path& path : pages())
        for (const Link& link : links_of(text_of(path))) linked.insert(link.path);
    for (const auto& entry : fs::directory_iterator(fs::path(places::root) / "docs/figures")) {
        const std::string name = "figures/" + entry.path().filename().string();
        EXPECT_TRUE(linked.contains(name)) << "docs/" << name << " is quoted by no page";
    }
}

TEST(Docs, TheReadmeNamesEveryRoom) {
    const std::string readme = text_of(fs::path(places::root) / "README.md");
    const std::string layout = readme.substr(readme.find("## How the code is laid out"));
    for (const auto& entry : fs::directory_iterator(fs::path(places::root) / "src/seatwright")) {
        const std::string room = entry.path().filename().string() + "/";
        EXPECT_NE(layout.find(" " + room), std::string::npos) << "src/seatwright/" << room;
    }
    for (const auto& entry : fs::directory_iterator(fs::path(places::root) / "apps")) {
        const std::string room = "apps/" + entry.path().filename().string();
        EXPECT_NE(layout.find(room), std::string::npos) << room;
    }
}

TEST(Docs, ADeadLinkIsFound) {
    const fs::path here = fs::path(places::root) / "docs/README.md";
    const std::string page =
        "# One `key`, two\n## Same\n## Same\n[a](#one-key-two) [b](#same-1) [c](decisions.md) "
        "[d](https://x/y)\n`[e](nowhere.md)`\n```\n[f](nowhere.md)\n```\n";
    EXPECT_EQ(dead_links(page, here), std::vector<std::string>());
    EXPECT_EQ(dead_links(page + "![g](nowhere.png)\n[h](#same-2)\n[i](zero.md#no-such)\n", here),
              (std::vector<std::string>{"README.md:9: there is no nowhere.png",
                                        "README.md:10: it has no heading #same-2",
                                        "README.md:11: zero.md has no heading #no-such"}));
}

}  // namespace
}  // namespace seatwright
