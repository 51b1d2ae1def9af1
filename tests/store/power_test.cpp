// The power goes at any moment: what was acknowledged is on record once, and the data are sound. SQLite's own
// files, seen through a VFS that keeps what was synced (noted_files.hpp); the file of last digests, which is
// never flushed, may be of any earlier moment.
#include <gtest/gtest.h>

#include <set>
#include <sstream>
#include <thread>

#include "draws.hpp"
#include "house.hpp"
#include "noted_files.hpp"
#include "seatwright/store/last_digests.hpp"

namespace seatwright::store {
namespace {

std::string all_of(const std::string& file) {
    std::stringstream all;
    all << std::ifstream(file, std::ios::binary).rdbuf();
    return all.str();
}

// A shop at work: three writers, two jobs, texts that change; opened twice, so that a log is taken in.
struct ShopAtWork {
    TestFolder folder;
    std::string file = database_file(folder.path());
    std::vector<NotedFiles::Op> ops;

    ShopAtWork() {
        const NotedFiles noted;
        for (int opening = 0; opening < 2; ++opening) work(opening);
        ops = NotedFiles::taken();
    }
    void told(const std::string& what) { NotedFiles::mark(what, all_of(LastDigests::file_beside(file))); }

    void work(int opening) {
        Database database(file, {.connections = 4});
        People people(database, cheap);
        if (opening == 0) {
            ASSERT_TRUE(people.make_owner("Pat", good_password));
            NewJob job;
            job.text = "title = \"t\"\n";
            job.what = "made for the test";
            for (int n = 0; n < 2; ++n) ASSERT_TRUE(Jobs(database).make(people.all().front(), job));
            told("shop");
        }
        const Person pat = people.all().front();
        std::vector<std::thread> writers;
        for (int w = 0; w < 3; ++w)
            writers.emplace_back([&, w] {
                for (int n = 0; n < 40; ++n) {
                    const std::string key = fmt::format("key-{}-{}-{}", opening, w, n);
                    const long long job = 1 + (w + n) % 2;
                    if (Entries(database).append(pat, job, touch(key, "1I", w, n))) told(key);
                    if (w != 0 || n % 10 != 0) continue;
                    const auto version = Jobs(database).row(1)->version;
                    const auto next = Jobs(database).change(
                        pat, 1, {version, fmt::format("title = \"{}\"\n", version + 1), "another"});
                    if (next) told(fmt::format("version {}", next->number));
                }
            });
        for (auto& writer : writers) writer.join();
    }
};

// What is wrong after a cut there; empty: nothing.
std::string wrong_after(const ShopAtWork& shop, std::size_t count, std::mt19937& dice) {
    const TestFolder folder;
    const std::string file = database_file(folder.path());
    write_after_power_cut(shop.ops, count, dice, folder.path());
    std::set<std::string> told;
    std::string last;
    for (std::size_t i = 0; i < count; ++i)
        if (shop.ops[i].kind == NotedFiles::Op::Kind::mark) {
            told.insert(shop.ops[i].file);
            if (dice() % 4 != 0) last = shop.ops[i].bytes;
        }
    if (!last.empty()) std::ofstream(LastDigests::file_beside(file), std::ios::binary) << last;
    if (told.count("shop") == 0) return {};  // nobody has been told anything yet
    try {
        Database database(file, {.connections = 1});
        for (const auto& found : {database.last().behind(), database.last().other()})
            if (!found.empty()) return found.begin()->second;
        std::multiset<std::string> there;
        for (const long long job : {1, 2})
            for (const auto& entry : Entries(database).list(job)) there.insert(entry.client_key);
        for (const auto& version : Jobs(database).versions(1)) {
            there.insert(fmt::format("version {}", version.number));
            Jobs(database).version(1, version.number);
        }
        for (const auto& what : told)
            if (what != "shop" && there.count(what) != 1)
                return fmt::format("{} is there {} times", what, there.count(what));
    } catch (const std::exception& fault) {
        return fault.what();
    }
    const auto contents = inspect(file);
    if (!contents) return contents.error().text;
    return contents->damage.empty() ? "" : contents->damage.front();
}

TEST(PowerLoss, AtAnySyncNothingAcknowledgedIsLostOrDoubled) {
    const ShopAtWork shop;
    std::vector<std::size_t> cuts;
    for (std::size_t i = 0; i < shop.ops.size(); ++i)
        if (shop.ops[i].kind == NotedFiles::Op::Kind::sync) {
            cuts.push_back(i);      // just before it has come through
            cuts.push_back(i + 1);  // and just after
        }
    ASSERT_GT(cuts.size(), 200u) << "it must have been written to";
    std::mt19937 dice(20261129);
    std::shuffle(cuts.begin(), cuts.end(), dice);
    const auto wanted = static_cast<std::size_t>(drawn(200, static_cast<int>(cuts.size()), 50));
    cuts.resize(std::min(cuts.size(), wanted));
    for (const std::size_t cut : cuts)
        ASSERT_EQ(wrong_after(shop, cut, dice), "") << "cut after " << cut << " of " << shop.ops.size();
    std::printf("%zu cuts, %zu operations on files\n", cuts.size(), shop.ops.size());
}

// That the test would see a loss: with the log's last sync forgotten, something told is gone.
TEST(PowerLoss, AFlushThatDoesNothingIsFound) {
    ShopAtWork shop;
    std::erase_if(shop.ops, [](const auto& op) { return op.kind == NotedFiles::Op::Kind::sync; });
    std::mt19937 dice(1);
    int found = 0;
    for (int n = 0; n < 20; ++n) found += wrong_after(shop, shop.ops.size(), dice).empty() ? 0 : 1;
    EXPECT_GT(found, 0);
}

}  // namespace
}  // namespace seatwright::store
