// Whose a job is: in the store, on the Bench and on papers; never in a program. One file with everything.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "client.hpp"
#include "server/answers/everything.hpp"

namespace seatwright::server {
namespace {

constexpr const char* customer = "Invented Engines";
const Json order{
    {"number", "A-1711"}, {"customer", customer}, {"serials", {{"1", "SN 77"}, {"6", "SN 90210"}}}};

Answered say(Client& who, long long job, const Json& change) {
    return who.send("PATCH", path_of(job, "/order"), change.dump());
}

// What a command prints.
std::string printed(const std::string& command) {
    std::string all;
    std::FILE* pipe = ::popen(command.c_str(), "r");
    for (int c = 0; pipe != nullptr && (c = std::fgetc(pipe)) != EOF;) all += static_cast<char>(c);
    if (pipe != nullptr) ::pclose(pipe);
    return all;
}

std::string words_of_pdf(const TestShop& shop, const std::string& bytes) {
    const std::string file = shop.folder.file("paper.pdf");
    std::ofstream(file, std::ios::binary) << bytes;
    return printed("pdftotext -layout '" + file + "' -");
}

TEST(Orders, StandOnTheBenchAndOnPapersAndNeverInAProgram) {
    TestShop shop;
    const long long job = shop.job();
    ASSERT_EQ(say(*shop.pat, job, order).status, 200);
    EXPECT_EQ(shop.pat->get(path_of(job, "/order")).json(), order);
    const Json card = shop.pat->get("/api/jobs").json()["jobs"][0];
    EXPECT_EQ(card["number"], "A-1711");
    EXPECT_EQ(card["customer"], customer);
    for (const std::string paper : {"sheet.pdf?head=6", "certificate.pdf?head=6"}) {
        const auto words = words_of_pdf(shop, shop.pat->get(path_of(job, "/papers/" + paper)).text);
        for (const std::string said : {"A-1711", customer, "SN 90210"})
            EXPECT_NE(words.find(said), std::string::npos) << paper << " lacks " << said << "\n"
                                                           << words.substr(0, 600);
        EXPECT_EQ(words.find("SN 77"), std::string::npos) << "another head's";
    }
    for (const std::string name : {"program-6-A-1-first.ngc", "results.csv"}) {
        const auto paper = shop.pat->get(path_of(job, "/papers/" + name + "?head=6&look=1"));
        ASSERT_EQ(paper.status, 200) << name << paper.text;
        for (const std::string said : {"A-1711", customer, "SN 90210", "SN 77"})
            EXPECT_EQ(paper.text.find(said), std::string::npos) << name;
    }
    const std::string file = shop.pat->get(path_of(job, "/export")).text;
    EXPECT_EQ(file.find(customer), std::string::npos) << "nor in the job file";
}

TEST(Orders, WhatIsNotNamedStaysAndAnEmptyTextTakesAway) {
    TestShop shop;
    const long long job = shop.job();
    ASSERT_EQ(say(*shop.pat, job, order).status, 200);
    EXPECT_EQ(say(*shop.pat, job, {{"number", "B-2"}}).json()["customer"], customer);
    const Json now = say(*shop.pat, job, {{"serials", {{"6", ""}}}, {"customer", ""}}).json();
    EXPECT_EQ(now, (Json{{"number", "B-2"}, {"customer", ""}, {"serials", {{"1", "SN 77"}}}}));
    EXPECT_EQ(say(*shop.pat, 99, {{"number", "x"}}).status, 404);
    EXPECT_EQ(say(*shop.pat, job, {{"number", " x"}}).status, 400);
    EXPECT_EQ(say(*shop.pat, job, {{"number", std::string(41, 'x')}}).status, 400);
    EXPECT_EQ(say(*shop.pat, job, {{"serials", {{"6", 7}}}}).status, 400);
    EXPECT_EQ(say(*shop.pat, job, {{"serials", "SN"}}).status, 400);
    const auto ida = shop.person("Ida", "reader");
    EXPECT_EQ(say(*ida, job, {{"number", "x"}}).status, 403);
    EXPECT_EQ(shop.pat->get(path_of(job, "/order")).json(), now);
}

// The name stands once: it can be corrected, or taken out, without a trace in what is never erased.
TEST(Orders, ACustomersNameStandsOnce) {
    TestShop shop;
    const long long first = shop.job(), second = shop.job();
    ASSERT_EQ(say(*shop.pat, first, {{"customer", customer}}).status, 200);
    ASSERT_EQ(say(*shop.pat, second, {{"customer", customer}}).status, 200);
    const Json all = shop.pat->get("/api/customers").json()["customers"];
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0]["jobs"], 2);
    const std::string path = "/api/customers/" + all[0]["id"].dump();
    const auto sam = shop.person("Sam", "machinist");
    EXPECT_EQ(sam->send("PATCH", path, R"({"name":"x"})").status, 403);
    ASSERT_EQ(shop.pat->send("PATCH", path, R"({"name":"a customer"})").status, 200);
    for (const long long job : {first, second})
        EXPECT_EQ(shop.pat->get(path_of(job, "/order")).json()["customer"], "a customer");
    EXPECT_EQ(shop.pat->get("/api/ledger").text.find(customer), std::string::npos);
    EXPECT_EQ(shop.pat->send("PATCH", "/api/customers/99", R"({"name":"x"})").status, 404);
    ASSERT_EQ(say(*shop.pat, second, {{"customer", "another"}}).status, 200);
    EXPECT_EQ(shop.pat->send("PATCH", path, R"({"name":"another"})").status, 409);
}

