// The binary that is handed out, as readelf (binutils) sees it.
#include <gtest/gtest.h>

#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>

#include "places.hpp"

namespace seatwright {
namespace {

[[maybe_unused]] std::string said_by(const std::string& command) {
    std::string out;
    FILE* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) return out;
    char part[4096];
    for (std::size_t got = 0; (got = std::fread(part, 1, sizeof part, pipe)) > 0;) out.append(part, got);
    ::pclose(pipe);
    return out;
}

TEST(Hardened, TheBinaryIs) {
#ifndef SEATWRIGHT_HARDENED
    GTEST_SKIP() << "only the release build is handed out";
#else
    const std::string binary = "'" + std::string(places::binary) + "'";
    const std::string headers = said_by("readelf -hldW " + binary);
    ASSERT_FALSE(headers.empty()) << "readelf is in binutils, which g++ brings";
    EXPECT_NE(headers.find("DYN (Position-Independent Executable file)"), std::string::npos);
    EXPECT_NE(headers.find("GNU_RELRO"), std::string::npos);
    EXPECT_TRUE(headers.find("BIND_NOW") != std::string::npos ||
                headers.find("Flags: NOW") != std::string::npos)
        << "full, not partial, RELRO";
    const auto stack = headers.find("GNU_STACK");
    ASSERT_NE(stack, std::string::npos);
    EXPECT_EQ(headers.substr(stack, headers.find('\n', stack) - stack).find("RWE"), std::string::npos);
    const std::string symbols = said_by("readelf --dyn-syms -W " + binary);
    EXPECT_NE(symbols.find("__stack_chk_fail"), std::string::npos);
    EXPECT_NE(symbols.find("_chk@"), std::string::npos) << "fortified calls, such as __memcpy_chk";
#ifdef __x86_64__
    // endbr64, where an indirect jump may land.
    std::stringstream all;
    all << std::ifstream(places::binary, std::ios::binary).rdbuf();
    const std::string bytes = all.str(), mark = "\xf3\x0f\x1e\xfa";
    std::size_t count = 0;
    for (auto at = bytes.find(mark); at != std::string::npos; at = bytes.find(mark, at + 1)) ++count;
    EXPECT_GT(count, 1000u);
#endif
#endif
}

}  // namespace
}  // namespace seatwright
