// Files into a folder a control reads: whole and checked or not at all, and nothing of anybody else's
// touched.
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <cerrno>
#include <csignal>

#include "other_language.hpp"
#include "place/sent_folder.hpp"
#include "spoken.hpp"

namespace seatwright::place {
namespace {

constexpr const char* name = "program-7-A-1.ngc";

ToSend file(const std::string& called, const std::string& bytes) {
    return {called, bytes, temporary_name(0x1f0c2b)};
}

void expect_says(const Sentence& what, const std::string& part) {
    const std::string said = spoken(what);
    EXPECT_NE(said.find(part), std::string::npos) << "'" << said << "' does not say '" << part << "'";
}

TEST(Folder, AFileArrivesWholeAndNothingElse) {
    const ControlFolder at;
    Calls calls;
    const auto done = send(calls, at.folder(), {}, {}, {file(name, first_program)});
    EXPECT_EQ(spoken(done.stopped), "");
    ASSERT_EQ(done.sent.size(), 1u);
    EXPECT_EQ(done.sent[0].sha256, sha256(first_program));
    EXPECT_FALSE(done.sent[0].was_there);
    EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{name, first_program}}));
    struct stat s {};
    ASSERT_EQ(::stat(at.path(name).c_str(), &s), 0);
    EXPECT_EQ(s.st_mode & 0777, 0644u) << "a control's own login must be able to read it";

    const auto again = send(calls, at.folder(), {}, {}, {file(name, first_program)});
    EXPECT_EQ(spoken(again.stopped), "");
    ASSERT_EQ(again.sent.size(), 1u);
    EXPECT_TRUE(again.sent[0].was_there);
}

TEST(Folder, AnotherFileOfThatNameStopsTheSending) {
    for (const std::string there : {"program-7-A-1.ngc", "PROGRAM-7-A-1.NGC", "Program-7-a-1.Ngc"}) {
        const ControlFolder at;
        Calls calls;
        at.put(there, "(somebody's own)\n");
        // Another file of the record's has that SHA-256, under another name: that makes this none of ours.
        const auto done = send(calls, at.folder(), {held("program-8-A-1.ngc", "(somebody's own)\n")}, {},
                               {file("program-1.ngc", second_program), file(name, first_program)});
        expect_says(done.stopped, "is not a file the workbench sent");
        expect_says(done.stopped, there);
        EXPECT_TRUE(done.sent.empty()) << "nothing is sent where one of them cannot be";
        EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{there, "(somebody's own)\n"}}));
    }
}

TEST(Folder, AFileOfOursThatSomebodyChangedIsNotOursAnyMore) {
    const ControlFolder at;
    Calls calls;
    at.put(name, first_program + "(a line by hand)\n");
    const auto done = send(calls, at.folder(), {held(name, first_program)}, {}, {file(name, second_program)});
    expect_says(done.stopped, "was changed since");
    EXPECT_EQ(at.all().at(name), first_program + "(a line by hand)\n");
    const auto cleared = clear(calls, at.folder(), {held(name, first_program)}, {});
    EXPECT_EQ(spoken(cleared.stopped), "");
    ASSERT_EQ(cleared.notes.size(), 1u);
    expect_says(cleared.notes[0], "left alone");
    EXPECT_EQ(at.all().size(), 1u);
}

TEST(Folder, AFileThatMayBeRunningIsNeverTouched) {
    const ControlFolder at;
    Calls calls;
    at.put(name, first_program);
    const std::vector<Held> running{held(name, first_program, {"", "", true, false})};
    const auto replaced = send(calls, at.folder(), running, {}, {file(name, second_program)});
    expect_says(replaced.stopped, "may be running");
    EXPECT_EQ(at.all().at(name), first_program);
    // Beside it another may be sent; it stays, stale as it is.
    const auto beside = send(calls, at.folder(), running, {}, {file("program-7-A-2.ngc", second_program)});
    EXPECT_EQ(spoken(beside.stopped), "");
    EXPECT_TRUE(beside.removed.empty());
    EXPECT_EQ(at.all().at(name), first_program);
    EXPECT_TRUE(clear(calls, at.folder(), running, {}).removed.empty());
    // After the word it goes.
    const auto said = send(calls, at.folder(), {held(name, first_program)}, {}, {file(name, second_program)});
    EXPECT_EQ(spoken(said.stopped), "");
    ASSERT_EQ(said.removed.size(), 1u);
    EXPECT_EQ(at.all().at(name), second_program);
}

