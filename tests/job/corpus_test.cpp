// Every file the fuzzer knows, through the reader: a job or faults, each with something to say.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "places.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

TEST(Corpus, EveryFileReadsOrIsRefusedWithReasons) {
    int files = 0, read = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(places::root) + "/fuzz/corpus/job")) {
        std::ifstream file(entry.path(), std::ios::binary);
        std::stringstream stream;
        stream << file.rdbuf();
        const std::string all = stream.str();
        const auto cut = all.find("\n%%shop\n");
        const std::string shop = cut == std::string::npos ? "" : all.substr(cut + 8);
        const auto job =
            read_job(all.substr(0, cut), "j.toml",
                     [&](const std::string&) -> tl::expected<std::string, std::string> { return shop; });
        const std::string name = entry.path().filename().string();
        ++files;
        if (job) ++read;
        EXPECT_TRUE(!name.starts_with("valid-") || job)
            << name << ": " << (job ? "" : to_line(job.error().front()));
        EXPECT_FALSE(name.starts_with("bad-") && job) << name;
        for (const auto& fault : job ? Faults{} : job.error()) EXPECT_GT(fault.text.size(), 10u) << name;
    }
    EXPECT_GE(files, 40);
    EXPECT_LE(files, 60);
    EXPECT_GE(read, 7);
}

}  // namespace
}  // namespace seatwright::job
