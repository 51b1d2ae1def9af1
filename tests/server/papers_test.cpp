// The papers through the interface: the list, the files, and the pages to look at before they are printed.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "client.hpp"
#include "seatwright/papers/bundle.hpp"
#include "server/answers/prepare.hpp"

namespace seatwright::server {
namespace {

TEST(Papers, EveryOneListedComesAndIsWhatTheCommandsWrite) {
    TestShop shop;
    const long long job = shop.job();
    const auto read = read_with_shop(example_named("wedge")->text, default_shop());
    ASSERT_TRUE(read);
    papers::BundleOptions options;
    options.unit = read->units;
    // On the sheet stands what it was made from: how many entries, and the last one's digest.
    const auto stored = shop.bench->cache.stored(job);
    ASSERT_FALSE(stored->entries.empty());
    options.record =
        fmt::format("entries {} {}", stored->entries.size(), stored->entries.back().digest.substr(0, 16));
    // And that names in it are not those of logins.
    std::size_t of_file = 0;
    for (const auto& proof : read->readings.proofs) of_file += proof.by.empty() ? 0 : 1;
    ASSERT_GT(of_file, 0u);
    options.record += fmt::format(", who measured {} as a file says", of_file);
    auto plan = papers::plan_bundle(*read, plan::make_plan(*read), {}, options);
    const auto proof = papers::proof_bundle(*read, prove::judge(*read), options);
    ASSERT_TRUE(plan && proof);
    plan->files.insert(plan->files.end(), proof->files.begin(), proof->files.end());
    const auto list = shop.pat->get(path_of(job, "/papers")).json()["papers"];
    ASSERT_EQ(list.size(), plan->files.size());
    std::set<std::string> titles;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const std::string name = list[i]["name"];
        EXPECT_EQ(name, plan->files[i].name);
        titles.insert(list[i]["title"]);
        const auto file = shop.pat->get(path_of(job, "/papers/" + name));
        EXPECT_EQ(file.status, 200) << name;
        EXPECT_EQ(file.text, plan->files[i].bytes) << name;
        EXPECT_EQ(file.headers.find("Content-Type")->second, list[i]["media"]) << name;
    }
    EXPECT_GE(titles.size(), 6u);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/nothing.pdf")).status, 404);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/..%2fsecret")).status, 404);
}

TEST(Papers, SheetAndCertificateAreSeenPageByPage) {
    TestShop shop;
    const long long job = shop.job();
    int seen = 0;
    const auto list = shop.pat->get(path_of(job, "/papers?paper=letter&units=in")).json();
    for (const auto& paper : list["papers"])
        for (const std::string page : paper["pages"]) {
            ++seen;
            const auto svg = shop.pat->get(path_of(job, "/papers/" + page + "?paper=letter&units=in"));
            EXPECT_EQ(svg.status, 200) << page;
            EXPECT_EQ(svg.headers.find("Content-Type")->second, "image/svg+xml");
            EXPECT_NE(svg.text.find("215.9"), std::string::npos) << "the page is of letter size";
            EXPECT_EQ(svg.text.find("<script"), std::string::npos);
            const auto policy = svg.headers.find("Content-Security-Policy")->second;
            EXPECT_EQ(policy.find("script-src"), std::string::npos);
            EXPECT_TRUE(policy.starts_with("default-src 'none'")) << policy;
            EXPECT_EQ(svg.headers.count("Content-Security-Policy"), 1u);
            EXPECT_NE(svg.text, shop.pat->get(path_of(job, "/papers/" + page)).text) << "a4 in mm";
        }
    EXPECT_GE(seen, 3) << "a sheet and a certificate of one page each at least, and one of them longer";
    const auto first = shop.pat->get(path_of(job, "/papers/certificate-1.svg")).text;
    EXPECT_NE(first.find("Certificate of measurement"), std::string::npos);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/certificate-0.svg")).status, 404);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/certificate-1x.svg")).status, 404);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/certificate-99.svg")).status, 404);
    EXPECT_EQ(shop.pat->get(path_of(job, "/papers/certificate-1.svg?paper=wall")).status, 400);
}

