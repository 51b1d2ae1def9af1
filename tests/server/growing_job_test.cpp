// While entries come in, whatever they are, nothing kept from before shows: the job, what counts, the page's
// state and its deltas are those made from nothing.
#include "server/jobs/growing_job.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <random>

#include "client.hpp"
#include "draws.hpp"
#include "places.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/with_reading.hpp"
#include "seatwright/plan/parts.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/merge.hpp"
#include "server/answers/job_state.hpp"
#include "server/answers/state_parts.hpp"
#include "server/intake/edits.hpp"

namespace seatwright::server {
namespace {

using job::Stage;

// Without the order of keys, which says nothing.
nlohmann::json plain(const Json& json) {
    return nlohmann::json::parse(json.dump());
}

// A page on one head: its state, brought up to date by deltas.
struct Page {
    std::string head;
    Json state;
    std::string query() const {
        return "?units=mm&head=" + head + "&since=" + state["key"].get<std::string>();
    }
    void take(const Json& delta) {
        ASSERT_EQ(delta["since"], state["key"]);
        state = state.patch(delta["patch"]);
        ASSERT_EQ(delta["key"], state["key"]);
    }
};

// The list of entries of a screen that asks for what came in since it last did.
class Listed {
  public:
    void ask(TestShop& shop, long long job) {
        const Json more = shop.pat->get(path_of(job, "/entries?since=" + std::to_string(sequence_))).json();
        ASSERT_EQ(more["since"], sequence_);
        for (const Json& entry : more["entries"]) entries_[entry["id"].get<long long>()] = entry;
        sequence_ = more["sequence"].get<long long>();
        told_ += more["entries"].size();
        const Json whole = shop.pat->get(path_of(job, "/entries")).json();
        ASSERT_EQ(more["conflicts"], whole["conflicts"]);
        ASSERT_EQ(entries_.size(), whole["entries"].size());
        for (const Json& entry : whole["entries"])
            ASSERT_EQ(entries_.at(entry["id"].get<long long>()), entry) << sequence_;
    }
    std::size_t told() const { return told_; }
    std::size_t size() const { return entries_.size(); }

  private:
    std::map<long long, Json> entries_;
    long long sequence_ = 0;
    std::size_t told_ = 0;
};

// Entries of every kind, wrong ones among them, as several people may send them.
class Shift {
  public:
    Json next(const GrowingList<store::Entry>& known) {
        const auto pick = [&](int from, int to) { return std::uniform_int_distribution(from, to)(dice_); };
        Json entry{{"client_key", "shift-entry-" + std::to_string(++count_)},
                   {"head", std::to_string(pick(1, 4))},
                   {"valve", std::string(1, static_cast<char>('1' + pick(0, 3))) + (pick(0, 1) ? "I" : "E")},
                   {"units", pick(0, 3) == 0 ? "in" : "mm"},
                   {"values", Json::object()}};
        const double unit = entry["units"] == "in" ? 1 / 25.4 : 1;
        const auto near = [&](double value, double by) {
            return std::round(1e4 * unit * (value + by * pick(-9, 9))) / 1e4;
        };
        const int what = pick(0, 19);
        if (what < 5) {
            entry["kind"] = "touch";
            entry["values"] = {{"x", near(40, 12)}, {"y", near(0, 0.02)}};
            if (pick(0, 9) == 0) entry["valve"] = "?";
        } else if (what < 8) {
            entry["kind"] = "guide";
            entry["values"] = {
                {"top", near(8.73, 0.001)}, {"middle", near(8.73, 0.001)}, {"bottom", near(8.73, 0.001)}};
        } else if (what < 12) {
            entry["kind"] = "seat";
            if (pick(0, 1)) entry["values"]["stem_height"] = near(48.5, 0.02);
            if (pick(0, 1)) entry["values"]["recession"] = near(0.2, 0.02);
            if (entry["values"].empty() || pick(0, 1)) entry["values"]["cleanup"] = near(0.3, 0.02);
        } else if (what < 16) {
            entry["kind"] = "proof";
            if (pick(0, 1)) entry["values"]["runout"] = near(0.02, 0.001);
            if (entry["values"].empty() || pick(0, 1))
                entry["values"]["width"] = Json::array({near(1.5, 0.01)});
        } else if (what < 17) {
            entry["kind"] = "level";
            entry["values"] = {{"across", "incline"}, {"first", 0.01 * pick(-9, 9)}};
        } else if (what < 18) {
            entry["kind"] = "done";
            entry["valve"] = "";
            entry["values"] = {{"stage", "find"}, {"done", true}};
        } else if (!known.empty()) {
            const store::Entry& old =
                known[static_cast<std::size_t>(pick(0, static_cast<int>(known.size()) - 1))];
            if (!store::is_reading(old.kind)) return next(known);
            entry["kind"] = store::name_of(old.kind);
            entry["head"] = old.head;
            entry["valve"] = old.valve;
            entry["corrects"] = old.id;
            entry["units"] = old.units == LengthUnit::inch ? "in" : "mm";
            entry["values"] = old.values;
            if (pick(0, 1)) entry["withdrawn"] = true;
        } else {
            return next(known);
        }
        if (what < 16 && pick(0, 7) == 0) entry["repeat"] = true;
        return entry;
    }

