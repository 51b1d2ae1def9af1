// What who looks after the PC sees: up or not, counts, backups by themselves, the log.
#include "server/answers/administration.hpp"

#include <gtest/gtest.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>

#include "client.hpp"
#include "process.hpp"
#include "seatwright/store/backup.hpp"
#include "seatwright/store/backup_folder.hpp"
#include "served.hpp"
#include "server/answers/store_json.hpp"
#include "spoken.hpp"

namespace seatwright::server {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono;

local_seconds at(int y, unsigned m, unsigned d, int hour) {
    return local_seconds(sys_days(year(y) / month(m) / day(d)).time_since_epoch()) + hours(hour);
}

// A workbench with one job, and a folder for its backups.
struct Backed : TestShop {
    std::string to = folder.path() + "/backups";
    Backed() : TestShop(32, "", "backups") { job(); }
};

TEST(NightlyBackup, IsMadeOnceANightTriedAndSaid) {
    Backed shop;
    auto& nightly = shop.bench->nightly;
    nightly.tend(at(2026, 3, 1, 12));
    ASSERT_EQ(store::backups_in(shop.to).size(), 1U) << spoken(nightly.standing().failed);
    nightly.tend(at(2026, 3, 1, 23));
    nightly.tend(at(2026, 3, 2, 1));
    EXPECT_EQ(store::backups_in(shop.to).size(), 1U) << "before two in the morning";
    nightly.tend(at(2026, 3, 2, 2));
    const auto all = store::backups_in(shop.to);
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(nightly.standing().newest, sys_days(2026y / 3 / 2));
    EXPECT_EQ(spoken(nightly.standing().failed), "");
    const auto contents = store::inspect(shop.to + "/" + store::nightly_name(all.back()));
    ASSERT_TRUE(contents) << contents.error().text;
    EXPECT_EQ(contents->jobs, 1);
    for (const auto& one : fs::directory_iterator(shop.to))
        EXPECT_TRUE(store::day_of_name(one.path().filename().string()) || one.is_directory()) << one.path();
    EXPECT_FALSE(fs::exists(shop.to + "/trial-of-newest"));
    EXPECT_EQ(spoken(nightly.warning(sys_days(2026y / 3 / 4))), "");
    EXPECT_EQ(spoken(nightly.warning(sys_days(2026y / 3 / 5))), "the newest backup is 3 days old");
}

// A clock that was years ahead for a night: the backup it dated keeps nobody from making tonight's, nor does
// it push those of the last days out.
TEST(NightlyBackup, AClockThatWasWrongForANightStopsNoBackups) {
    Backed shop;
    auto& nightly = shop.bench->nightly;
    nightly.tend(at(2036, 3, 1, 12));
    for (unsigned day = 1; day <= 4; ++day) nightly.tend(at(2026, 3, day, 12));
    EXPECT_EQ(spoken(nightly.standing().failed), "");
    EXPECT_EQ(store::backups_in(shop.to), (std::vector<sys_days>{2026y / 3 / 1, 2026y / 3 / 2, 2026y / 3 / 3,
                                                                 2026y / 3 / 4, 2036y / 3 / 1}));
    EXPECT_EQ(spoken(nightly.warning(sys_days(2026y / 3 / 4))), "");
    EXPECT_EQ(spoken(nightly.warning(sys_days(2026y / 3 / 9))), "the newest backup is 5 days old");
}

// One job of each backup is worked out again from it. Here the casting it learned from was changed in the
// data behind the workbench's back: the running one goes by what it has read, the backup by what stands
// there.
TEST(NightlyBackup, OtherNumbersFromTheBackupThanHereMakeNone) {
    TestShop shop(32, "", "backups");
    const std::string wedge = example_named("wedge")->text;
    const auto bare =
        shop.pat->post("/api/jobs", {{"from", "text"}, {"text", wedge.substr(0, wedge.find("[[reading."))}});
    const Json casting = shop.pat->post("/api/castings", {{"job", bare.json()["id"]}}).json();
    const auto made = shop.pat->post("/api/jobs", {{"from", "casting"}, {"casting", casting["name"]}});
    ASSERT_EQ(made.status, 201) << made.text;
    const long long job = made.json()["id"];
    ASSERT_EQ(shop.pat->get(path_of(job, "/results/hold")).status, 200);
    auto& nightly = shop.bench->nightly;
    const auto nights = [&](unsigned from) {  // two jobs, each night another
        std::set<std::string> said;
        for (unsigned day = from; day < from + 2; ++day) {
            nightly.tend(at(2026, 3, day, 12));
            said.insert(spoken(nightly.standing().failed));
        }
        return said;
    };
    EXPECT_EQ(nights(1), std::set<std::string>{""});
    {
        store::Sql sql(soci::sqlite3,
                       store::sqlite_dialect().connect(store::database_file(shop.folder.path())));
        sql << "drop trigger casting_version_no_update";
        sql << "update casting_version set body = replace(body, 'incline = ', 'incline = 1')";
        int lines = 0;
        sql << "select count(*) from casting_version where body like '%incline = 1%'", soci::into(lines);
        ASSERT_EQ(lines, 1);
    }
    EXPECT_EQ(nights(3), (std::set<std::string>{"", "job " + std::to_string(job) +
                                                        " gives other numbers from the backup than here"}));
    EXPECT_EQ(store::backups_in(shop.folder.path() + "/backups").size(), 3U);
    EXPECT_NE(spoken(nightly.warning(sys_days(2026y / 3 / 4))).find("gives other numbers"),
              std::string::npos);
}

TEST(NightlyBackup, WhatCannotBeWrittenIsSaidToEverybodyAndTriedAgain) {
    Backed shop;
    std::ofstream(shop.to) << "a file where the folder should be";
    shop.bench->nightly.tend(local_now());
    EXPECT_NE(spoken(shop.bench->nightly.standing().failed), "");
    const Json session = session_json(*shop.bench, std::nullopt);
    ASSERT_TRUE(session["warning"].is_string()) << session.dump();
    EXPECT_NE(session["warning"].get<std::string>().find("there is no backup yet"), std::string::npos);
    fs::remove(shop.to);
    shop.bench->nightly.tend(local_now());
    EXPECT_EQ(spoken(shop.bench->nightly.standing().failed), "");
    EXPECT_TRUE(session_json(*shop.bench, std::nullopt)["warning"].is_null());
}

// A letter changed in the data since the last backup: no backup of it takes a good one's place.
TEST(NightlyBackup, DamagedDataMakeNoBackup) {
    Backed shop;
    shop.bench->nightly.tend(at(2026, 3, 1, 12));
    shop.bench->database.write([](store::Sql& sql) {
        sql << "drop trigger job_version_no_update";
        sql << "update job_version set body = body || ' '";
    });
    shop.bench->nightly.tend(at(2026, 3, 2, 12));
    EXPECT_EQ(store::backups_in(shop.to).size(), 1U);
    EXPECT_NE(spoken(shop.bench->nightly.standing().failed), "");
}

// Entries of every job come under the shop's own digest by themselves.
TEST(RecordWatch, ChainsTheShopAgainAndAgain) {
    TestShop shop;
    const long long job = shop.job();
    const auto covered = [&] {
        return shop.bench->database.read([](store::Sql& sql) {
            long long entries = 0;
            sql << "select coalesce(max(entries), 0) from shop_digest", soci::into(entries);
            return entries;
        });
    };
    RecordWatch watch(shop.bench->database, std::chrono::milliseconds(20));
    watch.start();
    long long before = -1;
    for (int n = 1; n <= 3; ++n) {
        EXPECT_EQ(shop.pat
                      ->post(path_of(job, "/entries"), {{"client_key", "phone-000" + std::to_string(n)},
                                                        {"kind", "proof"},
                                                        {"head", "7"},
                                                        {"valve", "1I"},
                                                        {"units", "mm"},
                                                        {"values", {{"runout", 0.01}}}})
                      .status,
                  201);
        const auto stored = static_cast<long long>(shop.bench->cache.stored(job)->entries.size());
        long long now = covered();
        for (int tries = 0; now < stored && tries < 500; ++tries) {
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
            now = covered();
        }
        EXPECT_EQ(now, stored);
        EXPECT_GT(now, before);
        before = now;
    }
    EXPECT_TRUE(watch.through());
    EXPECT_TRUE(watch.damage().empty());
}

TEST(Administration, UpOrNotNeedsNoLoginTheRestALeads) {
    TestShop shop;
    Client stranger(shop.server->port());
    EXPECT_EQ(stranger.get("/health").json(), Json({{"up", true}}));
    EXPECT_EQ(stranger.get("/api/administration").status, 401);
    const Json seen = shop.pat->get("/api/administration").json();
    EXPECT_EQ(seen["data"]["acknowledged"], "on one disk");
    // The disks of a database server are not this machine's to look at.
    if (store::on_server())
        EXPECT_TRUE(seen["data"]["free_bytes"].is_null());
    else
        EXPECT_GT(seen["data"]["free_bytes"], 0);
    EXPECT_TRUE(seen["backups"]["folder"].is_null());
    stranger.log_in("Pat", "a wrong password");
    EXPECT_EQ(shop.pat->get("/api/administration").json()["logins"]["refused"], 1);
}

// Another program's reader of the format (python3-prometheus-client).
TEST(Administration, MetricsAreReadByPrometheussOwnReaderAndAddUp) {
    store::TestFolder folder;
    ServeOptions options;
    options.data = new_data(folder.path() + "/data");
    options.port = 0;
    options.metrics_port = 0;
    options.log_lines = true;
    Serving server(options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    ASSERT_TRUE(server.wait_for("/metrics")) << server.said();
    const auto from = server.said().find("Metrics: http://127.0.0.1:") + 26;
    httplib::Client watcher("127.0.0.1", std::stoi(server.said().substr(from)));
    httplib::Client page("127.0.0.1", port);
    for (int i = 0; i < 3; ++i) ASSERT_EQ(page.Get("/api/session")->status, 200);
    ASSERT_EQ(page.Get("/api/jobs?secret=name-of-a-head")->status, 401);
    const auto metrics = watcher.Get("/metrics");
    ASSERT_TRUE(metrics);
    EXPECT_EQ(watcher.Get("/api/session")->status, 404);
    const std::string text = folder.path() + "/metrics", out = folder.path() + "/read";
    std::ofstream(text) << metrics->body;
    const std::string program =
        "from prometheus_client.parser import text_string_to_metric_families as read\n"
        "for f in read(open('" +
        text +
        "').read()):\n"
        "  for s in f.samples: print(s.name, ','.join(f'{k}={v}' for k, v in sorted(s.labels.items())), "
        "s.value)\n";
    std::ofstream(folder.path() + "/read.py") << program;
    ASSERT_EQ(std::system(("/usr/bin/python3 '" + folder.path() + "/read.py' >'" + out + "'").c_str()), 0)
        << metrics->body;
    std::ifstream in(out);
    const std::string read((std::istreambuf_iterator<char>(in)), {});
    for (const char* line :
         {"seatwright_requests_total kind=look,status=2xx 3.0",
          "seatwright_requests_total kind=look,status=4xx 1.0",
          "seatwright_request_seconds_bucket le=+Inf 4.0", "seatwright_request_seconds_count  4.0",
          "seatwright_jobs  0.0", "seatwright_backup_failed  0.0"})
        EXPECT_NE(read.find(line), std::string::npos) << line << "\n" << read;
    // The log: a line of JSON for each, by routes, without what was asked.
    server.tell(SIGTERM);
    const auto end = server.ended();
    ASSERT_TRUE(end);
    int answers = 0;
    std::istringstream lines(end->words);
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with('{')) continue;
        const Json one = Json::parse(line);
        EXPECT_TRUE(one.contains("at") && one.contains("level")) << line;
        answers += one.contains("route") ? 1 : 0;
        EXPECT_EQ(line.find("name-of-a-head"), std::string::npos) << line;
    }
    EXPECT_EQ(answers, 4) << end->words;
}