TEST(Papers, AHeadOfABatchHasACertificateOfItsOwn) {
    TestShop shop;
    const long long job = shop.job();
    const auto all = shop.pat->get(path_of(job, "/papers/certificate-1.svg")).text;
    const auto one = shop.pat->get(path_of(job, "/papers/certificate-1.svg?head=1")).text;
    EXPECT_NE(all.find("Valve seats of 5 heads"), std::string::npos);
    EXPECT_NE(one.find("Valve seats of head 1,"), std::string::npos);
}

std::vector<std::string> programs_of(const Json& list) {
    std::vector<std::string> names;
    for (const auto& paper : list["papers"])
        if (paper["title"] == "Program") names.push_back(paper["name"]);
    return names;
}

// working.md "Restart": new files from the seat at which the blade broke on, under names of their own; the
// other cutter's go on as they were.
TEST(Papers, AfterABladeBrokeHaveThatPartOfTheHead) {
    TestShop shop;
    const long long job = shop.job();
    const auto whole = programs_of(shop.pat->get(path_of(job, "/papers")).json());
    const auto broken = programs_of(shop.pat->get(path_of(job, "/papers?from=4I")).json());
    ASSERT_FALSE(broken.empty());
    EXPECT_NE(broken, whole);
    const auto read = read_with_shop(example_named("wedge")->text, default_shop());
    ASSERT_TRUE(read);
    job::Selection selection;
    selection.from = "4I";
    const auto plan = plan::make_plan(*read, "", selection);
    std::vector<std::string> planned;
    for (const auto& program : plan.cut.programs) {
        planned.push_back(program.file);
        EXPECT_NE(program.file.find("-from4I"), std::string::npos) << program.file;
        const auto file = shop.pat->get(path_of(job, "/papers/" + program.file + "?from=4I"));
        EXPECT_EQ(file.status, 200) << program.file;
        EXPECT_EQ(file.text, program.text);
        EXPECT_EQ(shop.pat->get(path_of(job, "/papers/" + program.file)).status, 404) << "another plan's";
    }
    EXPECT_EQ(broken, planned);
    const auto cut = shop.pat->get(path_of(job, "/results/cut?from=4I")).json();
    EXPECT_EQ(cut["programs"].size(), planned.size());
    EXPECT_NE(cut.dump().find("begun"), std::string::npos) << "what is cut, begun and left is said";
    EXPECT_EQ(programs_of(shop.pat->get(path_of(job, "/papers")).json()), whole) << "kept apart";
}

// Names of eight letters and three do not begin with "program".
TEST(Papers, ProgramsOfShortNamesAreProgramsToo) {
    TestShop shop;
    const long long job = shop.job();
    const Json edit = {{"version", 1},
                       {"edits", {{{"key", "dialect"}, {"value", {{"name", "short"}, {"names", "8.3"}}}}}}};
    const auto changed = shop.pat->post(path_of(job, "/edits"), edit);
    ASSERT_EQ(changed.status, 200) << changed.text;
    const auto names = programs_of(shop.pat->get(path_of(job, "/papers")).json());
    ASSERT_EQ(names.size(), 2u);
    for (const auto& name : names) EXPECT_LE(name.size(), 12u) << name;
}

TEST(Papers, OfSomeSeatsOnlyAndOfNoSuchValve) {
    TestShop shop;
    const long long job = shop.job();
    const auto cut = shop.pat->get(path_of(job, "/results/cut?only=3I,4I")).json();
    ASSERT_FALSE(cut["programs"].empty()) << cut.dump();
    for (const auto& program : cut["programs"]) {
        EXPECT_NE(program["file"].get<std::string>().find("-only3I-4I"), std::string::npos);
        for (const std::string seat : program["seats"]) EXPECT_TRUE(seat == "3I" || seat == "4I") << seat;
    }
    for (const std::string where : {"/papers", "/papers/sheet.pdf", "/results/cut"})
        for (const std::string wrong : {"from=9X", "only=3I,9X", "from=3I&only=4I"}) {
            const auto answer = shop.pat->get(path_of(job, where + "?" + wrong));
            EXPECT_EQ(answer.status, 400) << where << wrong;
            EXPECT_FALSE(answer.error().empty());
        }
    const auto named = shop.pat->get(path_of(job, "/papers?from=9X")).error();
    EXPECT_NE(named.find("no valve '9X'"), std::string::npos) << named;
    EXPECT_NE(named.find("1I"), std::string::npos) << "which there are: " << named;
}

