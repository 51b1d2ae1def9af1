// The power goes while a set of papers is replaced. What the program asks of the disk is noted by strace
// (Debian's); from it every state is made that a disk may be found in: of a file what was flushed and of the
// rest a part, of the names what was flushed with the folder and of the later ones any.
#include <gtest/gtest.h>

#include <functional>
#include <nlohmann/json.hpp>
#include <optional>
#include <random>
#include <set>

#include "draws.hpp"
#include "outside/two_plans.hpp"

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

class Disk {
  public:
    Disk(fs::path folder, const Files& before) : folder_(std::move(folder)) {
        for (const auto& [name, bytes] : before) durable_[name] = add({bytes, bytes});
        names_ = durable_;
    }
    // False: nothing of this folder's.
    bool take(const Call& call) {
        if (call.what == "openat") return call.texts.size() > 1 && make(call.texts[1]);
        if (call.what == "rename") return renamed(call.texts);
        if (call.texts.empty()) return false;
        if (call.what == "fsync" && call.texts[0] == folder_.string()) {
            durable_ = names_;
            later_.clear();
            return true;
        }
        const auto name = name_of(call.texts[0]);
        if (!name) return false;
        if (call.what == "unlink") return change([n = *name](Names& names) { names.erase(n); });
        if (call.what == "link") return linked(call.texts);
        const auto at = names_.find(*name);
        if (at == names_.end()) return false;
        File& file = files_[at->second];
        if (call.what == "write") file.now += call.texts.at(1);
        if (call.what == "fsync") file.flushed = file.now;
        return true;
    }
    Files after_a_cut(std::mt19937& dice) const {
        Names names = durable_;
        for (const auto& one : later_)
            if (dice() % 2 == 0) one(names);
        Files found;
        for (const auto& [name, number] : names) {
            const File& file = files_[number];
            found[name] =
                file.now == file.flushed ? file.now : file.now.substr(0, dice() % (file.now.size() + 1));
        }
        return found;
    }

  private:
    struct File {
        std::string flushed, now;
    };
    using Names = std::map<std::string, std::size_t>;
    using Change = std::function<void(Names&)>;

    std::size_t add(File file) {
        files_.push_back(std::move(file));
        return files_.size() - 1;
    }
    std::optional<std::string> name_of(const std::string& path) const {
        const fs::path at(path);
        if (at.parent_path() != folder_) return std::nullopt;
        return at.filename().string();
    }
    bool change(const Change& one) {
        one(names_);
        later_.push_back(one);
        return true;
    }
    // A file that is opened and not there yet is made; what is there is only read, or begun anew as a part.
    bool make(const std::string& path) {
        const auto name = name_of(path);
        if (!name || names_.contains(*name) || !fs::path(path).filename().string().ends_with(".part"))
            return false;
        return change([n = *name, number = add({})](Names& names) { names[n] = number; });
    }
    bool renamed(const std::vector<std::string>& texts) {
        const auto from = name_of(texts.at(0)), to = name_of(texts.at(1));
        if (!from || !to) return false;
        return change([f = *from, t = *to, number = names_.at(*from)](Names& names) {
            names.erase(f);
            names[t] = number;
        });
    }
    bool linked(const std::vector<std::string>& texts) {
        const auto from = name_of(texts.at(0)), to = name_of(texts.at(1));
        if (!from || !to) return false;
        return change([t = *to, number = names_.at(*from)](Names& names) { names[t] = number; });
    }

    fs::path folder_;
    std::vector<File> files_;
    Names durable_, names_;
    std::vector<Change> later_;
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
        if (cuts / each % drawn(40, 4) != 0) continue;
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
