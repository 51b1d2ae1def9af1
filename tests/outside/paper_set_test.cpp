// A set of papers in a folder is replaced as one: killed at any system call the folder never holds programs
// of two plans, and the next run finishes the work. Kills by strace's injection (Debian's strace), one for
// each call that changes the folder.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "draws.hpp"
#include "outside/two_plans.hpp"

namespace seatwright::outside {
namespace {

std::string listed_digest(const Files& files, const std::string& name) {
    const auto list = nlohmann::json::parse(files.at("papers.json"));
    for (const auto& paper : list.at("papers"))
        if (paper.at("name") == name) return paper.at("digest");
    return "";
}

TEST(PaperSet, ListsWhatIsOursWithItsBytesAndOneDigest) {
    const Scratch scratch;
    run("plan " + canted + " --out " + scratch.path().string());
    const Files files = files_in(scratch.path());
    const auto list = nlohmann::json::parse(files.at("papers.json"));
    EXPECT_EQ(list.at("state"), "whole");
    EXPECT_EQ(list.at("papers").size() + 1, files.size());
    for (const auto& paper : list.at("papers")) {
        EXPECT_TRUE(files.contains(paper.at("name"))) << paper;
        EXPECT_EQ(paper.at("sha256").get<std::string>().size(), 64u);
        EXPECT_EQ(paper.at("digest"), list.at("papers")[0].at("digest"));
    }
    EXPECT_EQ(list.at("papers")[0].at("digest").get<std::string>().size(), 8u);
}

TEST(PaperSet, WhatTheNewPlanDoesNotHandOutIsGoneAndOthersFilesStay) {
    const Scratch scratch;
    const auto folder = scratch.path() / "papers";
    run("plan " + canted + " --out " + folder.string());
    std::ofstream(folder / "notes.txt") << "mine";
    std::ofstream(folder / "program-X.ngc") << "another's";
    run("plan " + wedge + " --out " + folder.string());
    const auto fresh = scratch.path() / "fresh";
    run("plan " + wedge + " --out " + fresh.string());
    Files wanted = files_in(fresh);
    wanted["notes.txt"] = "mine";
    wanted["program-X.ngc"] = "another's";
    EXPECT_EQ(files_in(folder), wanted);
}

TEST(PaperSet, APlanAndACertificateShareAFolder) {
    const Scratch scratch;
    const auto folder = scratch.path() / "papers";
    run("plan " + wedge + " --out " + folder.string());
    Files wanted = files_in(folder);
    run("certify " + wedge + " --out " + folder.string());
    const Files both = files_in(folder);
    EXPECT_TRUE(both.contains("certificate.pdf"));
    wanted.erase("papers.json");
    for (const auto& [name, bytes] : wanted) EXPECT_EQ(both.at(name), bytes) << name;
}

TEST(PaperSet, APaperChangedByHandIsKeptAndSaid) {
    const Scratch scratch;
    const auto folder = scratch.path() / "papers";
    run("plan " + canted + " --out " + folder.string());
    std::ofstream(folder / "plan.json") << "changed by hand";
    const auto ran = run("plan " + canted + " --out " + folder.string());
    EXPECT_EQ(slurp(folder / "plan.json.kept"), "changed by hand");
    EXPECT_NE(ran.err.find("kept as plan.json.kept"), std::string::npos) << ran.err;
    std::ofstream(folder / "plan.json") << "changed again";
    run("plan " + canted + " --out " + folder.string());
    EXPECT_EQ(slurp(folder / "plan.json.kept"), "changed by hand");
    EXPECT_EQ(slurp(folder / "plan.json.kept-2"), "changed again");
}

TEST(PaperSet, AListThatIsNoneMakesNothingOurs) {
    const Scratch scratch;
    const auto folder = scratch.path() / "papers";
    fill(folder, {{"papers.json", "{\"papers\": [{\"name\": \"../../x\"}, 4]}"}, {"plan.json", "not ours"}});
    run("plan " + canted + " --out " + folder.string());
    EXPECT_EQ(slurp(folder / "plan.json.kept"), "not ours");
}

TEST(PaperSet, TheDigestIsOfWhatThisHeadsPlanWasGiven) {
    TwoPlans plans;
    ASSERT_TRUE(plans.before.contains("plan.json"));
    const std::string was = listed_digest(plans.before, "plan.json");
    EXPECT_NE(listed_digest(plans.after, "plan.json"), was);
    // The same file with a comment, another head's seat after cutting and another head's level: the same
    // plan.
    std::string text = slurp(plans.second);
    text += "\n# a remark\n[[reading.proof]]\nhead = \"elsewhere\"\nvalve = \"1I\"\nrunout = 0.01\n";
    const auto more = plans.scratch.write("more.toml", text);
    run("plan " + more.string() + " --head 1 --out " + (plans.scratch.path() / "more").string());
    run("plan " + plans.second.string() + " --head 1 --out " + (plans.scratch.path() / "less").string());
    EXPECT_EQ(listed_digest(files_in(plans.scratch.path() / "more"), "sheet.pdf"),
              listed_digest(files_in(plans.scratch.path() / "less"), "sheet.pdf"));
}

TEST(PaperSet, KilledAtAnySystemCallNeverShowsProgramsOfTwoPlans) {
    TwoPlans plans;
    const auto programs = [](const Files& files) {
        return std::count_if(files.begin(), files.end(), [](const auto& f) { return is_program(f.first); });
    };
    ASSERT_GT(programs(plans.before), 0);
    constexpr int most = 200;
    const int step = drawn(9, 1, 27);
    int killed = 0;
    // strace counts each kind of call by itself.
    for (const std::string call : {"fsync", "rename", "unlink"})
        for (int nth = 1; nth <= most; nth += step) {
            fill(plans.folder, plans.before);
            const Ran ran = run("plan " + plans.second.string() + " --out " + plans.folder.string(),
                                "strace -f -qq -o /dev/null -e trace=" + call + " -e inject=" + call +
                                    ":signal=KILL:when=" + std::to_string(nth));
            const Files left = files_in(plans.folder);
            bool of_before = false, of_after = false;
            for (const auto& [name, bytes] : left) {
                if (!is_program(name)) continue;
                if (plans.before.contains(name) && plans.before.at(name) == bytes) of_before = true;
                if (plans.after.contains(name) && plans.after.at(name) == bytes) of_after = true;
            }
            EXPECT_FALSE(of_before && of_after) << "killed at " << call << " " << nth;
            const auto state = nlohmann::json::parse(left.at("papers.json")).at("state");
            if (programs(left) != programs(plans.before) && programs(left) != programs(plans.after)) {
                EXPECT_EQ(state, "being replaced") << "killed at " << call << " " << nth;
            }
            if (ran.status == 0 || ran.status == 3) break;  // it came to its end
            ++killed;
            run("plan " + plans.second.string() + " --out " + plans.folder.string());
            EXPECT_EQ(files_in(plans.folder), plans.after) << "after a kill at " << call << " " << nth;
        }
    EXPECT_GT(killed, 20 / step);
    EXPECT_LT(killed, 2 * most);
}

}  // namespace
}  // namespace seatwright::outside