// Why nothing was sent and what is to be done there is a code with its values: another language says all of
// it.
TEST(Folder, AnotherLanguageSaysWhyNothingWasSent) {
    const auto other = fixtures::other_language();
    const auto expect_other = [&](const Sentence& what) {
        const std::string words = in_words(what, {LengthUnit::mm, other.catalogue.get()});
        EXPECT_EQ(fixtures::english_left(words), std::vector<std::string>{}) << words;
        EXPECT_GT(fixtures::runs_of_other(words), 0u) << words;
    };
    const ControlFolder at;
    Calls calls;
    at.put(name, first_program + "(a line by hand)\n");
    expect_other(send(calls, at.folder(), {}, {}, {file(name, second_program)}).stopped);
    expect_other(clear(calls, at.folder(), {held(name, first_program)}, {}).notes.at(0));
    expect_other(send(calls, at.folder(), {}, {}, {file("../p.ngc", "a")}).stopped);
    at.put(name, first_program);
    expect_other(send(calls, at.folder(), {held(name, first_program, {"", "", true, false})}, {},
                      {file(name, second_program)})
                     .stopped);
    for (const int fault : {ENOSPC, EROFS, EACCES, ENOENT, EIO}) {
        FailingCalls failing(Call::open_folder, fault);
        expect_other(send(failing, at.folder(), {}, {}, {file(name, second_program)}).stopped);
    }
}

TEST(Folder, WhatIsStaleGoesBeforeAnythingNewComes) {
    const ControlFolder at;
    at.put("program-7-A-1.ngc", first_program);
    at.put("PROGRAM-7-A-2.NGC", "(stale too)\n");
    at.put("program-7-B-1.ngc", "(still right)\n");
    at.put("notes.txt", "not ours");
    const std::vector<Held> record{held("program-7-A-1.ngc", first_program),
                                   held("program-7-A-2.ngc", "(stale too)\n"),
                                   held("program-7-B-1.ngc", "(still right)\n", {"", "", false, true}),
                                   held("program-7-C-1.ngc", "(taken away by somebody)\n")};
    // It cannot be written, and the stale ones are gone all the same.
    FailingCalls full(Call::open_new, ENOSPC);
    const auto failed = send(full, at.folder(), record, {}, {file("program-7-A-3.ngc", second_program)});
    expect_says(failed.stopped, "is full");
    ASSERT_EQ(failed.removed.size(), 2u);
    ASSERT_EQ(failed.gone.size(), 1u);
    EXPECT_EQ(failed.gone[0].name, "program-7-C-1.ngc");
    EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{"program-7-B-1.ngc", "(still right)\n"},
                                                            {"notes.txt", "not ours"}}));
}

TEST(Folder, NoTwoNamesAlikeWithoutCaseAndNoneThatClimbs) {
    const ControlFolder at;
    Calls calls;
    const auto alike = send(calls, at.folder(), {}, {}, {file("p7A1.ngc", "a"), file("P7a1.NGC", "b")});
    expect_says(alike.stopped, "where capitals do not count");
    for (const char* bad : {"../p.ngc", "a/b.ngc", "", ".p.ngc", "-p.ngc", "p 1.ngc"})
        expect_says(send(calls, at.folder(), {}, {}, {file(bad, "a")}).stopped, "no name for a file");
    EXPECT_TRUE(at.all().empty());
}

TEST(Folder, WhereCapitalsDoNotCountTheOldOneIsReplacedUnderWhateverLettersItHas) {
    const ControlFolder at;
    CaseBlindCalls calls;
    at.put("PROGRAM-7-A-1.NGC", first_program);
    const auto done = send(calls, at.folder(), {held(name, first_program)}, {}, {file(name, second_program)});
    EXPECT_EQ(spoken(done.stopped), "");
    EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{name, second_program}}));
    at.put("foreign.ngc", "x");
    expect_says(send(calls, at.folder(), {}, {}, {file("FOREIGN.NGC", first_program)}).stopped,
                "is not a file the workbench sent");
}

TEST(Folder, FullReadOnlyOrGoneEachSaysSoAndLeavesNothingHalfWritten) {
    struct Case {
        Call call;
        int fault;
        const char* says;
    };
    for (const Case& c :
         {Case{Call::write, ENOSPC, "is full"}, Case{Call::write, EDQUOT, "is full"},
          Case{Call::flush, EIO, "went away"}, Case{Call::open_new, EROFS, "is read-only"},
          Case{Call::open_new, EACCES, "may not be written to"}, Case{Call::rename, ESTALE, "went away"},
          Case{Call::open_folder, ENOENT, "is not there"}, Case{Call::list, ENODEV, "went away"},
          Case{Call::read, EIO, "went away"}}) {
        const ControlFolder at;
        FailingCalls calls(c.call, c.fault);
        const auto done = send(calls, at.folder(), {}, {}, {file(name, first_program)});
        EXPECT_TRUE(calls.failed());
        expect_says(done.stopped, c.says);
        EXPECT_TRUE(done.sent.empty());
        EXPECT_TRUE(at.all().empty()) << c.says;
    }
}

TEST(Folder, AFileSystemThatTakesNoMoreIsFoundInMidWrite) {
    const ControlFolder at;
    Calls calls;
    rlimit was{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &was), 0);
    auto* const handler = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{1024, was.rlim_max};
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const auto done = send(calls, at.folder(), {}, {}, {file(name, std::string(5000, 'X'))});
    ::setrlimit(RLIMIT_FSIZE, &was);
    std::signal(SIGXFSZ, handler);
    expect_says(done.stopped, "is full");
    expect_says(done.stopped, "nothing of it is in the folder under its name");
    EXPECT_TRUE(at.all().empty());
}

