// `serve` as a whole: it comes up, says who can reach it, speaks TLS, stops when told, and refuses with a
// sentence and exit status 2 whatever it cannot serve. Everything over loopback.
#include <gtest/gtest.h>
#include <sys/socket.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "certificate.hpp"
#include "client.hpp"
#include "process.hpp"

namespace seatwright::server {
namespace {

ServeOptions on(const store::TestFolder& folder, const std::string& name = "data") {
    ServeOptions options;
    options.data = folder.path() + "/" + name;
    options.port = 0;
    return options;
}

// A data folder with its owner Pat.
void make_shop(const ServeOptions& options) {
    Serving server(options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    Client pat(port);
    const auto made = pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}});
    ASSERT_EQ(made.status, 201) << made.text;
    server.tell(SIGTERM);
    ASSERT_EQ(server.ended().value_or(Ended{}).status, 0);
}

// Refused at once: status 2 and one line that holds these words.
void expect_refused(const ServeOptions& options, const std::string& words) {
    Serving server(options);
    const auto end = server.ended();
    ASSERT_TRUE(end) << "still running; said: " << server.said();
    EXPECT_EQ(end->status, 2) << end->words;
    EXPECT_NE(end->words.find(words), std::string::npos) << end->words;
    EXPECT_EQ(std::count(end->words.begin(), end->words.end(), '\n'), 1) << end->words;
}

void write(const std::string& file, const std::string& text) {
    std::ofstream(file, std::ios::binary) << text;
}

TEST(Serve, StopsCleanlyOnBothSignalsAlsoWhileAPageListens) {
    store::TestFolder folder;
    const auto options = on(folder);
    make_shop(options);
    for (const int signal : {SIGINT, SIGTERM}) {
        Serving server(options);
        const int port = server.port();
        ASSERT_GT(port, 0) << server.said();
        EXPECT_NE(server.said().find("Only this machine can reach it."), std::string::npos) << server.said();
        Client pat(port);
        ASSERT_EQ(pat.log_in("Pat").status, 200);
        const long long job =
            pat.post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).json().value("id", 0LL);
        ASSERT_GT(job, 0);
        std::atomic<int> heard{0};
        std::thread page([&] {
            httplib::Client stream("127.0.0.1", port);
            stream.set_read_timeout(60);
            stream.Get("/api/events", {{"Cookie", cookie_name(port) + "=" + pat.cookie}},
                       [&](const char*, std::size_t) { return ++heard, true; });
        });
        while (heard == 0) std::this_thread::sleep_for(std::chrono::milliseconds(5));
        server.tell(signal);
        const auto end = server.ended();
        page.join();
        ASSERT_TRUE(end) << "signal " << signal;
        EXPECT_EQ(end->status, 0) << end->words;
        EXPECT_NE(end->words.find("Stopping."), std::string::npos);
        const auto contents = store::inspect(store::database_file(options.data));
        ASSERT_TRUE(contents) << contents.error().text;
        EXPECT_EQ(contents->jobs, signal == SIGINT ? 1 : 2);
    }
}