  private:
    std::mt19937 dice_{17};
    int count_ = 0;
};

void expect_same_job(const StoredJob& stored) {
    const auto resolution = store::resolve(stored.entries);
    ASSERT_EQ(resolution.standing.size(), stored.resolution.standing.size());
    for (std::size_t i = 0; i < resolution.standing.size(); ++i) {
        const auto &anew = std::as_const(resolution.standing)[i], &kept = stored.resolution.standing[i];
        ASSERT_EQ(anew.live, kept.live) << i;
        ASSERT_EQ(anew.used, kept.used) << i;
        ASSERT_EQ(anew.superseded_by, kept.superseded_by) << i;
        ASSERT_EQ(anew.conflict, kept.conflict) << i;
    }
    const auto anew = job_of(stored);
    ASSERT_EQ(anew.has_value(), stored.job.job != nullptr);
    if (!anew) return;
    const job::Job& kept = *stored.job.job;
    EXPECT_EQ(plan::prints_of(*anew, {}), plan::prints_of(kept, {}));
    EXPECT_EQ(anew->figures.units.as_written, kept.figures.units.as_written);
    EXPECT_EQ(anew->figures.units.in_other_unit, kept.figures.units.in_other_unit);
    EXPECT_EQ(anew->lines, kept.lines);
    EXPECT_EQ(anew->heads(), kept.heads());
}

// A text with edits that are not stored, beside the readings as they stand: what the whole file would read
// as. Whether the readings could be taken as they are for the first of them.
bool expect_same_edited(const StoredJob& stored) {
    bool taken = false;
    const std::vector<std::vector<Edit>> tried{
        {{"seat.intake.width", "1.4 mm"}, {"depth.cleanup_margin", "0.02 mm"}},
        {{"guide.exhaust.bore", "8.80 mm"}},
        {{"head.pattern.cylinders", 3}},
        {{"units", stored.units == LengthUnit::inch ? "mm" : "in"}},
        {{"title", "another"}, {"sure", Json::array({"depth.1I = 1.3 mm"})}}};
    for (const auto& edits : tried) {
        const auto text = edited(stored.version.text, edits);
        EXPECT_TRUE(text) << edits.front().key;
        if (!text) continue;
        const auto kept = job_of(stored, *text);
        const auto units = job::units_of(job::read_text(*text));
        const auto anew = read_with_shop(
            store::merged(*text, store::readings_toml(stored.entries, stored.resolution, units)),
            stored.shop_text);
        EXPECT_EQ(kept.has_value(), anew.has_value()) << edits.front().key;
        if (!kept || !anew) continue;
        if (&edits == &tried.front())
            taken = job::with_readings_of(*stored.job.job, *stored.document,
                                          *read_with_shop(*text, stored.shop_text))
                        .has_value();
        EXPECT_EQ(plan::prints_of(*kept, {}), plan::prints_of(*anew, {})) << edits.front().key;
        EXPECT_EQ(kept->figures.units.as_written, anew->figures.units.as_written) << edits.front().key;
        EXPECT_EQ(kept->figures.units.in_other_unit, anew->figures.units.in_other_unit);
        EXPECT_EQ(kept->figures.odd.size(), anew->figures.odd.size());
        EXPECT_EQ(kept->given, anew->given);
        EXPECT_EQ(kept->heads(), anew->heads());
    }
    return taken;
}

// A change of the document that is stored.
void change_width(TestShop& shop, long long job, int step) {
    const long long version = shop.bench->cache.stored(job)->row.version;
    const auto answer = shop.pat->post(
        path_of(job, "/edits"),
        {{"version", version}, {"edits", {{{"key", "seat.intake.width"}, {"value", 0.05 + 1e-4 * step}}}}});
    ASSERT_EQ(answer.status, 200) << answer.text.substr(0, 300);
}

void expect_same_results(const Json& state, const StoredJob& stored, const std::string& head) {
    Computation anew(read_with_shop(text_of(stored), stored.shop_text), head);
    for (const Stage stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove}) {
        const Json& shown = state["results"][std::string(job::name_of(stage))];
        if (!anew.needs(stage).empty()) {
            EXPECT_TRUE(shown.is_null());
            continue;
        }
        Json wanted = Json::object();
        const auto keys = anew.keys(stage, report::Extent::page, job::on_page(LengthUnit::mm));
        for (const auto& [key, text] : *keys) wanted[key] = Json::parse(text);
        EXPECT_TRUE(plain(shown) == plain(wanted)) << job::name_of(stage);
    }
}

TEST(GrowingJob, IsTheJobReadAnewWhateverComesIn) {
    TestShop shop;
    const long long job = shop.job();
    std::vector<Page> pages{{"1", {}}, {"3", {}}};
    for (Page& page : pages)
        page.state = shop.pat->get(path_of(job, "/state?units=mm&head=" + page.head)).json();
    Shift shift;
    Listed listed;
    int stored = 0, refused = 0, edited_as_they_are = 0;
    const int steps = drawn(48, 160, 24);
    for (int step = 0; step < steps; ++step) {
        Page &sends = pages[static_cast<std::size_t>(step % 2)],
             &hears = pages[static_cast<std::size_t>(1 - step % 2)];
        const auto answer = shop.pat->post(path_of(job, "/entries") + sends.query(),
                                           shift.next(shop.bench->cache.stored(job)->entries));
        if (answer.status != 201) {
            ++refused;
            continue;
        }
        ++stored;
        ASSERT_TRUE(answer.json().contains("delta")) << answer.text.substr(0, 300);
        sends.take(answer.json()["delta"]);
        hears.take(shop.pat->get(path_of(job, "/state") + hears.query()).json());
        if (step % 5 == 0) {
            change_width(shop, job, step);
            for (Page& page : pages) page.take(shop.pat->get(path_of(job, "/state") + page.query()).json());
        }
        const auto now = shop.bench->cache.stored(job);
        expect_same_job(*now);
        if (step % 4 == 0) edited_as_they_are += expect_same_edited(*now) ? 1 : 0;
        for (const Page& page : pages) {
            const Json whole = shop.pat->get(path_of(job, "/state?units=mm&head=" + page.head)).json();
            ASSERT_TRUE(plain(page.state) == plain(whole))
                << Json::diff(page.state, whole).dump().substr(0, 600);
            if (step % 8 == 0) expect_same_results(whole, *now, page.head);
        }
        if (step % 3 == 0) listed.ask(shop, job);
        if (::testing::Test::HasFailure()) return;
    }
    EXPECT_GT(stored, 3 * steps / 4) << refused;
    EXPECT_GT(edited_as_they_are, 0);
    EXPECT_LT(listed.told(), 20 * listed.size()) << "a screen hears of what has changed, not of all";
    EXPECT_FALSE(shop.pat->get(path_of(job, "/entries?since=100000")).json().contains("since"));
}

TEST(GrowingJob, AGapGivesTheWholeStateOfTheOpenHead) {
    TestShop shop;
    const long long job = shop.job();
    for (const std::string since : {"1.99.1", "nothing", "1", "1.0.1.7"}) {
        const Json state = shop.pat->get(path_of(job, "/state?head=6&since=" + since)).json();
        EXPECT_TRUE(state.contains("results")) << since;
        EXPECT_EQ(state["head"], "6");
    }
    const Json state = shop.pat->get(path_of(job, "/state?head=6")).json();
    const std::string same = "/state?head=6&since=" + state["key"].get<std::string>();
    const Json delta = shop.pat->get(path_of(job, same)).json();
    EXPECT_EQ(delta["patch"], Json::array()) << "nothing has changed";
    // Of another head, or in another unit, that state was never given.
    EXPECT_TRUE(shop.pat->get(path_of(job, same + "&units=mm")).json().contains("results"));
}

// A job whose first head many others have learned from.
long long job_of_many(TestShop& shop, int heads) {
    const auto example = shop.bench->cache.stored(shop.job());
    store::NewJob made;
    made.text = example->version.text;
    made.what = "many heads";
    const auto setup = hold::plan(*example->document).setups.front();
    std::mt19937 dice(5);
    std::normal_distribution<double> scatter(0, 0.01);
    for (int head = 1; head <= heads; ++head)
        for (const auto& guide : setup.valves) {
            store::NewEntry touch;
            touch.client_key = fmt::format("touch-{:05}-{}", head, guide.valve);
            touch.head = std::to_string(head);
            touch.valve = example->document->head.valves[guide.valve].id;
            touch.values = {{"x", guide.readout.x() + 0.02 + scatter(dice)},
                            {"y", guide.readout.y() + scatter(dice)}};
            made.entries.push_back(touch);
        }
    return shop.bench->jobs.make(shop.bench->people.all().front(), made, {})->id;
}

Json correction(const store::Entry& of, double by, int n) {
    Json values = of.values;
    values["x"] = values["x"].get<double>() + by;
    return {{"client_key", "correction-" + std::to_string(1000 + n)},
            {"kind", "touch"},
            {"head", of.head},
            {"valve", of.valve},
            {"units", "mm"},
            {"corrects", of.id},
            {"values", values}};
}

TEST(GrowingJob, AnOldHeadIsWorkedOutAgainBehindTheScreenAndNoFileLeavesMeanwhile) {
    TestShop shop;
    const long long job = job_of_many(shop, 90);
    Json state = shop.pat->get(path_of(job, "/state?units=mm&head=90")).json();
    int refused = 0, said = 0;
    long long corrected = shop.bench->cache.stored(job)->entries[0].id;
    for (int n = 0; n < 40 && (refused == 0 || said == 0); ++n) {
        const auto& entries = shop.bench->cache.stored(job)->entries;
        const auto first = std::find_if(entries.begin(), entries.end(),
                                        [&](const store::Entry& entry) { return entry.id == corrected; });
        const std::string since = "?units=mm&head=90&since=" + state["key"].get<std::string>();
        const auto answer =
            shop.pat->post(path_of(job, "/entries") + since, correction(*first, 0.003 * (n % 2 ? -1 : 1), n));
        ASSERT_EQ(answer.status, 201) << answer.text;
        EXPECT_FALSE(answer.json().contains("delta")) << "nobody waits for it";
        corrected = answer.json()["id"].get<long long>();
        const auto file = shop.pat->get(path_of(job, "/papers/sheet.pdf"));
        if (file.status == 409) {
            ++refused;
            EXPECT_NE(file.error().find("being worked out again. No file is given out"), std::string::npos)
                << file.error();
        }
        for (int tries = 0; tries < 20'000; ++tries) {
            const Json delta = shop.pat->get(path_of(job, "/state") + since).json();
            ASSERT_TRUE(delta.contains("patch")) << delta.dump().substr(0, 200);
            if (!delta.contains("again")) {
                state = state.patch(delta["patch"]);
                break;
            }
            ++said;
            EXPECT_EQ(delta["patch"], Json::array());
            EXPECT_EQ(delta["key"], state["key"]) << "the figures shown stay those of that state";
        }
        expect_same_results(state, *shop.bench->cache.stored(job), "90");
    }
    EXPECT_GT(refused, 0);
    EXPECT_GT(said, 0);
    EXPECT_NE(shop.pat->get(path_of(job, "/papers/sheet.pdf")).status, 409) << "and then it does";
    // The head in hand is nothing to wait for.
    const auto& entries = shop.bench->cache.stored(job)->entries;
    const auto answer = shop.pat->post(
        path_of(job, "/entries") + "?units=mm&head=90&since=" + state["key"].get<std::string>(),
        correction(*std::find_if(entries.begin(), entries.end(),
                                 [](const auto& entry) { return entry.head == "90"; }),
                   0.001, 999));
    ASSERT_EQ(answer.status, 201) << answer.text;
    EXPECT_TRUE(answer.json().contains("delta"));
}

TEST(StateParts, APatchMakesOneStateOfAnother) {
    const std::vector<StateParts> states{
        {{"/heads", R"(["1"])"},
         {"/results/hold", "null"},
         {"/results/find/heads", "[]"},
         {"/results/find/a", "1"}},
        {{"/heads", R"(["1","2"])"},
         {"/results/hold/b", "{}"},
         {"/results/hold/c", "[1,2]"},
         {"/results/find", "null"}},
        {{"/heads", R"(["1","2","3, 4"])"}, {"/results/hold/c", "[1,2,3]"}, {"/results/find/a", "2"}},
        {{"/heads", R"([])"},
         {"/results/hold/c", "[1]"},
         {"/results/find/a", "2"},
         {"/results/find/heads", "[7]"}},
    };
    for (const auto& from : states)
        for (const auto& to : states) {
            const Json before = Json::parse(whole_of(from)), after = Json::parse(whole_of(to));
            const Json patch = Json::parse(patch_of(from, to));
            EXPECT_TRUE(plain(before.patch(patch)) == plain(after)) << patch.dump() << "\n"
                                                                    << before.dump() << "\n"
                                                                    << after.dump();
        }
    const std::string told = patch_of(states[1], states[2]);
    EXPECT_NE(told.find(R"({"op":"add","path":"/heads/-","value":"3, 4"})"), std::string::npos)
        << "a list that grew is not told again: " << told;
}

}  // namespace
}  // namespace seatwright::server