TEST(Folder, AShareThatVanishesInMidWriteLeavesOnlyWhatTheNextSendingClears) {
    // From the second write on nothing goes any more, taking the part away included.
    class Vanishing : public Calls {
      public:
        ssize_t write(int file, std::string_view bytes) override {
            return Calls::write(file, bytes.substr(0, 10));
        }

      protected:
        int before(Call call) override {
            if (call == Call::write) ++writes_;
            return writes_ > 1 ? ENODEV : 0;
        }

      private:
        int writes_ = 0;
    };
    const ControlFolder at;
    Vanishing calls;
    const auto done = send(calls, at.folder(), {}, {}, {file(name, first_program)});
    expect_says(done.stopped, "went away");
    ASSERT_EQ(done.notes.size(), 1u);
    expect_says(done.notes[0], "sw1f0c2b.tmp may be left");
    EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{"sw1f0c2b.tmp", first_program.substr(0, 10)}}));
    Calls back;
    const auto again = send(back, at.folder(), {}, {{"sw1f0c2b.tmp", first_program}},
                            {{name, first_program, "sw000001.tmp"}});
    EXPECT_EQ(spoken(again.stopped), "");
    EXPECT_EQ(again.cleared, (std::vector<std::string>{"sw1f0c2b.tmp"}));
    EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{name, first_program}}));
}

TEST(Folder, ATemporaryFileThatIsNotWhatWasBeingSentIsLeft) {
    const ControlFolder at;
    Calls calls;
    at.put("sw1f0c2b.tmp", "(somebody else's)");
    const auto done = send(calls, at.folder(), {}, {{"sw1f0c2b.tmp", first_program}},
                           {{name, first_program, "sw000001.tmp"}});
    EXPECT_EQ(spoken(done.stopped), "");
    ASSERT_EQ(done.notes.size(), 1u);
    expect_says(done.notes[0], "delete it by hand");
    EXPECT_EQ(at.all().count("sw1f0c2b.tmp"), 1u);
}

TEST(Folder, ADiskThatSpoilsWhatIsWrittenIsFoundByReadingItAgain) {
    // Bytes come back changed: from the first reading on, or from the one after the file has its name.
    class Spoiling : public Calls {
      public:
        explicit Spoiling(int from) : from_(from) {}
        int open_old(int folder, const std::string& called) override {
            ++opened_;
            return Calls::open_old(folder, called);
        }
        ssize_t read(int handle, char* to, std::size_t size) override {
            const ssize_t got = Calls::read(handle, to, size);
            if (got > 0 && opened_ >= from_) to[0] ^= 1;
            return got;
        }

      private:
        int from_, opened_ = 0;
    };
    for (const int from : {1, 2}) {
        const ControlFolder at;
        Spoiling calls(from);
        const auto done = send(calls, at.folder(), {}, {}, {file(name, first_program)});
        expect_says(done.stopped, "do not run it");
        EXPECT_TRUE(done.sent.empty());
        EXPECT_TRUE(at.all().empty());
    }
}

TEST(Folder, AFileThatComesInMeanwhileIsNotWrittenOver) {
    const ControlFolder at;
    class Meanwhile : public Calls {
      public:
        explicit Meanwhile(const ControlFolder& where) : where_(where) {}
        int rename(int folder, const std::string& from, const std::string& to) override {
            where_.put(to, "(came in meanwhile)\n");
            return Calls::rename(folder, from, to);
        }

      private:
        const ControlFolder& where_;
    } calls(at);
    const auto done = send(calls, at.folder(), {}, {}, {file(name, first_program)});
    expect_says(done.stopped, "meanwhile");
    EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{name, "(came in meanwhile)\n"}}));
}

TEST(Folder, LinksAndFoldersOfThatNameAreNotFollowed) {
    const ControlFolder at, elsewhere;
    Calls calls;
    elsewhere.put("kept.txt", first_program);
    std::filesystem::create_symlink(elsewhere.path("kept.txt"), at.path(name));
    expect_says(
        send(calls, at.folder(), {held(name, first_program)}, {}, {file(name, second_program)}).stopped,
        "is not a file the workbench sent");
    std::filesystem::create_directory(at.path("program-8.ngc"));
    expect_says(send(calls, at.folder(), {}, {}, {file("program-8.ngc", second_program)}).stopped,
                "is not a file the workbench sent");
    EXPECT_EQ(elsewhere.all().at("kept.txt"), first_program);
}

TEST(Folder, AnUnmountedShareTakesNothing) {
    const ControlFolder at;
    Calls calls;
    const auto done = send(calls, {at.folder().path, at.folder().path}, {}, {}, {file(name, first_program)});
    expect_says(done.stopped, "nothing is mounted");
    EXPECT_TRUE(at.all().empty());
    EXPECT_EQ(mount_of(calls, "/proc/self"), "/proc");
    EXPECT_EQ(mount_of(calls, "/nowhere at all"), std::nullopt);
    expect_says(send(calls, {"/nowhere at all", "/nowhere at all"}, {}, {}, {}).stopped, "is not there");
}

}  // namespace
}  // namespace seatwright::place
