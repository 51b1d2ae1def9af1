// The house rule: includes and imports go only downwards, nothing uses itself by a roundabout, and files stay
// small enough to read in one sitting.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "house/rooms.hpp"
#include "places.hpp"

namespace seatwright::house {
namespace {

namespace fs = std::filesystem;

// The stages one after the other, what is made of them, and the programs over all.
const Plan cpp_rooms = {
    {"seatwright/base", {}},
    {"seatwright/base/numerics", {"seatwright/base"}},
    {"seatwright/toml", {"seatwright/base"}},
    // Sentences as codes with values, and their words.
    {"seatwright/words", {"seatwright/base"}},
    {"seatwright/job", {"seatwright/toml", "seatwright/base/numerics", "seatwright/words"}},
    // The store keeps documents and readings; it computes nothing.
    {"seatwright/store", {"seatwright/job"}},
    // Readings that come by themselves: bytes to readings, nothing of the network.
    {"seatwright/live", {"seatwright/words"}},
    // Programs that arrive at a control: folders and serial lines.
    {"seatwright/place", {"seatwright/job"}},
    {"seatwright/hold", {"seatwright/job"}},
    {"seatwright/find", {"seatwright/hold"}},
    // A head described from readings: of the stages only how a fixture turns it.
    {"seatwright/survey", {"seatwright/hold"}},
    // A head out of a drawing; it says its figures as a survey does.
    {"seatwright/drawing", {"seatwright/survey"}},
    // A head out of a measured surface; which holes and valves it has it tells as a drawing does.
    {"seatwright/scan", {"seatwright/drawing"}},
    {"seatwright/shape", {"seatwright/find"}},
    {"seatwright/cut", {"seatwright/shape"}},
    {"seatwright/prove", {"seatwright/cut"}},
    {"seatwright/plan", {"seatwright/prove"}},
    // What a job's records have taught of its casting, as a file.
    {"seatwright/casting", {"seatwright/plan"}},
    {"seatwright/forecast", {"seatwright/plan"}},
    {"seatwright/report", {"seatwright/plan"}},
    {"seatwright/papers/page", {"seatwright/report"}},
    {"seatwright/papers/drawings", {"seatwright/papers/page"}},
    // Two papers that know nothing of each other.
    {"seatwright/papers/sheet", {"seatwright/papers/drawings"}},
    {"seatwright/papers/certificate", {"seatwright/papers/drawings"}},
    {"seatwright/papers", {"seatwright/papers/sheet", "seatwright/papers/certificate"}},
    // What a plan does not need: heads that are brought in, and the batch ahead.
    {"seatwright/brought", {"seatwright/papers/drawings", "seatwright/scan"}},
    {"seatwright/batch", {"seatwright/papers/drawings", "seatwright/forecast"}},
    // HTTP and who is let in; it knows people, not jobs.
    {"server/http", {"seatwright/store"}},
    {"server/jobs", {"server/http", "seatwright/report", "seatwright/scan"}},
    // What comes in and what goes out know nothing of each other.
    {"server/intake", {"server/jobs"}},
    {"server/answers",
     {"server/jobs", "seatwright/papers", "seatwright/brought", "seatwright/batch", "seatwright/casting"}},
    // Programs sent to machines.
    {"server/places", {"server/answers", "seatwright/place"}},
    // Sources of readings, followed; a serial line is set up as a place's is.
    {"server/feeds", {"server/places", "seatwright/live"}},
    {"server/routes", {"server/intake", "server/feeds"}},
    {"server", {"server/routes"}},
    {"cli", {"server"}},
    // A plan and its papers, for a first start.
    {"first", {"cli"}},
};

const Plan web_rooms = {
    {"made", {}},  // from the table of keys and schema/results.json
    {"style", {}},
    {"numbers", {"made"}},
    {"api", {"numbers"}},
    {"entry", {"api"}},
    {"state", {"entry"}},
    {"parts", {"state"}},
    {"stages", {"parts"}},
    {"stages/map", {"stages"}},
    // The stages' rooms know nothing of each other.
    {"stages/hold", {"stages"}},
    {"stages/shape", {"stages"}},
    {"stages/find", {"stages/map"}},
    {"stages/cut", {"stages/map"}},
    {"stages/forecast", {"stages"}},
    {"stages/prove", {"stages/map"}},
    // What shows them together.
    {"stages/machine", {"stages/hold", "stages/find", "stages/cut", "stages/prove"}},
    {"stages/data", {"stages/hold", "stages/shape"}},
    {"pages", {"stages/machine", "stages/data", "stages/forecast"}},
    {"", {"pages", "style"}},
};

std::vector<Use> cpp_uses() {
    const fs::path root(places::root);
    auto uses = includes_below(root / "src", "seatwright");
    for (const char* app : {"server", "cli", "first"})
        for (auto& use : includes_below(root / "apps", app)) uses.push_back(std::move(use));
    return uses;
}

std::vector<Use> web_uses() {
    return imports_below(fs::path(places::root) / "web" / "src");
}

void expect_none(const std::vector<std::string>& faults) {
    for (const auto& fault : faults) ADD_FAILURE() << fault;
}

TEST(House, IncludesGoOnlyDownwards) {
    const auto uses = cpp_uses();
    ASSERT_GT(uses.size(), 1000u) << "the sources were not found";
    expect_none(faults_of(cpp_rooms, uses));
    expect_none(circles_of(cpp_rooms));
}

TEST(House, ImportsOfThePagesGoOnlyDownwards) {
    const auto uses = web_uses();
    ASSERT_GT(uses.size(), 300u) << "the sources were not found";
    expect_none(faults_of(web_rooms, uses));
    expect_none(circles_of(web_rooms));
}

TEST(House, NoFileUsesItselfByARoundabout) {
    expect_none(circles_of(cpp_uses()));
    expect_none(circles_of(web_uses()));
}

// The checks above find what they are for: a small house with every fault in it.
class WrongHouse : public testing::Test {
  protected:
    WrongHouse() {
        const std::string name = testing::UnitTest::GetInstance()->current_test_info()->name();
        root_ = fs::temp_directory_path() / ("seatwright-house-" + name);
        fs::remove_all(root_);
    }
    ~WrongHouse() override { fs::remove_all(root_); }
    void write(const std::string& file, const std::string& text) const {
        fs::create_directories((root_ / file).parent_path());
        std::ofstream(root_ / file) << text;
    }
    fs::path root_;
};

TEST_F(WrongHouse, AnIncludeUpwardsAcrossOrOfNoRoomIsFound) {
    write("house/low/a.hpp", "#pragma once\n#include \"house/high/b.hpp\"\n");
    write("house/high/b.hpp", "#include <vector>\n#include \"house/low/a.hpp\"\n");
    write("house/other/c.cpp", "#include \"house/high/b.hpp\"\n  #  include \"b.hpp\"\n");
    write("house/new/d.cpp", "#include \"house/low/a.hpp\"\n");
    const Plan plan = {{"house/low", {}}, {"house/high", {"house/low"}}, {"house/other", {"house/low"}}};
    const auto uses = includes_below(root_, "house");
    ASSERT_EQ(uses.size(), 5u);
    const auto faults = faults_of(plan, uses);
    const auto has = [&](const std::string& words) {
        for (const auto& fault : faults)
            if (fault.find(words) != std::string::npos) return true;
        return false;
    };
    EXPECT_EQ(faults.size(), 4u);
    EXPECT_TRUE(has("low/a.hpp:2: 'house/low' may not use 'house/high'"));
    EXPECT_TRUE(has("other/c.cpp:1: 'house/other' may not use 'house/high'"));
    EXPECT_TRUE(has("other/c.cpp:2: 'house/other' may not use '?' (b.hpp)"));
    EXPECT_TRUE(has("new/d.cpp:1: no plan says what the room 'house/new' may use"));
    EXPECT_EQ(circles_of(uses), (std::vector<std::string>{"house/high/b.hpp", "house/low/a.hpp"}));
}

TEST_F(WrongHouse, AnImportUpwardsIsFoundInWhateverWayItIsWritten) {
    write("low/a.ts",
          "import { b } from '../high/b';\nimport type { C } from \"../high/c\";\n"
          "export { d } from '../high/d';\nconst later = import('../high/e');\nimport '../high/f.css';\n"
          "import {\n  g,\n} from '../high/g';\n");
    write("high/b.tsx", "import { a } from '../low/a';\nimport { signal } from '@preact/signals';\n");
    const Plan plan = {{"low", {}}, {"high", {"low"}}};
    const auto uses = imports_below(root_);
    ASSERT_EQ(uses.size(), 7u);
    EXPECT_EQ(faults_of(plan, uses).size(), 6u);
    EXPECT_EQ(circles_of(uses), (std::vector<std::string>{"high/b", "low/a"}));
}

TEST(House, APlanThatGoesRoundIsFound) {
    EXPECT_EQ(circles_of(Plan{{"a", {"b"}}, {"b", {"c"}}, {"c", {"d", "b"}}, {"d", {}}}),
              (std::vector<std::string>{"b", "c"}));
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
}  // namespace seatwright::house