TEST(Serve, SpeaksTlsWithCertificateFiles) {
    store::TestFolder folder;
    auto options = on(folder);
    options.certificate = folder.path() + "/certificate.pem";
    options.key = folder.path() + "/key.pem";
    ASSERT_TRUE(make_certificate(options.certificate, options.key));
    Serving server(options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    EXPECT_NE(server.said().find("https://127.0.0.1:"), std::string::npos) << server.said();
    httplib::SSLClient browser("127.0.0.1", port);
    browser.set_ca_cert_path(options.certificate.c_str());
    browser.enable_server_certificate_verification(true);
    const auto made = browser.Post("/api/owner", Json{{"name", "Pat"}, {"password", good_password}}.dump(),
                                   "application/json");
    ASSERT_TRUE(made) << httplib::to_string(made.error());
    EXPECT_EQ(made->status, 201) << made->body;
    const std::string cookie = made->get_header_value("Set-Cookie");
    EXPECT_TRUE(cookie.starts_with("__Host-seatwright_session_")) << cookie;
    EXPECT_NE(cookie.find("; Path=/; "), std::string::npos) << cookie;
    EXPECT_NE(cookie.find("; Secure"), std::string::npos) << cookie;
    EXPECT_EQ(made->get_header_value("Strict-Transport-Security"), "max-age=31536000");
    const auto by_name = browser.Get("/api/session", {{"Host", "localhost:" + std::to_string(port)}});
    ASSERT_TRUE(by_name);
    EXPECT_FALSE(by_name->has_header("Strict-Transport-Security"))
        << "other programs are reached by that name";
    httplib::SSLClient stranger("127.0.0.1", port);
    stranger.enable_server_certificate_verification(true);
    EXPECT_FALSE(stranger.Get("/api/session")) << "a certificate nobody vouches for must not pass by itself";
    httplib::Client plain("127.0.0.1", port);
    plain.set_read_timeout(5);
    EXPECT_FALSE(plain.Get("/api/session")) << "nothing goes over the wire in the open";
}

TEST(Serve, OnTheNetworkNeedsAccountsAndSaysSo) {
    store::TestFolder folder;
    auto options = on(folder);
    options.listen = "127.0.0.2";  // not one of the loopback names, yet reached from here alone
    expect_refused(options, "to listen on the network there must be accounts");
    options.listen = "";
    make_shop(options);
    options.listen = "127.0.0.2";
    options.unencrypted = true;
    Serving server(options);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    EXPECT_NE(server.said().find("THE NETWORK can reach it at 127.0.0.2"), std::string::npos)
        << server.said();
    EXPECT_NE(server.said().find("Warning: passwords and readings cross this network unencrypted"),
              std::string::npos)
        << server.said();
    httplib::Client browser("127.0.0.2", port);
    const auto session = browser.Get("/api/session");
    ASSERT_TRUE(session);
    const auto json = Json::parse(session->body);
    EXPECT_EQ(json["listening"], "network");
    EXPECT_FALSE(json["warning"].is_null());
    const auto owner =
        browser.Post("/api/owner", R"({"name":"Eve","password":"a few plain words"})", "application/json");
    ASSERT_TRUE(owner);
    EXPECT_EQ(owner->status, 403);
    EXPECT_EQ(browser.Get("/api/jobs")->status, 401);
}

TEST(Serve, OptionsThatCannotBeServedAreRefusedWithASentence) {
    store::TestFolder folder;
    const auto good = on(folder);
    auto options = good;
    options.certificate = folder.path() + "/nowhere.pem";
    expect_refused(options, "TLS needs both files");
    options.key = folder.path() + "/nowhere.pem";
    expect_refused(options, "nowhere.pem: there is no such file");
    write(options.key, "not a key");
    expect_refused(options, "both must be PEM files");
    options = good;
    const std::string certificate = folder.path() + "/c.pem", key = folder.path() + "/k.pem",
                      other = folder.path() + "/o.pem";
    ASSERT_TRUE(make_certificate(certificate, key));
    ASSERT_TRUE(make_certificate(other, folder.path() + "/ok.pem"));
    options.certificate = other;
    options.key = key;
    expect_refused(options, "the one that belongs to the certificate");
    options = good;
    options.listen = "192.0.2.1";  // reserved for documentation (RFC 5737): no machine has it
    if (::geteuid() == 0) {
        expect_refused(options, "root does not open the workbench to the network: say --as USER");
        options.as = "root";
    }
    expect_refused(options, "accounts");
    for (const std::string url : {"postgresql://shop/seatwright", "postgres://shop/seatwright"}) {
        options = good;
        options.data = url;
        expect_refused(options, "no database server answers there");
    }
}

TEST(Serve, APortInUseIsRefused) {
    store::TestFolder folder;
    Serving first(on(folder, "first"));
    auto options = on(folder, "second");
    options.port = first.port();
    ASSERT_GT(options.port, 0);
    expect_refused(options, "another program has it");
}

TEST(Serve, AFolderThatCannotHoldDataIsRefused) {
    store::TestFolder folder;
    auto options = on(folder);
    write(options.data, "a file, not a folder");
    expect_refused(options, "is not a folder");
    options.data = "/proc/seatwright";
    expect_refused(options, "cannot be made");
    options.data = "/proc/self";
    expect_refused(options, "cannot be written to");
    const auto taken = on(folder, "taken");
    Serving first(taken);
    ASSERT_GT(first.port(), 0);
    expect_refused(taken, "another workbench is running on this folder");
}

TEST(Serve, DamagedForeignOrNewerDataIsRefusedAndLeftAsItIs) {
    store::TestFolder folder;
    const auto options = on(folder);
    make_shop(options);
    const std::string file = store::database_file(options.data);
    std::ifstream in(file, std::ios::binary);
    const std::string sound((std::istreambuf_iterator<char>(in)), {});
    {
        store::Database database(file);
        database.write([](store::Sql& sql) {
            sql << "insert into migration (step, name, made_ms) values (99, 'from tomorrow', 0)";
        });
    }
    expect_refused(options, "written by a newer program");
    write(file, "this is no database, but somebody called it one; " + std::string(8192, 'x'));
    expect_refused(options, "cannot be opened");
    std::string damaged = sound;
    std::fill(damaged.begin() + 100, damaged.begin() + 4000, '\x55');
    write(file, damaged);
    std::filesystem::remove(file + "-wal");
    std::filesystem::remove(file + "-shm");
    expect_refused(options, "cannot be opened");
    std::ifstream again(file, std::ios::binary);
    EXPECT_EQ(std::string((std::istreambuf_iterator<char>(again)), {}), damaged);
}

// A limit on the size of files stands in for a full disk: SQLite meets a failing write in both.
TEST(Serve, AFullDiskIsToldAndLosesNothingAcknowledged) {
    store::TestFolder folder;
    const auto options = on(folder);
    make_shop(options);
    int acknowledged = 0;
    long long job = 0;
    {
        Serving server(options, [] {
            ::signal(SIGXFSZ, SIG_IGN);
            const rlimit most{1'500'000, 1'500'000};
            ::setrlimit(RLIMIT_FSIZE, &most);
        });
        const int port = server.port();
        ASSERT_GT(port, 0) << server.said();
        Client pat(port);
        ASSERT_EQ(pat.log_in("Pat").status, 200);
        job = pat.post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).json().value("id", 0LL);
        ASSERT_GT(job, 0);
        Answered last;
        for (int i = 0; i < 2000 && (i == 0 || last.status == 201); ++i) {
            last = pat.post(path_of(job, "/entries"), {{"client_key", "full-" + std::to_string(10000 + i)},
                                                       {"kind", "touch"},
                                                       {"valve", "1I"},
                                                       {"repeat", true},
                                                       {"units", "mm"},
                                                       {"reason", std::string(490, 'x')},
                                                       {"values", {{"x", 0.001 * i}, {"y", 0}}}});
            acknowledged += last.status == 201 ? 1 : 0;
        }
        EXPECT_EQ(last.status, 507) << last.text;
        EXPECT_NE(last.error().find("the disk is full or failing"), std::string::npos) << last.text;
        EXPECT_EQ(pat.get(path_of(job, "/entries")).status, 200) << "what is there can still be read";
    }
    EXPECT_GT(acknowledged, 20);
    const auto contents = store::inspect(store::database_file(options.data));
    ASSERT_TRUE(contents) << contents.error().text;
    store::Database database(store::database_file(options.data));
    int kept = 0;
    for (const auto& entry : store::Entries(database).list(job))
        kept += entry.client_key.starts_with("full-") ? 1 : 0;
    EXPECT_EQ(kept, acknowledged);
}

