// Photographs on disk: whole under their name, their folder and its entry flushed, or refused.
#include "seatwright/store/photographs.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "folder.hpp"

namespace seatwright::store {
namespace {

const std::string jpeg = "\xff\xd8\xff a picture \xff\xd9";

// Puts one photograph into the folder that SEATWRIGHT_TEST_PHOTOGRAPHS names; the tests below run this one
// under strace (Debian's).
TEST(Photographs, PutsOneWhereItIsTold) {
    const TestFolder own;
    const char* told = std::getenv("SEATWRIGHT_TEST_PHOTOGRAPHS");
    const std::string folder = photographs_folder(told != nullptr ? told : own.path());
    const auto name = Photographs(folder).put(jpeg);
    ASSERT_TRUE(name) << name.error().text;
    EXPECT_EQ(Photographs(folder).get(*name), jpeg);
}

// What strace notes of that test; `inject`: what it does to which call. Whether the test passed.
bool traced(const std::string& folder, const std::string& out, const std::string& inject = "") {
    const std::string program = std::filesystem::read_symlink("/proc/self/exe").string();
    // (The sanitizer's search for leaks traces too, and would fail every run.)
    return std::system(("ASAN_OPTIONS=detect_leaks=0 SEATWRIGHT_TEST_PHOTOGRAPHS='" + folder +
                        "' strace -f -qq -y -o '" + out + "' -e trace=fsync,rename " + inject + " '" +
                        program + "' --gtest_filter=Photographs.PutsOneWhereItIsTold >/dev/null 2>&1")
                           .c_str()) == 0;
}

TEST(Photographs, OnesFolderIsOnDiskBeforeItIsAcknowledged) {
    const TestFolder folder;
    const std::string out = folder.file("calls");
    ASSERT_TRUE(traced(folder.path(), out));
    std::ifstream in(out);
    const std::string calls((std::istreambuf_iterator<char>(in)), {});
    const auto renamed = calls.find("rename(");
    ASSERT_NE(renamed, std::string::npos) << calls;
    EXPECT_LT(calls.find("<" + folder.path() + ">)"), renamed) << "a new folder's own name\n" << calls;
    EXPECT_LT(calls.find(".part>)"), renamed) << "the picture\n" << calls;
    EXPECT_NE(calls.find("<" + photographs_folder(folder.path()) + ">)", renamed), std::string::npos)
        << "the picture's name\n"
        << calls;
}

TEST(Photographs, IsRefusedWhenTheDiskDoesNotTakeIt) {
    for (int call = 1; call <= 3; ++call) {
        const TestFolder folder;
        EXPECT_FALSE(traced(folder.path(), folder.file("calls"),
                            "-e inject=fsync:error=EIO:when=" + std::to_string(call)))
            << "the flush of number " << call << " failed and nobody said so";
    }
}

}  // namespace
}  // namespace seatwright::store
