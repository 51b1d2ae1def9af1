// A server that root has started serves as somebody else. Where the tests do not run as root there is nothing
// to step down from, and that is said.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>

#include "client.hpp"
#include "process.hpp"

namespace seatwright::server {
namespace {

namespace fs = std::filesystem;

// Real, effective, saved and file system user of a process.
std::string users_of(pid_t pid) {
    std::ifstream status("/proc/" + std::to_string(pid) + "/status");
    for (std::string line; std::getline(status, line);)
        if (line.starts_with("Uid:")) return line.substr(5);
    return {};
}

TEST(StepDown, ServesAsTheUserAskedForWithDataThatWereRoots) {
    if (::geteuid() != 0) GTEST_SKIP() << "these tests do not run as root";
    const store::TestFolder folder;
    fs::permissions(folder.path(), fs::perms::owner_all | fs::perms::others_exec | fs::perms::group_exec);
    ServeOptions options;
    options.data = folder.path() + "/data";
    options.port = 0;
    {
        Serving before(options);
        ASSERT_GT(before.port(), 0) << before.said();
        EXPECT_NE(before.said().find("it runs as root"), std::string::npos) << before.said();
        before.tell(SIGKILL);  // leaves its log and its lock behind, root's
        before.ended();
    }
    options.as = "nobody";
    Serving server(options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    EXPECT_EQ(server.said().find("it runs as root"), std::string::npos);
    EXPECT_EQ(users_of(server.pid()).find("0\t"), std::string::npos) << users_of(server.pid());
    Client pat(port);
    EXPECT_EQ(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}).status, 201);
    struct stat found {};
    ASSERT_EQ(::stat(store::database_file(options.data).c_str(), &found), 0);
    EXPECT_NE(found.st_uid, 0u);
    EXPECT_EQ(found.st_mode & 0777u, 0600u);
}

TEST(StepDown, WhatCannotBeIsSaidInASentence) {
    const store::TestFolder folder;  // root's alone
    ServeOptions options;
    options.data = folder.path() + "/data";
    options.port = 0;
    options.as = "no-such-user-here";
    const auto refused = [&] {
        Serving server(options);
        const auto end = server.ended().value_or(Ended{});
        EXPECT_EQ(end.status, 2) << end.words;
        return end.words;
    };
    if (::geteuid() != 0) {
        EXPECT_NE(refused().find("only root serves as somebody else"), std::string::npos);
        return;
    }
    EXPECT_EQ(refused(), "--as no-such-user-here: there is no such user\n");
    options.as = "nobody";
    EXPECT_NE(refused().find("/data: nobody cannot reach this folder"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::server