TEST(Serve, TheDataFolderIsItsOwnersAlone) {
    namespace fs = std::filesystem;
    store::TestFolder folder;
    const auto options = on(folder), beside = on(folder, "shared");
    const auto open_to_all = fs::perms::owner_all | fs::perms::group_read | fs::perms::group_exec |
                             fs::perms::others_read | fs::perms::others_exec;
    const auto rights_of = [](const std::string& path) { return fs::status(path).permissions(); };
    make_shop(options);
    EXPECT_EQ(rights_of(options.data), fs::perms::owner_all);
    // As an earlier version, or a careless copy, left it.
    fs::permissions(options.data, open_to_all);
    fs::permissions(store::database_file(options.data), open_to_all & ~fs::perms::owner_exec);
    fs::create_directory(beside.data);
    fs::permissions(beside.data, open_to_all);
    write(beside.data + "/letter.txt", "of somebody");
    Serving server(options), other(beside);
    ASSERT_GT(server.port(), 0) << server.said();
    ASSERT_GT(other.port(), 0) << other.said();
    EXPECT_EQ(rights_of(options.data), fs::perms::owner_all);
    for (const auto& data : {options.data, beside.data})
        for (const auto& file : fs::directory_iterator(data)) {
            const auto wanted = file.path().filename() == "letter.txt"
                                    ? rights_of(beside.data + "/letter.txt")
                                    : fs::perms::owner_read | fs::perms::owner_write;
            EXPECT_EQ(rights_of(file.path()), wanted) << file.path();
        }
    EXPECT_EQ(rights_of(beside.data), open_to_all) << "a folder with other things in it is not ours to close";
}

