// The power goes while a set of papers is replaced. What the program asks of the disk is noted by strace
// (Debian's); from it every state is made that a disk may be found in: of a file what was flushed and of the
// rest a part, of the names what was flushed with the folder and of the later ones any.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <optional>
#include <random>
#include <set>

#include "draws.hpp"
#include "outside/two_plans.hpp"
#include "torn_disk.hpp"

namespace seatwright::outside {
namespace {

struct Call {
    std::string what;                // "openat", "write", "fsync", "rename", "unlink", "link"
    std::vector<std::string> texts;  // names, paths of open files, bytes: in the order strace has them
};

// `123 write(4<\x2f\x70>, "\x41", 1) = 1`: all texts in hexadecimal. None: another line, or a call that
// failed.
std::optional<Call> call_in(const std::string& line) {
    const auto open = line.find('('), answer = line.rfind(") = ");
    if (open == std::string::npos || answer == std::string::npos || line.compare(answer, 5, ") = -") == 0)
        return std::nullopt;
    const auto name = line.rfind(' ', open) + 1;  // the number of the process is filled up with blanks
    Call call{line.substr(name, open - name), {}};
    for (std::size_t at = open; at < answer;) {
        if (line[at] != '"' && line[at] != '<') {
            ++at;
            continue;
        }
        const char end = line[at] == '"' ? '"' : '>';
        std::string text;
        for (++at; at < answer && line[at] != end; at += 4)
            text += static_cast<char>(std::stoi(line.substr(at + 2, 2), nullptr, 16));
        ++at;
        call.texts.push_back(std::move(text));
    }
    return call;
}

std::vector<Call> calls_of(const std::string& words, const fs::path& noted) {
    run(words, "strace -f -y -xx -s 100000000 -qq -o " + noted.string() +
                   " -e trace=openat,write,fsync,rename,unlink,link");
    std::vector<Call> calls;
    std::ifstream in(noted);
    for (std::string line; std::getline(in, line);)
        if (auto call = call_in(line)) calls.push_back(std::move(*call));
    return calls;
}

// The folder's own disk, told of the calls.
class Disk {
  public:
    Disk(fs::path folder, const Files& before) : folder_(std::move(folder)), disk_(before) {}
    Files after_a_cut(std::mt19937& dice) const { return disk_.after_a_cut(dice); }

    // False: nothing of this folder's.
    bool take(const Call& call) {
        if (call.texts.empty()) return false;
        if (call.what == "fsync" && call.texts[0] == folder_.string()) {
            disk_.flush_names();
            return true;
        }
        // Of an opened file the folder it is named from stands first.
        const auto name = name_of(call.texts[call.what == "openat" ? call.texts.size() > 1 : 0]);
        if (!name) return false;
        if (call.what == "openat") return make(*name);
        if (call.what == "unlink") {
            disk_.remove(*name);
            return true;
        }
        if (!disk_.has(*name)) return false;
        if (call.what == "write") disk_.append(*name, call.texts.at(1));
        if (call.what == "fsync") disk_.flush(*name);
        if (call.what != "rename" && call.what != "link") return true;
        const auto to = name_of(call.texts.at(1));
        if (!to) return false;
        call.what == "rename" ? disk_.rename(*name, *to) : disk_.link(*name, *to);
        return true;
    }

  private:
    std::optional<std::string> name_of(const std::string& path) const {
        const fs::path at(path);
        if (at.parent_path() != folder_) return std::nullopt;
        return at.filename().string();
    }
    // A file that is opened and not there yet is made; what is there is only read, or begun anew as a part.
    bool make(const std::string& name) {
        if (disk_.has(name) || !name.ends_with(".part")) return false;
        disk_.make(name);
        return true;
    }

    fs::path folder_;
    TornDisk disk_;
};

// What is wrong with it; empty: nothing.
std::string wrong_with(const Files& found, const TwoPlans& plans) {
    int of_before = 0, of_after = 0, wanted_before = 0, wanted_after = 0;
    for (const auto& [name, bytes] : plans.before) wanted_before += is_program(name) ? 1 : 0;
    for (const auto& [name, bytes] : plans.after) wanted_after += is_program(name) ? 1 : 0;
    for (const auto& [name, bytes] : found) {
        if (!is_program(name)) continue;
        const auto was = plans.before.find(name), is = plans.after.find(name);
        const bool old = was != plans.before.end() && was->second == bytes;
        const bool fresh = is != plans.after.end() && is->second == bytes;
        if (!old && !fresh) return name + " is not whole";
        of_before += old ? 1 : 0;
        of_after += fresh ? 1 : 0;
    }
    if (of_before > 0 && of_after > 0) return "programs of two plans";
    if (of_before == wanted_before || of_after == wanted_after) return "";
    const auto list = found.find("papers.json");
    if (list == found.end()) return "no list beside a part of the programs";
    const auto text = nlohmann::json::parse(list->second, nullptr, false);
    if (text.is_discarded()) return "the list is not whole";
    return text.at("state") == "being replaced" ? "" : "a part of the programs passes for all";
}

TEST(PaperSetPower, AtAnyCutNoProgramsOfTwoPlansAndNoneInPart) {
    TwoPlans plans;
    fill(plans.folder, plans.before);
    const std::string again = "plan " + plans.second.string() + " --out " + plans.folder.string();
    const auto calls = calls_of(again, plans.scratch.path() / "calls");
    ASSERT_EQ(files_in(plans.folder), plans.after) << "strace must not change what it does";
    Disk disk(plans.folder, plans.before);
    std::mt19937 dice(20261129);
    std::set<std::string> kinds;
    int cuts = 0;
    const int each = drawn(8, 60);
    for (const auto& call : calls) {
        if (!disk.take(call)) continue;
        kinds.insert(call.what);
        for (int n = 0; n < each; ++n, ++cuts)
            ASSERT_EQ(wrong_with(disk.after_a_cut(dice), plans), "")
                << "cut after " << call.what << " of " << call.texts[0];
        if (cuts / each % drawn(40, 4, 160) != 0) continue;
        fill(plans.folder, disk.after_a_cut(dice));
        run(again);
        ASSERT_EQ(files_in(plans.folder), plans.after) << "made again after a cut at " << call.texts[0];
    }
    EXPECT_EQ(kinds, (std::set<std::string>{"openat", "write", "fsync", "rename", "unlink"}));
    EXPECT_GT(cuts, 40 * each);
    EXPECT_EQ(disk.after_a_cut(dice), plans.after) << "at the end all is on the disk";
}

// That the test would see it: where no flush counts, something is found.
TEST(PaperSetPower, AFlushThatDoesNothingIsFound) {
    TwoPlans plans;
    fill(plans.folder, plans.before);
    const auto calls = calls_of("plan " + plans.second.string() + " --out " + plans.folder.string(),
                                plans.scratch.path() / "calls");
    Disk disk(plans.folder, plans.before);
    std::mt19937 dice(1);
    int found = 0;
    for (const auto& call : calls)
        if (call.what != "fsync" && disk.take(call))
            found += wrong_with(disk.after_a_cut(dice), plans).empty() ? 0 : 1;
    EXPECT_GT(found, 0);
}

}  // namespace
}  // namespace seatwright::outside