// The database itself takes no row of that table from now on.
void refuse_rows_of(const std::string& data, const std::string& table) {
    const std::string trigger = "create trigger no_" + table + " before insert on " + table;
    if (!store::on_server()) {
        soci::session sql(soci::sqlite3, store::database_file(data));
        sql << trigger + " begin select raise(abort, 'the test refuses it'); end";
        return;
    }
    const std::string database = data.substr(data.rfind('/', data.find('?')) + 1);
    const std::string name = database.substr(0, database.find('?'));
    store::Cluster::shared().run(
        name,
        "create or replace function refuse() returns trigger language plpgsql as $$ begin raise "
        "exception 'the test refuses it'; end $$");
    store::Cluster::shared().run(name, trigger + " for each row execute function refuse()");
}

// What was to be stored when the database failed: no value, name of a head or of a person, digest of a
// password.
TEST(Administration, TheLogSaysWhatFailedAndNotWhatWasToBeStored) {
    Served shop;
    Serving& server = shop.serving;
    Client& client = shop.pat;
    ASSERT_GT(shop.port, 0) << server.said();
    ASSERT_GT(shop.job, 0);
    for (const std::string table : {"entry", "person"}) refuse_rows_of(shop.data, table);
    EXPECT_EQ(client
                  .post(path_of(shop.job, "/entries"), {{"client_key", "phone-0001"},
                                                        {"kind", "proof"},
                                                        {"head", "head-of-the-log"},
                                                        {"valve", "1I"},
                                                        {"units", "mm"},
                                                        {"values", {{"runout", 0.0123456}}}})
                  .status,
              500);
    EXPECT_EQ(
        client.post("/api/people", {{"name", "Zoe"}, {"role", "reader"}, {"password", good_password}}).status,
        500);
    server.tell(SIGTERM);
    const auto end = server.ended();
    ASSERT_TRUE(end);
    EXPECT_NE(end->words.find("the test refuses it"), std::string::npos) << end->words;
    for (const char* value : {"0.0123456", "head-of-the-log", "Zoe", "argon2"})
        EXPECT_EQ(end->words.find(value), std::string::npos) << value << " stands in\n" << end->words;
}

}  // namespace
}  // namespace seatwright::server
