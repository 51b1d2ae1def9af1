// Damaged data in a workbench that runs: said in a sentence, never served, and the rest goes on.
#include <gtest/gtest.h>

#include <filesystem>

#include "../store/closed.hpp"
#include "client.hpp"
#include "process.hpp"
#include "seatwright/store/backup.hpp"

namespace seatwright::server {
namespace {

namespace fs = std::filesystem;

// A shop with two jobs, whose server has stopped.
struct StoppedShop : store::ClosedData {
    ServeOptions options;

    StoppedShop() {
        options.data = data();
        options.port = 0;
        Serving server(options);
        Client pat(server.port());
        pat.take_session(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
        for (const char* example : {"wedge", "canted"})
            pat.post("/api/jobs", {{"from", "example"}, {"example", example}});
        enter(pat, 1, 0.0048);
        stop(server);
    }
    static void enter(Client& pat, long long job, double runout) {
        const Json entry = {{"client_key", "key-" + std::to_string(runout)},
                            {"kind", "proof"},
                            {"head", "7"},
                            {"valve", "1I"},
                            {"units", "mm"},
                            {"values", {{"runout", runout}}}};
        ASSERT_EQ(pat.post(path_of(job, "/entries"), entry).status, 201);
    }
    static Ended stop(Serving& server) {
        server.tell(SIGTERM);
        return server.ended().value_or(Ended{});
    }
};

TEST(Damage, AFlippedFigureIsSaidAndNeverServed) {
    StoppedShop shop;
    ASSERT_EQ(shop.change("{\"runout\":0.0048}", "{\"runout\":0.0008}"), 1);
    Serving server(shop.options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    Client pat(port);
    ASSERT_EQ(pat.log_in("Pat").status, 200);
    for (const std::string rest : {"", "/state", "/entries", "/export", "/papers", "/results/prove"}) {
        const auto answer = pat.get(path_of(1, rest));
        EXPECT_EQ(answer.status, 503) << rest << answer.text.substr(0, 200);
        EXPECT_TRUE(answer.error().starts_with("job 1: 1 of its ")) << answer.error();
        EXPECT_NE(answer.error().find("restore the newest backup from before the damage"), std::string::npos);
    }
    EXPECT_EQ(pat.get(path_of(2, "/state")).status, 200) << "the other job goes on";
    const Json jobs = pat.get("/api/jobs").json()["jobs"];
    ASSERT_EQ(jobs.size(), 2u) << "the Bench shows both";
    for (const auto& card : jobs)
        if (card["id"] == 1) {
            EXPECT_EQ(card["title"], "(damaged)");
            EXPECT_TRUE(card["next"].get<std::string>().starts_with("job 1: 1 of its "));
        }
    // Everybody is told once the background has looked, also who never opens that job.
    Json warning;
    for (int i = 0; i < 200 && !warning.is_string(); ++i) {
        warning = pat.get("/api/session").json()["warning"];
        std::this_thread::sleep_for(std::chrono::milliseconds(25));
    }
    EXPECT_NE(warning.dump().find("job 1: 1 of its "), std::string::npos) << warning;
    EXPECT_EQ(StoppedShop::stop(server).status, 0);
}

TEST(Damage, AFlippedLetterInAJobsTextIsSaidAndNeverServed) {
    StoppedShop shop;
    ASSERT_GE(shop.change("incline = ", "incline =-"), 1);
    Serving server(shop.options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    Client pat(port);
    ASSERT_EQ(pat.log_in("Pat").status, 200);
    int refused = 0;
    for (const long long job : {1, 2})
        for (const std::string rest : {"/state", "/export", "/versions/1", "/results/find"}) {
            const auto answer = pat.get(path_of(job, rest));
            if (answer.status != 503) continue;
            ++refused;
            EXPECT_TRUE(answer.error().starts_with("job " + std::to_string(job) +
                                                   ": version 1 of its text is "
                                                   "not as it was stored"))
                << answer.error();
        }
    EXPECT_GE(refused, 4) << "each way to a text of at least one job";
    EXPECT_EQ(pat.get("/api/castings").status, 200) << "what no damaged job teaches goes on";
    Json warning;
    for (int i = 0; i < 200 && !warning.is_string(); ++i) {
        warning = pat.get("/api/session").json()["warning"];
        std::this_thread::sleep_for(std::chrono::milliseconds(25));
    }
    EXPECT_NE(warning.dump().find("is not as it was stored"), std::string::npos) << warning;
    EXPECT_EQ(StoppedShop::stop(server).status, 0);
}

// The data's log is of an earlier moment, and whole in itself: as SQLite sees it nothing is wrong.
TEST(Damage, AnOlderLogInTheNewestsPlaceIsNotServed) {
    StoppedShop shop;
    const std::string log = shop.place() + "-wal", old = shop.file("old-wal");
    {
        Serving server(shop.options);
        Client pat(server.port());
        ASSERT_EQ(pat.log_in("Pat").status, 200);
        StoppedShop::enter(pat, 1, 0.0050);
        fs::copy_file(log, old);
        StoppedShop::enter(pat, 1, 0.0051);
        StoppedShop::enter(pat, 2, 0.0052);
        server.tell(SIGKILL);  // the log stays
        ASSERT_TRUE(server.ended());
    }
    ASSERT_GT(fs::file_size(log), fs::file_size(old)) << "or the older one is no older";
    fs::copy_file(old, log, fs::copy_options::overwrite_existing);
    fs::remove(shop.place() + "-shm");
    Serving server(shop.options);
    const auto end = server.ended();
    ASSERT_TRUE(end) << server.said();
    EXPECT_EQ(end->status, 2);
    EXPECT_NE(end->words.find("this is not the newest data: job 1: 1 of its "), std::string::npos)
        << end->words;
    EXPECT_NE(end->words.find("; job 2: 1 of its "), std::string::npos) << end->words;
}

TEST(Damage, AnOlderDatabaseInTheNewestsPlaceIsNotServed) {
    StoppedShop shop;
    shop.copied();
    {
        Serving server(shop.options);
        Client pat(server.port());
        ASSERT_EQ(pat.log_in("Pat").status, 200);
        StoppedShop::enter(pat, 1, 0.0051);
        StoppedShop::enter(pat, 1, 0.0052);
        StoppedShop::stop(server);
    }
    shop.put_copy_in_place();
    Serving server(shop.options);
    const auto end = server.ended();
    ASSERT_TRUE(end) << server.said();
    EXPECT_EQ(end->status, 2);
    EXPECT_NE(end->words.find("this is not the newest data: job 1: 2 of its "), std::string::npos)
        << end->words;
    // Only by a person's own hand does the older data count.
    fs::rename(shop.last_file(), shop.file("moved away"));
    Serving again(shop.options);
    EXPECT_GT(again.port(), 0) << again.said();
}

}  // namespace
}  // namespace seatwright::server
