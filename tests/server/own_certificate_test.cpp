// Certificates the workbench makes for itself, held against NSS (Debian's libnss3-tools), which shares no
// code with the library that makes them; and the page that serves the root, its square code read by zbar.
#include "server/http/own_certificate.hpp"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <zbar.h>

#include <filesystem>
#include <fstream>
#include <regex>

#include "client.hpp"
#include "process.hpp"
#include "raw.hpp"
#include "seatwright/base/sha256.hpp"
#include "server/http/trust_page.hpp"
#include "server/http/web_server.hpp"

namespace seatwright::server {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

const std::vector<std::string> two_names{"shop.test", "192.0.2.10"};

std::chrono::sys_seconds now_s() {
    return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

std::string text_of_file(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

unsigned mode_of(const std::string& file) {
    struct stat found {};
    return ::stat(file.c_str(), &found) == 0 ? found.st_mode & 0777U : 0;
}

// What NSS says of the server's certificate when it trusts the root alone.
std::string by_nss(const store::TestFolder& folder, const OwnCertificate& own) {
    const std::string db = folder.path() + "/nss", said = folder.path() + "/nss-said";
    fs::create_directories(db);
    const auto quoted = [](const std::string& path) { return "'" + path + "'"; };
    const std::string at = " -d " + quoted("sql:" + db) + " ";
    const std::string all = "certutil -N --empty-password" + at + "&& certutil -A -n root -t C,, -i " +
                            quoted(own.root_file) + at + "&& certutil -A -n own -t ,, -i " +
                            quoted(own.chain_file) + at + "&& certutil -V -n own -u V -e" + at;
    const int status = std::system(("( " + all + ") >" + quoted(said) + " 2>&1").c_str());
    return (status == 0 ? "" : "failed: ") + text_of_file(said);
}

TEST(OwnCertificate, AnotherLibraryTrustsItForItsNames) {
    store::TestFolder folder;
    const auto own = own_certificate(folder.path() + "/tls", two_names, now_s());
    EXPECT_TRUE(own.root_made);
    EXPECT_TRUE(own.made);
    EXPECT_EQ(own.fingerprint.size(), 95U) << own.fingerprint;
    EXPECT_EQ(mode_of(folder.path() + "/tls"), 0700U);
    for (const char* name : {"root.pem", "root.key", "server.pem", "server.key"})
        EXPECT_EQ(mode_of(folder.path() + "/tls/" + name), 0600U) << name;
    EXPECT_NE(by_nss(folder, own).find("certificate is valid"), std::string::npos) << by_nss(folder, own);
}

TEST(OwnCertificate, StaysUntilAMonthBeforeItsEndOrANameItLacks) {
    store::TestFolder folder;
    const std::string tls = folder.path() + "/tls";
    const auto first = own_certificate(tls, two_names, now_s());
    const std::string root = text_of_file(first.root_file), server = text_of_file(first.chain_file);
    EXPECT_FALSE(own_certificate(tls, two_names, now_s()).made);
    EXPECT_FALSE(own_certificate(tls, {"shop.test"}, first.ends - std::chrono::days(31)).made);
    EXPECT_EQ(text_of_file(first.chain_file), server);
    const auto later = own_certificate(tls, two_names, first.ends - std::chrono::days(29));
    EXPECT_TRUE(later.made);
    EXPECT_GT(later.ends, first.ends);
    EXPECT_TRUE(own_certificate(tls, {"shop.test", "other.test"}, now_s()).made);
    EXPECT_EQ(text_of_file(first.root_file), root) << "devices trust it: the root stays";
    EXPECT_EQ(own_certificate(tls, two_names, now_s()).fingerprint, first.fingerprint);
}

TEST(OwnCertificate, ADamagedRootIsSaidAndLeftADamagedServersIsMadeAnew) {
    store::TestFolder folder;
    const std::string tls = folder.path() + "/tls";
    const auto own = own_certificate(tls, two_names, now_s());
    std::ofstream(own.key_file) << "not a key";
    EXPECT_TRUE(own_certificate(tls, two_names, now_s()).made);
    std::ofstream(tls + "/root.key") << "not a key";
    try {
        own_certificate(tls, two_names, now_s());
        FAIL() << "a root nobody holds the key of was used";
    } catch (const CannotServe& fault) {
        EXPECT_NE(std::string(fault.what()).find("move both away"), std::string::npos) << fault.what();
    }
    EXPECT_EQ(text_of_file(tls + "/root.key"), "not a key");
    EXPECT_THROW(own_certificate("/proc/tls", two_names, now_s()), CannotServe);
}

// The modules as dots of eight pixels, read by a library that decodes pictures.
std::string read_code(const std::string& svg) {
    std::smatch box;
    std::regex_search(svg, box, std::regex(R"(viewBox="0 0 (\d+))"));
    const unsigned width = static_cast<unsigned>(std::stoul(box[1])), dot = 8, side = width * dot;
    std::string gray(static_cast<std::size_t>(side) * side, '\xff');
    const std::regex module_(R"(M(\d+) (\d+)h1v1h-1z)");
    for (std::sregex_iterator at(svg.begin(), svg.end(), module_), end; at != end; ++at)
        for (unsigned y = 0; y < dot; ++y)
            for (unsigned x = 0; x < dot; ++x)
                gray[(std::stoul((*at)[2]) * dot + y) * side + std::stoul((*at)[1]) * dot + x] = '\0';
    zbar::ImageScanner scanner;
    zbar::Image image(side, side, "Y800", gray.data(), gray.size());
    scanner.scan(image);
    const auto symbol = image.symbol_begin();
    return symbol == image.symbol_end() ? "nothing" : symbol->get_data();
}

TEST(TrustPage, ItsSquareCodeIsTheAddress) {
    for (const std::string address :
         {"https://192.0.2.10:8137/", "https://[2001:db8::1]:443/", "https://a-shop.local/"})
        EXPECT_EQ(read_code(square_code(address)), address);
    EXPECT_THROW(square_code(std::string(5000, 'x')), std::runtime_error);
}

// As the shop has it: a server on the network, a device that trusts the root alone.
TEST(Serve, OnTheNetworkItSpeaksHttpsByCertificatesOfItsOwn) {
    store::TestFolder folder;
    ServeOptions options;
    options.data = folder.path() + "/data";
    options.port = 0;
    {
        Serving server(options);
        Client pat(server.port());
        ASSERT_EQ(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}).status, 201);
        server.tell(SIGTERM);
        ASSERT_TRUE(server.ended());
    }
    options.listen = "127.0.0.2";  // not one of the loopback names, yet reached from here alone
    options.names = {"shop.test"};
    std::string fingerprint;
    for (const bool first : {true, false}) {
        Serving server(options);
        const int port = server.port();
        ASSERT_GT(port, 0) << server.said();
        ASSERT_TRUE(server.wait_for("No nightly backups")) << server.said();
        const std::string said = server.said();
        EXPECT_NE(said.find("https://127.0.0.2:"), std::string::npos) << said;
        EXPECT_EQ(said.find("unencrypted"), std::string::npos) << said;
        EXPECT_EQ(said.find("A root certificate was made") != std::string::npos, first) << said;
        const std::string from = said.substr(said.find("once from http://127.0.0.2:") + 27);
        httplib::Client open("127.0.0.2", std::stoi(from));
        const auto page = open.Get("/"), root = open.Get("/root.crt");
        ASSERT_TRUE(page && root);
        std::string hex = sha256(root->body), spaced;
        for (std::size_t i = 0; i < hex.size(); ++i) {
            if (i > 0 && i % 2 == 0) spaced += ':';
            spaced += static_cast<char>(std::toupper(static_cast<unsigned char>(hex[i])));
        }
        EXPECT_NE(page->body.find(spaced), std::string::npos) << page->body;
        EXPECT_NE(said.find(spaced), std::string::npos) << said;
        EXPECT_EQ(open.Get("/api/session")->status, 404) << "nothing of the workbench in the open";
        EXPECT_EQ(open.Post("/", "x", "text/plain")->status, 405);
        EXPECT_TRUE(first || spaced == fingerprint) << "the root stays over a restart";
        fingerprint = spaced;
        httplib::SSLClient tablet("127.0.0.2", port);
        tablet.set_ca_cert_path((options.data + "/tls/root.pem").c_str());
        tablet.enable_server_certificate_verification(true);
        const auto session = tablet.Get("/api/session");
        ASSERT_TRUE(session) << httplib::to_string(session.error());
        EXPECT_TRUE(Json::parse(session->body)["warning"].is_null()) << session->body;
        httplib::SSLClient stranger("127.0.0.2", port);
        stranger.enable_server_certificate_verification(true);
        EXPECT_FALSE(stranger.Get("/api/session"));
    }
}

// SHA-256 of the certificate a new connection is greeted with; empty: of none.
std::string greeted_with(int port) {
    const Raw tablet(port, Over::https);
    return tablet.certificate();
}

// A month before its end the certificate becomes another while tablets are at work: who is connected goes on,
// who comes anew is greeted with the new one; a file that cannot be used changes nothing.
TEST(Serve, ACertificateIsRenewedWhileItServes) {
    store::TestFolder folder;
    const std::string tls = folder.path() + "/tls";
    const std::vector<std::string> names{"127.0.0.1"};
    // Made so long ago that three weeks are left.
    const auto lasts = own_certificate(folder.path() + "/other", names, now_s()).ends - now_s();
    const auto first = own_certificate(tls, names, now_s() - (lasts - std::chrono::days(21)));
    WebOptions options;
    options.certificate = first.chain_file;
    options.key = first.key_file;
    options.hear = [](const Request&) {
        return Heard{{}, 0, [](const Request&) {
                         Response up;
                         up.set_content("up", "text/plain");
                         return up;
                     }};
    };
    WebServer server(std::move(options));
    httplib::SSLClient tablet("127.0.0.1", server.port());
    tablet.set_ca_cert_path(first.root_file.c_str());
    tablet.enable_server_certificate_verification(true);
    tablet.set_keep_alive(true);
    ASSERT_TRUE(tablet.Get("/health"));
    const std::string before = greeted_with(server.port());
    EXPECT_EQ(before.size(), 64u);
    const auto renewed = own_certificate(tls, names, now_s());
    ASSERT_TRUE(renewed.made);
    EXPECT_EQ(greeted_with(server.port()), before) << "nothing yet";
    server.use_certificate(renewed.chain_file, renewed.key_file);
    const std::string after = greeted_with(server.port());
    EXPECT_EQ(after.size(), 64u);
    EXPECT_NE(after, before);
    const auto goes_on = tablet.Get("/health");
    ASSERT_TRUE(goes_on) << httplib::to_string(goes_on.error());
    httplib::SSLClient another("127.0.0.1", server.port());
    another.set_ca_cert_path(first.root_file.c_str());  // the root it was told to trust once
    another.enable_server_certificate_verification(true);
    EXPECT_TRUE(another.Get("/health"));
    std::ofstream(tls + "/broken.pem") << "not a certificate";
    EXPECT_THROW(server.use_certificate(tls + "/broken.pem", renewed.key_file), CannotServe);
    EXPECT_EQ(greeted_with(server.port()), after);
}

TEST(Serve, NamesOfCertificatesAreCheckedBeforeAnythingIsMade) {
    store::TestFolder folder;
    ServeOptions options;
    options.data = folder.path() + "/data";
    options.port = 0;
    const auto refused = [&](const std::string& words) {
        Serving server(options);
        const auto end = server.ended();
        ASSERT_TRUE(end) << server.said();
        EXPECT_EQ(end->status, 2);
        EXPECT_NE(end->words.find(words), std::string::npos) << end->words;
        EXPECT_FALSE(fs::exists(options.data));
    };
    options.names = {"shop.test"};
    refused("--name is for certificates the workbench makes itself");
    options.listen = "127.0.0.2";
    options.names = {"a shop, DNS:other"};
    refused("'a shop, DNS:other' is neither a name of a machine");
    options.names.clear();
    options.unencrypted = options.behind_proxy = true;
    refused("--unencrypted contradicts");
}

}  // namespace
}  // namespace seatwright::server