TEST(Serve, ABackupIsMadeWhileItRunsAndComesBack) {
    store::TestFolder folder;
    const auto options = on(folder);
    make_shop(options);
    const std::string file = folder.path() + "/shop.backup";
    {
        Serving server(options);
        const int port = server.port();
        ASSERT_GT(port, 0);
        Client pat(port);
        ASSERT_EQ(pat.log_in("Pat").status, 200);
        ASSERT_EQ(pat.post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).status, 201);
        ASSERT_EQ(backup_data(options.data, file), 0);
        ASSERT_EQ(pat.post("/api/jobs", {{"from", "example"}, {"example", "canted"}}).status, 201);
    }
    EXPECT_EQ(backup_data(options.data, file), 2) << "overwrites nothing";
    EXPECT_EQ(restore_data(file, options.data), 2) << "overwrites nothing";
    const auto fresh = on(folder, "fresh");
    ASSERT_EQ(restore_data(file, fresh.data), 0);
    Serving server(fresh);
    const int port = server.port();
    ASSERT_GT(port, 0) << server.said();
    Client pat(port);
    ASSERT_EQ(pat.log_in("Pat").status, 200) << "people come back too";
    EXPECT_EQ(pat.get("/api/jobs").json()["jobs"].size(), 1u) << "as of the moment of the backup";
    // Damaged on its way: refused, and nothing is left in the folder.
    std::fstream bytes(file, std::ios::in | std::ios::out | std::ios::binary);
    bytes.seekp(20'000);
    bytes << std::string(20'000, '\x55');
    bytes.close();
    const auto third = on(folder, "third");
    const auto refusal = store::restore(file, third.data);
    ASSERT_FALSE(refusal);
    EXPECT_NE(refusal.error().text.find("the data is damaged"), std::string::npos) << refusal.error().text;
    EXPECT_EQ(refusal.error().text.find('\n'), std::string::npos) << refusal.error().text;
    EXPECT_FALSE(std::filesystem::exists(store::database_file(third.data)));
}

}  // namespace
}  // namespace seatwright::server
