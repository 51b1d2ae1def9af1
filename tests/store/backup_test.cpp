// What lies on the disk: whose it is, and what a restore makes of things left there.
#include <gtest/gtest.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>

#include "house.hpp"
#include "seatwright/store/own_files.hpp"

namespace seatwright::store {
namespace {

namespace fs = std::filesystem;

mode_t rights_of(const std::string& file) {
    struct stat found {};
    EXPECT_EQ(::stat(file.c_str(), &found), 0) << file;
    return found.st_mode & 0777u;
}

// The umask most systems start programs under: others may read.
struct OpenUmask {
    mode_t before = ::umask(022);
    ~OpenUmask() { ::umask(before); }
};

TEST(OwnFiles, NobodyElseReadsTheDataOrABackupOfIt) {
    const OpenUmask open;
    const TestHouse house;
    const std::string file = database_file(house.folder.path()), copy = house.folder.file("copy.backup");
    ASSERT_TRUE(fs::exists(file + "-wal"));
    for (const std::string end : {"", "-wal", "-shm"}) EXPECT_EQ(rights_of(file + end), 0600u) << end;
    ASSERT_TRUE(backup(house.folder.path(), copy));
    EXPECT_EQ(rights_of(copy), 0600u);
    const TestFolder elsewhere;
    ASSERT_TRUE(restore(copy, elsewhere.file("data")));
    EXPECT_EQ(rights_of(database_file(elsewhere.file("data"))), 0600u);
    EXPECT_EQ(rights_of(elsewhere.file("data")), 0700u);
}

TEST(OwnFiles, DataFromBeforeIsClosedWhenItIsOpened) {
    const OpenUmask open;
    const TestFolder folder;
    const std::string file = database_file(folder.path());
    { const Database database(file); }
    ASSERT_EQ(::chmod(file.c_str(), 0644), 0);
    const Database database(file);
    EXPECT_EQ(rights_of(file), 0600u);
    EXPECT_EQ(rights_of(file + "-wal"), 0600u);
}

TEST(Restore, RefusesAFolderWhereOtherDataLeftItsLog) {
    TestHouse house;
    const std::string copy = house.folder.file("copy.backup");
    ASSERT_TRUE(backup(house.folder.path(), copy));
    for (const std::string end : {"-wal", "-shm", "-journal"}) {
        const TestFolder folder;
        const std::string left = database_file(folder.path()) + end;
        std::ofstream(left) << "of other data";
        const auto refusal = restore(copy, folder.path());
        ASSERT_FALSE(refusal) << end;
        EXPECT_EQ(refusal.error().why, Why::taken);
        EXPECT_TRUE(refusal.error().text.starts_with(left + ": was left by other data"))
            << refusal.error().text;
        EXPECT_FALSE(fs::exists(database_file(folder.path())));
        EXPECT_TRUE(fs::exists(left)) << "nothing is overwritten";
    }
}

TEST(Restore, TakesAFileAServerWorksOnWithItsLog) {
    TestHouse house;
    const long long job = house.new_job();
    ASSERT_TRUE(house.entries.append(house.owner, job, touch("key-0001", "1I", 1, 2)));
    const std::string live = database_file(house.folder.path());
    ASSERT_GT(fs::file_size(live + "-wal"), 0u) << "what was stored stands in the log yet";
    const TestFolder elsewhere;
    const auto back = restore(live, elsewhere.file("data"));
    ASSERT_TRUE(back) << back.error().text;
    EXPECT_EQ(back->people, 1);
    EXPECT_EQ(back->entries, 1);
    // Without its log the same file is data of nobody.
    const std::string bare = elsewhere.file("bare.db");
    fs::copy_file(live, bare);
    const auto refusal = restore(bare, elsewhere.file("other"));
    ASSERT_FALSE(refusal);
    EXPECT_FALSE(fs::exists(database_file(elsewhere.file("other"))));
}

TEST(Backup, AFailedCheckLeavesNothingBehind) {
    TestHouse house;
    house.new_job();
    {
        // Past the program's own rules: what the ledger says points to nobody.
        soci::session bare(soci::sqlite3, sqlite_dialect().connect(database_file(house.folder.path())));
        bare << "pragma foreign_keys = off";
        bare << "delete from person";
    }
    const std::string copy = house.folder.file("copy.backup");
    const auto refusal = backup(house.folder.path(), copy);
    ASSERT_FALSE(refusal);
    EXPECT_NE(refusal.error().text.find("points to nothing"), std::string::npos) << refusal.error().text;
    EXPECT_FALSE(fs::exists(copy));
    EXPECT_FALSE(fs::exists(copy + ".part"));
}

}  // namespace
}  // namespace seatwright::store
