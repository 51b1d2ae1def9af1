// What a PC does to a workbench that runs: a disk that takes nothing any more or takes long, a clock that is
// put back. Nothing acknowledged is lost or doubled, and who works is told in a sentence.
#include <dlfcn.h>
#include <gtest/gtest.h>
#include <time.h>

#include <chrono>
#include <thread>

#include "../store/folder.hpp"
#include "client.hpp"
#include "faulty_disk.hpp"
#include "seatwright/store/backup.hpp"
#include "seatwright/store/chain.hpp"
#include "set_clock.hpp"

namespace seatwright::server {

std::atomic<long long>& clock_is_off() {
    static std::atomic<long long> seconds{0};
    return seconds;
}

}  // namespace seatwright::server

// NOLINTNEXTLINE(readability-inconsistent-declaration-parameter-name): the library's own name
extern "C" int clock_gettime(clockid_t which, timespec* out) noexcept {
    using Call = int (*)(clockid_t, timespec*);
    static const auto of_library = reinterpret_cast<Call>(::dlsym(RTLD_NEXT, "clock_gettime"));
    const int status = of_library(which, out);
    if (which == CLOCK_REALTIME && status == 0) out->tv_sec += seatwright::server::clock_is_off();
    return status;
}

namespace seatwright::server {
namespace {

using namespace std::chrono_literals;

Json proof(const std::string& key, double runout, const std::string& valve = "1I") {
    return {{"client_key", key}, {"kind", "proof"}, {"head", "7"},
            {"valve", valve},    {"units", "mm"},   {"values", {{"runout", runout}}}};
}

std::size_t times_on_record(TestShop& shop, long long job, const std::string& key) {
    std::size_t count = 0;
    for (const auto& entry : store::Entries(shop.bench->database).list(job))
        count += entry.client_key == key ? 1 : 0;
    return count;
}

TEST(Faults, ADiskThatHasBecomeReadOnlyIsToldAndWhatIsThereIsRead) {
    const FaultyDisk disk;
    TestShop shop;
    const long long job = shop.job();
    ASSERT_EQ(shop.pat->post(path_of(job, "/entries"), proof("phone-00001", 0.01)).status, 201);
    ASSERT_GT(FaultyDisk::writes(), 0) << "the data are not on this disk";
    const std::string before = shop.pat->get(path_of(job, "/export")).text;
    FaultyDisk::refuses() = true;
    for (int n = 0; n < 3; ++n) {
        const auto refused = shop.pat->post(path_of(job, "/entries"), proof("phone-00002", 0.02));
        EXPECT_EQ(refused.status, 507) << refused.text;
        EXPECT_NE(refused.error().find("the disk is full or failing: nothing was changed"), std::string::npos)
            << refused.text;
    }
    EXPECT_EQ(shop.pat->send("PATCH", path_of(job), R"({"archived":true})").status, 507);
    EXPECT_EQ(shop.pat->get(path_of(job, "/state")).status, 200);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers")).status, 200);
    EXPECT_EQ(shop.pat->get(path_of(job, "/export")).text, before);
    Client another(shop.server->port());
    const auto login = another.log_in("Pat");
    EXPECT_EQ(login.status, 507) << "no login can be noted: " << login.text;
    FaultyDisk::refuses() = false;
    EXPECT_EQ(shop.pat->post(path_of(job, "/entries"), proof("phone-00002", 0.02)).status, 201)
        << "the tablet sends it again when the disk is back";
    EXPECT_EQ(times_on_record(shop, job, "phone-00002"), 1u);
    EXPECT_TRUE(shop.bench->database.read([](store::Sql& sql) { return store::damage_in(sql); }).empty());
}

TEST(Faults, ADiskThatTakesLongKeepsNobodyFromReadingAndDoublesNothing) {
    const FaultyDisk disk;
    TestShop shop;
    const long long job = shop.job();
    FaultyDisk::slow_ms() = 40;
    const auto start = std::chrono::steady_clock::now();
    std::vector<std::thread> writers;
    std::atomic<int> acknowledged{0};
    double longest = 0;
    for (int w = 0; w < 4; ++w)
        writers.emplace_back([&, w] {
            Client mine(shop.server->port());
            mine.cookie = shop.pat->cookie;
            mine.csrf = shop.pat->csrf;
            for (int n = 0; n < 3; ++n) {
                const auto key = "tablet-" + std::to_string(w) + "-" + std::to_string(n);
                // A tablet that has waited too long asks again while the first is still on its way.
                std::thread again([&] {
                    Client same(shop.server->port());
                    same.cookie = mine.cookie;
                    same.csrf = mine.csrf;
                    const auto answer = same.post(path_of(job, "/entries"), proof(key, 0.01 + 0.001 * n));
                    EXPECT_EQ(answer.status / 100, 2) << answer.text;
                });
                const auto answer = mine.post(path_of(job, "/entries"), proof(key, 0.01 + 0.001 * n));
                EXPECT_EQ(answer.status / 100, 2) << answer.text;
                acknowledged += answer.status / 100 == 2 ? 1 : 0;
                again.join();
            }
        });
    int read = 0;
    while (acknowledged < 12 && std::chrono::steady_clock::now() - start < 60s) {
        const auto asked = std::chrono::steady_clock::now();
        EXPECT_EQ(shop.pat->get(path_of(job, "/results/hold")).status, 200);
        const double took = std::chrono::duration<double>(std::chrono::steady_clock::now() - asked).count();
        longest = std::max(longest, took);
        ++read;
        std::this_thread::sleep_for(10ms);
    }
    for (auto& writer : writers) writer.join();
    const double whole = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    EXPECT_EQ(acknowledged, 12);
    EXPECT_GT(whole, 0.4) << "the disk was not slow";
    EXPECT_GT(read, 5) << "who reads does not wait for who writes";
    FaultyDisk::slow_ms() = 0;
    std::printf("%.1f s of writing, %d read meanwhile, the longest %.3f s\n", whole, read, longest);
    for (int w = 0; w < 4; ++w)
        for (int n = 0; n < 3; ++n)
            EXPECT_EQ(times_on_record(shop, job, "tablet-" + std::to_string(w) + "-" + std::to_string(n)),
                      1u);
    EXPECT_TRUE(shop.bench->database.read([](store::Sql& sql) { return store::damage_in(sql); }).empty());
}

// The order of entries is the store's, whatever its clock says: each job gives at each entry the numbers it
// gave then, and what was recorded by a time is all there after `restore --until`.
TEST(Clock, PutBackItChangesNoOrderAndNoNumbers) {
    TestShop shop;
    const long long job = shop.job();
    const std::vector<std::string> stages{"hold", "find", "shape", "cut", "prove"};
    std::vector<std::pair<long long, std::vector<std::string>>> then;
    std::vector<std::string> keys;
    const auto enter = [&](double runout) {
        keys.push_back("phone-0000" + std::to_string(keys.size()));
        const auto answer = shop.pat->post(path_of(job, "/entries"), proof(keys.back(), runout, "2I"));
        ASSERT_EQ(answer.status, 201) << answer.text;
        std::vector<std::string> results;
        for (const auto& stage : stages)
            results.push_back(shop.pat->get(path_of(job, "/results/" + stage)).text);
        then.emplace_back(answer.json()["sequence"], std::move(results));
    };
    const auto wall = [] { return std::chrono::system_clock::now(); };
    enter(0.010);
    const auto before = wall();
    {
        const SetClock back(-3h);
        ASSERT_LT(wall(), before - 2h) << "the clock was not put back";
        for (const double runout : {0.011, 0.012}) enter(runout);
        EXPECT_EQ(shop.pat->get("/api/session").json()["person"]["name"], "Pat") << "who is in stays in";
    }
    ASSERT_GT(wall(), before);
    enter(0.013);
    const Json listed = shop.pat->get(path_of(job, "/entries")).json()["entries"];
    std::vector<std::string> in_order;
    long long last = 0;
    for (const auto& entry : listed) {
        EXPECT_EQ(entry["sequence"], ++last);
        if (entry["client_key"].get<std::string>().starts_with("phone-"))
            in_order.push_back(entry["client_key"]);
    }
    EXPECT_EQ(in_order, keys);
    for (const auto& [sequence, results] : then)
        for (std::size_t i = 0; i < stages.size(); ++i)
            EXPECT_EQ(
                shop.pat->get(path_of(job, "/results/" + stages[i] + "?entry=" + std::to_string(sequence)))
                    .text,
                results[i])
                << stages[i] << " at " << sequence;
    EXPECT_TRUE(shop.bench->database.read([](store::Sql& sql) { return store::damage_in(sql); }).empty());
    if (store::on_server()) return;  // a database server has its own way back
    const std::string saved = shop.folder.file("saved.db");
    ASSERT_TRUE(store::backup(shop.folder.path(), saved));
    const auto ms = std::chrono::duration_cast<std::chrono::milliseconds>(before.time_since_epoch()).count();
    const auto restored = store::restore_until(saved, shop.folder.file("put back"), ms);
    ASSERT_TRUE(restored) << restored.error().text;
    store::Database again(store::database_file(shop.folder.file("put back")));
    std::set<std::string> there;
    for (const auto& entry : store::Entries(again).list(job)) there.insert(entry.client_key);
    for (std::size_t i = 0; i < 3; ++i)
        EXPECT_TRUE(there.contains(keys[i])) << "acknowledged by then by its clock";
    EXPECT_FALSE(there.contains(keys[3]));
}

}  // namespace
}  // namespace seatwright::server
