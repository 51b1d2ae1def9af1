// The program ended before each call it makes of the operating system: at no moment is there half a file
// under a program's name, a new file beside a stale one, or anything touched that may be running or is
// somebody else's; and the next sending puts it right.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "place/sent_folder.hpp"
#include "spoken.hpp"

namespace seatwright::place {
namespace {

class KilledCalls : public Calls {
  public:
    explicit KilledCalls(int at) : left_(at) {}
    // In pieces, so that it ends in the middle of a file too.
    ssize_t write(int file, std::string_view bytes) override {
        constexpr std::size_t piece = 20;
        return Calls::write(file, bytes.substr(0, piece));
    }

  protected:
    int before(Call) override {
        if (--left_ == 0) std::raise(SIGKILL);
        return 0;
    }

  private:
    int left_;
};

struct Scene {
    ControlFolder at;
    std::string stale = "(stale)\n", running = "(may be running)\n", foreign = "(not ours)\n";
    std::vector<Held> record{held("program-7-A-1.ngc", first_program), held("program-7-A-2.ngc", stale),
                             held("program-7-B-1.ngc", running, {"", "", true, false})};
    std::vector<ToSend> files{{"program-7-A-1.ngc", second_program, "sw000001.tmp"},
                              {"program-7-A-3.ngc", first_program + second_program, "sw000002.tmp"}};
    std::vector<Begun> begun;

    Scene() {
        at.put("program-7-A-1.ngc", first_program);
        at.put("program-7-A-2.ngc", stale);
        at.put("program-7-B-1.ngc", running);
        at.put("somebody.ngc", foreign);
        for (const auto& file : files) begun.push_back({file.temporary, file.bytes});
    }

    void expect_nothing_broken() const {
        const auto all = at.all();
        EXPECT_EQ(all.at("program-7-B-1.ngc"), running);
        EXPECT_EQ(all.at("somebody.ngc"), foreign);
        bool new_ones = false;
        for (const auto& file : files) {
            new_ones = new_ones || all.count(file.temporary) > 0;
            if (const auto one = all.find(file.name); one != all.end() && one->second != first_program) {
                EXPECT_EQ(one->second, file.bytes);
                new_ones = true;
            }
        }
        const bool old_one =
            all.count("program-7-A-1.ngc") > 0 && all.at("program-7-A-1.ngc") == first_program;
        EXPECT_FALSE(new_ones && (old_one || all.count("program-7-A-2.ngc") > 0))
            << "something new stands beside what is stale";
    }

    // As the server does after such an end: what had begun may have arrived, and may be running.
    void expect_put_right() {
        std::vector<Held> after = record;
        for (const auto& file : files) after.push_back(held(file.name, file.bytes, {"", "", true, true}));
        std::vector<ToSend> again = files;
        again[0].temporary = "sw000003.tmp";
        again[1].temporary = "sw000004.tmp";
        Calls calls;
        const auto done = send(calls, at.folder(), after, begun, again);
        EXPECT_EQ(spoken(done.stopped), "");
        EXPECT_TRUE(done.notes.empty());
        EXPECT_EQ(at.all(), (std::map<std::string, std::string>{{"program-7-A-1.ngc", files[0].bytes},
                                                                {"program-7-A-3.ngc", files[1].bytes},
                                                                {"program-7-B-1.ngc", running},
                                                                {"somebody.ngc", foreign}}));
    }
};

TEST(Killed, AtEachCallNothingIsHalfWrittenAndTheNextSendingPutsItRight) {
    constexpr int enough = 500;
    int kills = 0;
    bool ended = false;
    for (int nth = 1; nth < enough && !ended; ++nth) {
        Scene scene;
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            KilledCalls calls(nth);
            const auto done = send(calls, scene.at.folder(), scene.record, {}, scene.files);
            ::_exit(done.stopped.empty() && done.sent.size() == 2 && done.removed.size() == 2 ? 0 : 1);
        }
        int status = 0;
        ASSERT_EQ(::waitpid(child, &status, 0), child);
        ended = WIFEXITED(status);
        if (ended)
            EXPECT_EQ(WEXITSTATUS(status), 0);
        else
            ++kills;
        scene.expect_nothing_broken();
        scene.expect_put_right();
        if (testing::Test::HasFailure()) FAIL() << "ended before call " << nth;
    }
    EXPECT_TRUE(ended);
    EXPECT_GT(kills, 40) << "there are that many calls";
}

}  // namespace
}  // namespace seatwright::place