TEST(Papers, ThatCannotBeMadeYetAreNotListedAndSaySo) {
    TestShop shop;
    const Json answers = {{"cylinders", 4}, {"bore_spacing", 100}};
    const long long job =
        shop.pat->post("/api/jobs", {{"from", "answers"}, {"answers", answers}}).json().value("id", 0LL);
    const auto list = shop.pat->get(path_of(job, "/papers")).json()["papers"];
    const bool cut = shop.pat->get(path_of(job, "/results/cut")).status == 200;
    const bool listed =
        std::any_of(list.begin(), list.end(), [](const auto& paper) { return paper["name"] == "sheet.pdf"; });
    EXPECT_EQ(listed, cut);
    const auto sheet = shop.pat->get(path_of(job, "/papers/sheet.pdf"));
    EXPECT_EQ(sheet.status, cut ? 200 : 422) << sheet.text.substr(0, 200);
}

// The state of a task once it no longer runs.
Json ended(Client& client, const Json& task) {
    Json now = task;
    for (int i = 0; i < 1000 && now["state"] == "running"; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        now = client.get("/api/tasks/" + task["id"].get<std::string>()).json();
    }
    return now;
}

TEST(Prepare, MakesStateAndPapersAheadAsATask) {
    TestShop shop;
    const long long job = shop.job();
    const auto started = shop.pat->post(path_of(job, "/prepare"), {{"papers", {"certificate.pdf"}}});
    ASSERT_EQ(started.status, 202) << started.text;
    const Json task = ended(*shop.pat, started.json());
    EXPECT_EQ(task["state"], "finished") << task.dump();
    EXPECT_EQ(task["job"], job);
    const auto stored = shop.bench->cache.stored(job);
    const auto computation = shop.bench->cache.computation(stored, "");
    const PaperQuery query{computation->job().units, papers::a4, "", record_of(*stored, false)};
    bool kept = true;
    computation->kept("paper/certificate.pdf" + query.key(), [&] {
        kept = false;
        return std::string();
    });
    EXPECT_TRUE(kept) << "the certificate waits to be asked for";
    const Json none =
        ended(*shop.pat, shop.pat->post(path_of(job, "/prepare"), {{"papers", {"nothing.pdf"}}}).json());
    EXPECT_EQ(none["state"], "failed");
    EXPECT_EQ(none["sentence"], "there is no such paper for this job");
    EXPECT_EQ(shop.pat->post("/api/jobs/999/prepare", Json::object()).status, 404);
}

TEST(Prepare, IsCancelledBetweenItsSteps) {
    TestShop shop;
    const long long job = shop.job();
    TaskReport report;
    int steps = 0;
    EXPECT_TRUE(prepare(*shop.bench, job, {}, report));
    Tasks tasks;
    const auto started = tasks.start(1, TaskKind::import_, [&](TaskReport& own) -> store::Answer<long long> {
        while (own.progress(0, 1, "waiting to be cancelled")) ++steps;
        return prepare(*shop.bench, job, {}, own);
    });
    ASSERT_TRUE(started);
    EXPECT_FALSE(tasks.cancel(2, started->id)) << "somebody else's";
    ASSERT_TRUE(tasks.cancel(1, started->id));
    auto state = tasks.state(1, started->id);
    for (int i = 0; i < 500 && state->state == "running"; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        state = tasks.state(1, started->id);
    }
    EXPECT_EQ(state->state, "cancelled");
}

}  // namespace
}  // namespace seatwright::server
