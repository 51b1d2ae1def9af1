// Papers stay as they left: the same bytes later, a changed one is a new issue that names the old.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "../store/closed.hpp"
#include "client.hpp"
#include "seatwright/base/sha256.hpp"

namespace seatwright::server {
namespace {

Json issues(TestShop& shop, long long job) {
    return shop.pat->get(path_of(job, "/issues")).json()["issues"];
}

std::string bytes_of(TestShop& shop, long long job, const Json& issue) {
    return shop.pat->get(path_of(job, "/issues/" + issue["id"].dump())).text;
}

void change_title(TestShop& shop, long long job, const std::string& title) {
    const auto now = shop.pat->get(path_of(job)).json();
    const auto answer =
        shop.pat->post(path_of(job, "/edits"),
                       {{"version", now["version"]}, {"edits", {{{"key", "title"}, {"value", title}}}}});
    ASSERT_EQ(answer.status, 200) << answer.text;
}

TEST(Issues, WhatWasTakenComesOutTheSameHoweverTheJobChanges) {
    TestShop shop;
    const long long job = shop.job();
    const auto ida = shop.person("Ida", "reader");
    const std::string first = shop.pat->get(path_of(job, "/papers/sheet.pdf")).text;
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/sheet.pdf")).text, first);
    EXPECT_EQ(ida->get(path_of(job, "/papers/sheet.pdf")).text, first) << "whoever takes it";
    auto list = issues(shop, job);
    ASSERT_EQ(list.size(), 1u) << "the same paper is one issue";
    EXPECT_EQ(list[0]["number"], 1);
    EXPECT_EQ(list[0]["by"], "Pat");
    EXPECT_EQ(list[0]["sha256"], sha256(first));
    EXPECT_EQ(list[0]["replaces"], nullptr);

    change_title(shop, job, "another title");
    const std::string second = ida->get(path_of(job, "/papers/sheet.pdf")).text;
    EXPECT_NE(second, first);
    list = issues(shop, job);
    ASSERT_EQ(list.size(), 2u);
    EXPECT_EQ(list[0]["number"], 2);
    EXPECT_EQ(list[0]["by"], "Ida");
    EXPECT_EQ(list[0]["replaces"], list[1]["id"]) << "it names the old";
    EXPECT_EQ(list[0]["newest"], true);
    // Taken again it ends as a sheet ends, so that it opens as one.
    const auto again = shop.pat->get(path_of(job, "/issues/" + list[0]["id"].dump()));
    const auto named = again.headers.find("Content-Disposition");
    ASSERT_NE(named, again.headers.end());
    EXPECT_EQ(named->second, fmt::format("attachment; filename=\"{}-issue-2-sheet.pdf\"", job));
    EXPECT_EQ(list[1]["newest"], false);
    EXPECT_EQ(bytes_of(shop, job, list[1]), first);
    EXPECT_EQ(bytes_of(shop, job, list[0]), second);
    EXPECT_EQ(ida->get(path_of(job, "/papers/sheet.pdf")).text, second);
    EXPECT_EQ(issues(shop, job).size(), 2u);
}

TEST(Issues, WhatIsOnlyLookedAtHasNotLeft) {
    TestShop shop;
    const long long job = shop.job();
    shop.pat->get(path_of(job, "/papers/sheet.pdf?look=1"));
    shop.pat->get(path_of(job, "/papers/sheet-1.svg"));
    shop.pat->get(path_of(job, "/papers/results.csv?look=1"));
    EXPECT_EQ(issues(shop, job).size(), 0u);
}

// Pages in inches are not the pages in millimetres; a program is the same whatever the page is in.
TEST(Issues, EachPaperHasItsOwnCount) {
    TestShop shop;
    const long long job = shop.job();
    const std::string program = "/papers/program-6-A-1-first.ngc";
    for (const std::string where :
         {"/papers/sheet.pdf", "/papers/sheet.pdf?units=mm", "/papers/certificate.pdf",
          "/papers/certificate.pdf?head=1", "/papers/sheet.pdf?paper=letter"})
        ASSERT_EQ(shop.pat->get(path_of(job, where)).status, 200) << where;
    ASSERT_EQ(shop.pat->get(path_of(job, program)).status, 200);
    ASSERT_EQ(shop.pat->get(path_of(job, program + "?units=mm")).status, 200);
    const auto list = issues(shop, job);
    EXPECT_EQ(list.size(), 6u);
    for (const auto& issue : list) EXPECT_EQ(issue["number"], 1) << issue;
}

TEST(Issues, AProgramKeepsThePlansOwnBytes) {
    TestShop shop;
    const long long job = shop.job();
    const std::string path = path_of(job, "/papers/program-6-A-1-first.ngc");
    const std::string first = shop.pat->get(path).text;
    change_title(shop, job, "another title");
    const std::string second = shop.pat->get(path).text;
    EXPECT_EQ(second, shop.pat->get(path + "?look=1").text) << "nothing is written into a program";
    ASSERT_NE(second, first) << "its mark is of the job's text";
    const auto list = issues(shop, job);
    ASSERT_EQ(list.size(), 2u);
    EXPECT_EQ(bytes_of(shop, job, list[1]), first);
}

TEST(Issues, AChangedByteIsFoundAndNotHandedOut) {
    const store::ClosedData data;
    TestShop shop(32, data.data());
    const long long job = shop.job();
    shop.pat->get(path_of(job, "/papers/results.csv"));
    const auto list = issues(shop, job);
    ASSERT_EQ(list.size(), 1u);
    for (const std::string table : {"issue", "issue_body"}) data.unlock(table);
    const auto found = [&] {
        return shop.bench->database.read([&](store::Sql& sql) { return store::damage_of_issues(sql, job); });
    };
    EXPECT_FALSE(found());
    data.bare("update issue set made_ms = made_ms - 86400000");
    EXPECT_EQ(shop.pat->get(path_of(job, "/issues/" + list[0]["id"].dump())).status, 503);
    ASSERT_TRUE(found());
    EXPECT_NE(found()->find("issue 1 of results.csv"), std::string::npos) << *found();
    data.bare("update issue set made_ms = made_ms + 86400000");
    EXPECT_FALSE(found());
    data.bare("update issue_body set body = 'x' || substr(body, 2)");
    EXPECT_EQ(shop.pat->get(path_of(job, "/issues/" + list[0]["id"].dump())).status, 503);
    ASSERT_TRUE(found());
    if (store::on_server()) return;  // nothing inspects a database server's but what serves it
    const auto said = store::inspect(data.place());
    ASSERT_TRUE(said);
    ASSERT_EQ(said->damage.size(), 1u);
    EXPECT_NE(said->damage[0].find("results.csv"), std::string::npos);
}

TEST(Issues, StandInABackup) {
    TestShop shop;
    if (shop.bench->database.dialect().is_server) GTEST_SKIP() << "a folder's backup";
    const long long job = shop.job();
    const std::string sheet = shop.pat->get(path_of(job, "/papers/sheet.pdf")).text;
    const std::string copy = shop.folder.file("copy.db"), other = shop.folder.file("other");
    ASSERT_TRUE(store::backup(shop.folder.path(), copy));
    ASSERT_TRUE(store::restore(copy, other));
    store::Database database(store::database_file(other));
    store::Issues kept(database);
    const auto list = kept.of_job(job);
    ASSERT_EQ(list.size(), 1u);
    EXPECT_EQ(kept.bytes(list[0]), sheet);
}

}  // namespace
}  // namespace seatwright::server