// GNU tar opens it (another program's opinion of the form), and what is in it reads as it was.
TEST(Orders, EverythingOfOneCustomerIsOneFileThatOthersOpen) {
    TestShop shop;
    const long long theirs = shop.job(), others = shop.job("canted");
    ASSERT_EQ(say(*shop.pat, theirs, order).status, 200);
    const std::string sheet = shop.pat->get(path_of(theirs, "/papers/sheet.pdf")).text;
    const auto answer = shop.pat->get("/api/customers/1/everything");
    ASSERT_EQ(answer.status, 200) << answer.text.substr(0, 200);
    const std::string file = shop.folder.file("all.tar"), out = shop.folder.file("out");
    std::ofstream(file, std::ios::binary) << answer.text;
    std::filesystem::create_directory(out);
    EXPECT_EQ(printed("tar -xf '" + file + "' -C '" + out + "' 2>&1"), "");
    const auto read = [&](const std::string& name) {
        std::stringstream all;
        all << std::ifstream(out + "/" + name, std::ios::binary).rdbuf();
        return all.str();
    };
    const std::string folder = "job-" + std::to_string(theirs) + "/";
    EXPECT_EQ(read(folder + "job.toml"), shop.pat->get(path_of(theirs, "/export")).text);
    EXPECT_EQ(read(folder + "as-imported.toml"), example_named("wedge")->text);
    EXPECT_EQ(read(folder + "taken/1-sheet.pdf"), sheet);
    EXPECT_NE(read(folder + "order.csv").find("customer,Invented Engines"), std::string::npos);
    const Json entries = shop.pat->get(path_of(theirs, "/entries")).json()["entries"];
    const std::string table = read(folder + "entries.csv");
    EXPECT_EQ(static_cast<std::size_t>(std::count(table.begin(), table.end(), '\n')), entries.size() + 1);
    EXPECT_FALSE(std::filesystem::exists(out + "/job-" + std::to_string(others)));
    EXPECT_FALSE(std::filesystem::exists(out + "/people.csv"));
    const auto sam = shop.person("Sam", "machinist");
    EXPECT_EQ(sam->get("/api/customers/1/everything").status, 403);
}

TEST(Orders, EverythingOfTheShopHoldsEveryJobTheShelfAndThePeople) {
    TestShop shop;
    shop.job();
    shop.job("canted");
    const std::string file = shop.folder.file("all.tar");
    {
        std::ofstream out(file, std::ios::binary);
        everything(shop.bench->database, shop.bench->photographs, {}, [&](std::string_view bytes) {
            out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        });
    }
    const std::string names = printed("tar -tf '" + file + "' 2>&1");
    for (const std::string name : {"README.txt", "job-1/job.toml", "job-2/entries.csv", "shelf/0001.toml",
                                   "people.csv", "ledger.csv", "job-1/versions/0001.toml"})
        EXPECT_NE(names.find(name + "\n"), std::string::npos) << name << "\n" << names;
}

}  // namespace
}  // namespace seatwright::server
