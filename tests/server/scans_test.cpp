// A scan over the network: sent in pieces, read as a task, looked at, made a job of; and what goes wrong on
// the way. The file is the example's (invented).
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <sstream>
#include <thread>

#include "client.hpp"
#include "places.hpp"

namespace seatwright::server {
namespace {

std::string example() {
    std::ifstream in(std::string(places::root) + "/examples/scan/head.ply", std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

Answered piece(Client& who, const std::string& id, std::size_t at, const std::string& bytes) {
    return who.send("POST", "/api/scans/" + id + "/pieces?at=" + std::to_string(at), bytes,
                    {{"Content-Type", "application/octet-stream"}});
}

std::string send_whole(Client& who, const std::string& name, const std::string& bytes,
                       std::size_t size = 300'000) {
    const auto begun = who.post("/api/scans", {{"file", name}, {"bytes", bytes.size()}});
    EXPECT_EQ(begun.status, 201) << begun.text;
    const std::string id = begun.json().value("id", std::string());
    for (std::size_t at = 0; at < bytes.size(); at += size) {
        const auto p = piece(who, id, at, bytes.substr(at, size));
        EXPECT_EQ(p.status, 200) << p.text;
    }
    return id;
}

Json read(Client& who, const std::string& id, const Json& body = Json::object()) {
    const auto begun = who.post("/api/scans/" + id + "/read", body);
    EXPECT_EQ(begun.status, 202) << begun.text;
    const std::string at = "/api/tasks/" + begun.json().value("id", std::string());
    for (int n = 0; n < 3000; ++n) {
        const Json now = who.get(at).json();
        if (now["state"] != "running") return now;
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    return {{"state", "never ends"}};
}

TEST(Scans, FromAFileToAJob) {
    TestShop shop;
    auto& pat = *shop.pat;
    const std::string id = send_whole(pat, "C:folder/head.ply", example());
    EXPECT_EQ(pat.get("/api/scans/" + id + "/points").status, 409) << "not read yet";
    const Json task = read(pat, id);
    ASSERT_EQ(task["state"], "finished") << task;
    EXPECT_TRUE(task["job"].is_null());

    const Json scan = pat.get("/api/scans/" + id).json();
    EXPECT_EQ(scan["file"], "head.ply");
    ASSERT_EQ(scan["found"]["valves"].size(), scan["walls"]["valves"].size());
    ASSERT_GT(scan["found"]["valves"].size(), 1U);
    const auto points = pat.get("/api/scans/" + id + "/points");
    EXPECT_EQ(points.text.size(), 8 * scan["points"]["count"].get<std::size_t>());
    EXPECT_LE(points.text.size(), 2'000'000U);
    const std::string first = scan["found"]["valves"][0]["id"], second = scan["found"]["valves"][1]["id"];
    for (const auto& drawing : {std::string("drawing.svg"), "drawing.svg?valve=" + first}) {
        const auto svg = pat.get("/api/scans/" + id + "/" + drawing);
        EXPECT_EQ(svg.status, 200);
        EXPECT_NE(svg.text.find(first), std::string::npos) << drawing;
    }
    EXPECT_EQ(pat.get("/api/scans/" + id + "/drawing.svg?valve=9X").status, 404);

    // Turned about, the same places come from the other end.
    const Json turned = pat.get("/api/scans/" + id + "?end_for_end=yes").json();
    EXPECT_TRUE(turned["end_for_end"]);
    EXPECT_NE(turned["found"]["valves"][0]["x_mm"], scan["found"]["valves"][0]["x_mm"]);

    // What repeats is told in the unit asked for.
    const Json inches = pat.get("/api/scans/" + id + "?units=in").json();
    ASSERT_FALSE(inches["found"]["repeats"].empty());
    EXPECT_NE(scan["found"]["repeats"].dump().find(" mm"), std::string::npos);
    EXPECT_EQ(inches["found"]["repeats"].dump().find(" mm"), std::string::npos) << inches["found"]["repeats"];
    EXPECT_EQ(inches["found"]["valves"], scan["found"]["valves"]);

    Json said = {{"valves", {{first, {{"confirmed", true}}}, {second, {{"dropped", true}}}}}};
    for (const auto& [feature, why] : scan["in_doubt"].items())
        said[feature[0] >= '0' && feature[0] <= '9' ? "valves" : "holes"][feature]["confirmed"] = true;
    const auto no =
        pat.post("/api/scans/" + id + "/job", {{"said", {{"valves", {{"9I", {{"dropped", true}}}}}}}});
    EXPECT_EQ(no.status, 422) << no.text;
    EXPECT_NE(no.error().find("9I"), std::string::npos) << no.error();
    const auto made = pat.post("/api/scans/" + id + "/job", {{"said", said}});
    ASSERT_EQ(made.status, 201) << made.text;
    const std::string text = made.json()["text"];
    EXPECT_NE(text.find("confirmed by Pat"), std::string::npos);
    EXPECT_EQ(text.find("id = \"" + second + "\""), std::string::npos);
    EXPECT_EQ(pat.get("/api/scans/" + id).status, 404) << "let go of when its job is made";
}

TEST(Scans, PiecesComeInOrderAndToWhoSentThem) {
    TestShop shop;
    auto& pat = *shop.pat;
    const std::string bytes = example();
    const std::string id = pat.post("/api/scans", {{"file", "a.ply"}, {"bytes", bytes.size()}}).json()["id"];
    EXPECT_EQ(piece(pat, id, 0, bytes.substr(0, 1000)).json()["taken"], 1000);
    // Sent again, as after a network that went away, or out of its turn.
    const auto again = piece(pat, id, 0, bytes.substr(0, 1000));
    EXPECT_EQ(again.status, 409);
    EXPECT_NE(again.error().find("1000"), std::string::npos);
    EXPECT_EQ(piece(pat, id, 1000, bytes).status, 400) << "more than was said";
    EXPECT_EQ(piece(pat, id, 1000, "").status, 400);
    const Json early = read(pat, id);
    EXPECT_EQ(early["state"], "failed");
    EXPECT_NE(early["sentence"].get<std::string>().find("send the rest"), std::string::npos);
    // Nobody else's.
    const auto mia = shop.person("Mia", "machinist");
    EXPECT_EQ(mia->get("/api/scans/" + id).status, 404);
    EXPECT_EQ(piece(*mia, id, 1000, "x").status, 404);
    EXPECT_EQ(mia->send("DELETE", "/api/scans/" + id).status, 404);
    const auto reader = shop.person("Ray", "reader");
    EXPECT_EQ(reader->post("/api/scans", {{"file", "a"}, {"bytes", 1}}).status, 403);
    EXPECT_EQ(pat.send("DELETE", "/api/scans/" + id).status, 204);
    EXPECT_EQ(piece(pat, id, 1000, "x").status, 404);
}

TEST(Scans, WhatIsTooMuchIsRefusedBeforeItIsSent) {
    TestShop shop;
    auto& pat = *shop.pat;
    EXPECT_EQ(pat.post("/api/scans", {{"file", "a"}, {"bytes", 0}}).status, 400);
    EXPECT_EQ(pat.post("/api/scans", {{"file", "a"}, {"bytes", -1}}).status, 400);
    EXPECT_EQ(pat.post("/api/scans", {{"file", "a"}, {"bytes", (1LL << 30) + 1}}).status, 413);
    EXPECT_EQ(pat.post("/api/scans", {{"file", "a"}}).status, 400);
    // The oldest of one person's goes when there are more than two.
    std::vector<std::string> ids;
    for (int i = 0; i < 3; ++i)
        ids.push_back(pat.post("/api/scans", {{"file", "a"}, {"bytes", 10}}).json()["id"]);
    EXPECT_EQ(pat.get("/api/scans/" + ids[0]).status, 404);
    EXPECT_EQ(pat.get("/api/scans/" + ids[1]).status, 200);
    EXPECT_EQ(pat.get("/api/scans/" + ids[2]).status, 200);
}

TEST(Scans, AFileThatIsNoneEndsItsTaskInASentence) {
    TestShop shop;
    auto& pat = *shop.pat;
    const std::string photograph = std::string("\xff\xd8\xff\xe0") + std::string(9000, 'x');
    for (const auto& [name, bytes, words] :
         {std::tuple{"photo.stl", photograph, "photograph"},
          std::tuple{"cut.ply", example().substr(0, 5000), "cut short"},
          std::tuple{"few.xyz", std::string("1 2 3\n4 5 6\n"), "2 points"}}) {
        const Json task = read(pat, send_whole(pat, name, bytes));
        EXPECT_EQ(task["state"], "failed") << name;
        const auto sentence = task["sentence"].get<std::string>();
        EXPECT_NE(sentence.find(words), std::string::npos) << sentence;
        EXPECT_EQ(sentence.find('\n'), std::string::npos);
        EXPECT_EQ(sentence.find(name), 0U) << sentence;
    }
    // In a unit it cannot be in.
    const Json task = read(pat, send_whole(pat, "head.ply", example()), {{"units", "in"}});
    EXPECT_EQ(task["state"], "failed") << task;
    EXPECT_EQ(pat.post("/api/scans/none/read", Json::object()).status, 404);
}

}  // namespace
}  // namespace seatwright::server
