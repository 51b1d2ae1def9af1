// What a person at a terminal sees while something takes its time, read from the other end of a
// pseudo-terminal.
#include "seatwright/base/progress_line.hpp"

#include <gtest/gtest.h>
#include <pty.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <string>
#include <thread>

namespace seatwright {
namespace {

// What a child that waits for work of this length writes to its terminal.
std::string seen_during(std::chrono::milliseconds work) {
    int terminal = -1;
    const pid_t child = ::forkpty(&terminal, nullptr, nullptr, nullptr);
    if (child == 0) {
        const int got = with_progress_line("drawing the papers", [&] {
            std::this_thread::sleep_for(work);
            return 7;
        });
        ::_exit(got);
    }
    std::string seen;
    std::array<char, 512> buffer{};
    for (ssize_t n = 0; (n = ::read(terminal, buffer.data(), buffer.size())) > 0;)
        seen.append(buffer.data(), static_cast<std::size_t>(n));
    ::close(terminal);
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 7) << "the result of the work comes through";
    return seen;
}

TEST(ProgressLine, SaysWhatAndHowLongAndWipesItself) {
    const std::string seen = seen_during(std::chrono::milliseconds(2500));
    EXPECT_NE(seen.find("drawing the papers, 1 s so far"), std::string::npos) << seen;
    EXPECT_NE(seen.find("2 s so far"), std::string::npos) << seen;
    EXPECT_TRUE(seen.ends_with("\r\033[K")) << seen;
}

TEST(ProgressLine, IsSilentWhereItIsQuick) {
    EXPECT_EQ(seen_during(std::chrono::milliseconds(50)), "");
}

}  // namespace
}  // namespace seatwright
