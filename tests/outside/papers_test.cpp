// The papers on the disk: whole sets, nothing left beside them, and the same bytes whatever --units says.
#include <gtest/gtest.h>
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <thread>
#include <vector>

#include "outside/program.hpp"

namespace seatwright::outside {
namespace {

std::vector<std::string> names_in(const fs::path& folder) {
    std::vector<std::string> names;
    std::error_code ec;
    for (fs::directory_iterator at(folder, ec), end; !ec && at != end; at.increment(ec))
        names.push_back(at->path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

bool is_part(const std::string& name) {
    return name.ends_with(".part");
}

bool has_part(const fs::path& folder) {
    const auto names = names_in(folder);
    return std::any_of(names.begin(), names.end(), is_part);
}

std::string words_of(const fs::path& pdf) {
    const Scratch scratch;
    const auto text = scratch.path() / "text";
    EXPECT_EQ(std::system(("pdftotext -layout " + pdf.string() + " " + text.string()).c_str()), 0);
    return slurp(text);
}

// The wedge example with other words in places of it; its shop file named by its whole path.
fs::path changed_wedge(const Scratch& scratch, std::string text,
                       const std::vector<std::pair<std::string, std::string>>& changes) {
    const auto put = [&](const std::string& from, const std::string& to) {
        const auto at = text.find(from);
        EXPECT_NE(at, std::string::npos) << from;
        text.replace(at, from.size(), to);
    };
    put("../../shop/", std::string(places::root) + "/shop/");
    for (const auto& [from, to] : changes) put(from, to);
    return scratch.write("job.toml", text);
}

// A number and then mm, in a sentence: "0.100 mm". Titles of columns have no number before the unit.
std::string first_in_mm(const std::string& text) {
    for (auto at = text.find(" mm"); at != std::string::npos; at = text.find(" mm", at + 1)) {
        const char after = at + 3 < text.size() ? text[at + 3] : ' ';
        if (at > 0 && std::isdigit(static_cast<unsigned char>(text[at - 1])) && !std::isalnum(after))
            return text.substr(at < 60 ? 0 : at - 60, 80);
    }
    return "";
}

// What a lead let pass is read by whoever takes the sheet or the certificate in hand.
TEST(Papers, WhatALeadLetPassStandsOnSheetAndCertificate) {
    const Scratch scratch;
    const auto job = changed_wedge(scratch, slurp(wedge),
                                   {{"[head]\n",
                                     "allow = [{ what = \"trim 3I\", why = \"a burr lay under the blade\", "
                                     "by = \"A. Lead\" }]\n[head]\n"}});
    const auto out = scratch.path() / "out";
    EXPECT_EQ(run("plan " + job.string() + " --out " + out.string()).status, 0);
    EXPECT_EQ(run("certify " + job.string() + " --out " + out.string()).status, 0);
    for (const char* paper : {"sheet.pdf", "certificate.pdf"}) {
        const std::string words = words_of(out / paper);
        EXPECT_NE(words.find("Let pass by a lead"), std::string::npos) << paper;
        EXPECT_NE(words.find("trim 3I: a burr lay under the blade (A. Lead)"), std::string::npos) << paper;
    }
    const auto plain = scratch.path() / "plain";
    run("plan " + wedge + " --out " + plain.string());
    EXPECT_EQ(words_of(plain / "sheet.pdf").find("Let pass"), std::string::npos);
}

// A draft is a paper to look at: not under a program's name, not on the list of programs, and over before it
// begins.
TEST(Papers, ADraftIsNoProgram) {
    const Scratch scratch;
    // Nothing of head 6 is read but the touches.
    std::string text = slurp(wedge);
    for (auto at = text.find("[[reading.seat]]"); at != std::string::npos; at = text.find("[[reading.seat]]"))
        text.erase(at, text.find("\n[[", at + 1) - at);
    const auto job = changed_wedge(scratch, text, {});
    const auto out = scratch.path() / "out";
    EXPECT_EQ(run("plan " + job.string() + " --draft --out " + out.string()).status, 3);
    int drafts = 0;
    for (const auto& name : names_in(out)) {
        if (!name.starts_with("program-")) continue;
        ++drafts;
        EXPECT_TRUE(name.ends_with("-draft.ngc")) << name;
        const std::string draft = slurp(out / name);
        EXPECT_TRUE(draft.starts_with("(Draft: for looking and simulation, not to be run)\nM0\nM2\n"))
            << draft.substr(0, 120);
    }
    EXPECT_EQ(drafts, 2);
    EXPECT_EQ(slurp(out / "papers.json").find("\"program\""), std::string::npos);
}

// 3I alone is asked for, and nobody read the others: it goes, with nothing to stop it.
TEST(Papers, OneSeatAloneGoesThrough) {
    const Scratch scratch;
    std::string text = slurp(wedge);
    for (auto at = text.find("[[reading.seat]]"); at != std::string::npos;) {
        const auto end = text.find("\n[[", at + 1);
        if (text.substr(at, end - at).find("valve = \"3I\"") == std::string::npos)
            text.erase(at, end - at);
        else
            at = end;
        at = text.find("[[reading.seat]]", at);
    }
    const auto job = changed_wedge(scratch, text, {});
    const auto out = scratch.path() / "out";
    const auto ran = run("plan " + job.string() + " --only 3I --out " + out.string());
    EXPECT_EQ(ran.status, 0) << ran.out;
    EXPECT_EQ(ran.out.find("STOP"), std::string::npos) << ran.out;
    EXPECT_TRUE(fs::exists(out / "program-6-A-1-only3I-first.ngc"));
    EXPECT_EQ(run("plan " + job.string() + " --out " + out.string()).status, 3);
}

TEST(Units, ChangeSentencesAndSheetButNoJsonTableOrProgram) {
    const Scratch scratch;
    const auto own = scratch.path() / "own", inches = scratch.path() / "inches";
    EXPECT_EQ(run("plan " + canted + " --out " + own.string()).status, 0);
    const auto ran = run("plan " + canted + " --units in --out " + inches.string());
    EXPECT_EQ(ran.status, 0);
    EXPECT_NE(ran.out.find("cut the deck by 0.0039 in"), std::string::npos) << ran.out;
    EXPECT_EQ(first_in_mm(ran.out), "");
    ASSERT_EQ(names_in(own), names_in(inches));
    for (const auto& name : names_in(own))
        if (!name.ends_with(".pdf") && !name.starts_with("form-") && name != "papers.json") {
            EXPECT_EQ(slurp(own / name), slurp(inches / name)) << name;
        }
    EXPECT_NE(words_of(own / "sheet.pdf").find("by 0.100 mm"), std::string::npos);
    EXPECT_EQ(first_in_mm(words_of(inches / "sheet.pdf")), "");
    for (const char* stage : {"hold", "find", "shape", "cut", "prove"}) {
        const std::string words = std::string(stage) + " " + canted;
        EXPECT_EQ(first_in_mm(run(words + " --units in").out), "") << stage;
        EXPECT_EQ(run(words + " --units in --json").out, run(words + " --json").out) << stage;
    }
}

TEST(Units, OfACertificateChangeItsPagesAndNothingElse) {
    const Scratch scratch;
    const auto own = scratch.path() / "own", inches = scratch.path() / "inches";
    const int status = run("certify " + canted + " --out " + own.string()).status;
    EXPECT_EQ(run("certify " + canted + " --units in --out " + inches.string()).status, status);
    for (const char* name : {"proof.json", "results.csv"})
        EXPECT_EQ(slurp(own / name), slurp(inches / name)) << name;
    EXPECT_NE(slurp(own / "certificate.pdf"), slurp(inches / "certificate.pdf"));
}

TEST(Units, DefaultsTheJobLeavesOutAreSaidInThem) {
    const Scratch scratch;
    const auto job =
        scratch.write("job.toml",
                      "title = \"invented\"\nunits = \"mm\"\n[head]\n[[head.valve]]\nid = \"1I\"\n"
                      "kind = \"intake\"\nx = 0\ny = 0\nz = 0\n[fixture]\ntilt = [0, 1]\nswing = [0, "
                      "1]\nplumb_limit = 0.1\n");
    EXPECT_NE(run("find " + job.string()).out.find("find.touch_sd = 0.020 mm"), std::string::npos);
    EXPECT_NE(run("find " + job.string() + " --units in").out.find("find.touch_sd = 0.0008 in"),
              std::string::npos);
}

TEST(Papers, AFolderInThePlaceOfOneLeavesTheOthersAsTheyWere) {
    const Scratch scratch;
    scratch.write("plan.json", "the old plan");
    fs::create_directory(scratch.path() / "sheet.pdf");
    const auto ran = run("plan " + wedge + " --out " + scratch.path().string());
    EXPECT_EQ(ran.status, 2);
    EXPECT_NE(ran.err.find("sheet.pdf: a folder"), std::string::npos) << ran.err;
    EXPECT_EQ(slurp(scratch.path() / "plan.json"), "the old plan");
    EXPECT_EQ(names_in(scratch.path()), (std::vector<std::string>{"plan.json", "sheet.pdf"}));
}

TEST(Papers, AFileSizeLimitIsAWriteThatFails) {
    const Scratch scratch;
    const auto ran = run("plan " + wedge + " --out " + (scratch.path() / "papers").string(), "ulimit -f 4;");
    EXPECT_EQ(ran.status, 2);
    EXPECT_NE(ran.err.find("cannot write"), std::string::npos) << ran.err;
    EXPECT_FALSE(fs::exists(scratch.path() / "papers"));
}

TEST(Papers, WhatAKilledRunLeftIsSweptAndNothingElse) {
    const Scratch scratch;
    // No process has a number of nine digits; 1 always lives.
    const std::vector<std::string> ours{".seatwright.plan.json.999999999.part",
                                        ".seatwright.program-Q.ngc.999999999.part"};
    const std::vector<std::string> others{".seatwright.plan.json.1.part", ".seatwright.plan.json.part",
                                          ".notes.999999999.part", ".seatwright.plan.json.999999999x.part",
                                          "seatwright.plan.json.999999999.part"};
    for (const auto& name : ours) scratch.write(name, "half");
    for (const auto& name : others) scratch.write(name, "keep");
    EXPECT_EQ(run("plan " + wedge + " --out " + scratch.path().string()).status, 0);
    for (const auto& name : ours) EXPECT_FALSE(fs::exists(scratch.path() / name)) << name;
    for (const auto& name : others) EXPECT_EQ(slurp(scratch.path() / name), "keep") << name;
}

// Told to stop the moment its first part file shows.
TEST(Papers, ARunToldToStopTakesItsPartsAway) {
    int stopped = 0;
    for (int attempt = 0; attempt < 20 && stopped < 3; ++attempt) {
        const Scratch scratch;
        const auto folder = scratch.path() / "papers";
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            if (std::freopen("/dev/null", "w", stdout) == nullptr) ::_exit(127);
            ::execl(places::binary, "seatwright", "plan", wedge.c_str(), "--out", folder.c_str(), nullptr);
            ::_exit(127);
        }
        int status = 0;
        pid_t ended = 0;
        while ((ended = ::waitpid(child, &status, WNOHANG)) == 0 && !has_part(folder))
            std::this_thread::yield();
        if (ended == 0) {
            constexpr std::array signals{SIGTERM, SIGINT, SIGHUP};
            ::kill(child, signals[static_cast<std::size_t>(attempt) % signals.size()]);
            ASSERT_EQ(::waitpid(child, &status, 0), child);
        }
        EXPECT_FALSE(has_part(folder)) << attempt;
        if (!WIFSIGNALED(status)) continue;
        ++stopped;
        // All of the papers or none: a signal that came among the renames waits for the last.
        EXPECT_TRUE(!fs::exists(folder) || fs::exists(folder / "sheet.pdf")) << attempt;
    }
    EXPECT_GT(stopped, 0) << "no run was stopped while it wrote";
}

}  // namespace
}  // namespace seatwright::outside
