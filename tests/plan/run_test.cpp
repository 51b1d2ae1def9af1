// One run of the stages: lazy, shared, remembered by what each stage is given, and standing where one fails.
#include "seatwright/plan/run.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <new>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "../job/full_job.hpp"
#include "job_fixtures.hpp"
#include "places.hpp"
#include "results_schema.hpp"
#include "seatwright/plan/result_cache.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/so_far.hpp"
#include "spoken.hpp"
#include "variations.hpp"

namespace seatwright::plan {
namespace {

using job::Stage;
using OneRun = plan::Run;  // tests have a Run() of their own
constexpr std::array all_stages{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

std::string text_of(const std::string& file) {
    std::ifstream in(std::string(places::root) + "/" + file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

std::shared_ptr<const job::Job> shared(job::Job job) {
    return std::make_shared<const job::Job>(std::move(job));
}

// Every readable word of every stage, in order.
std::array<std::string, 5> words_of(OneRun& run) {
    std::array<std::string, 5> out;
    const auto say = [&](Stage stage, const auto& result) {
        auto& words = out[static_cast<std::size_t>(stage)];
        words = report::json_frame(run.job(), result).dump() + report::json_of(run.job(), result).dump();
        for (const auto& held : result.held_back)
            words +=
                held.head + held.setup + held.valve.value_or("") + spoken(held.reason) + spoken(held.frees);
    };
    for (const Stage stage : all_stages)
        for (const auto& missing : run.missing(stage))
            out[static_cast<std::size_t>(stage)] += spoken(missing);
    if (run.is_there(Stage::hold)) say(Stage::hold, run.hold());
    if (run.is_there(Stage::find)) say(Stage::find, run.find());
    if (run.is_there(Stage::shape)) say(Stage::shape, run.shape());
    if (run.is_there(Stage::cut)) {
        say(Stage::cut, run.cut());
        for (const auto& program : run.cut().programs)
            out[static_cast<std::size_t>(Stage::cut)] += program.file + program.text;
    }
    if (run.is_there(Stage::prove)) say(Stage::prove, run.proof());
    return out;
}

// A table that counts how often each step is worked out.
struct Counting {
    std::array<int, step_count> worked{};
    Steps steps = the_steps();
    Counting() {
        for (StepRow& row : steps)
            row.work = [this, of = row](const Given& given) {
                ++worked[static_cast<std::size_t>(of.step)];
                return of.work(given);
            };
    }
    int of(Step step) const { return worked[static_cast<std::size_t>(step)]; }
};

TEST(Run, GivesWhatTheStagesGiveOneAfterTheOther) {
    for (const job::Job& job :
         {fixtures::with_guides_read(fixtures::wedge_job()), fixtures::pent_roof_job()}) {
        const auto hold = hold::plan(job);
        const auto find = find::locate(job, hold);
        const auto shape = shape::design(job, hold, find, "1");
        OneRun run(shared(job), {});
        EXPECT_EQ(report::json_of(job, run.hold()), report::json_of(job, hold));
        EXPECT_EQ(report::json_of(job, run.find()), report::json_of(job, find));
        job::Selection marked;
        marked.digest = run.plan().selection.digest;
        EXPECT_EQ(report::json_of(job, run.cut()),
                  report::json_of(job, cut::plan(job, hold, find, shape, marked)));
        EXPECT_EQ(report::json_of(job, run.proof()), report::json_of(job, prove::judge(job)));
    }
}

TEST(Run, WorksOutWhatIsAskedForOnce) {
    Counting counting;
    OneRun run(shared(fixtures::wedge_job()), {}, nullptr, counting.steps);
    EXPECT_FALSE(run.asked_for(Stage::hold));
    run.find();
    run.hold();
    EXPECT_EQ(counting.worked, (std::array{1, 1, 1, 0, 0, 0, 0, 0}));
    run.shape();
    run.cut();
    run.proof();
    EXPECT_EQ(counting.worked, (std::array{1, 1, 1, 1, 1, 1, 1, 1}));
}

TEST(Run, AWhatIfSharesWhatItDoesNotTouch) {
    Counting counting;
    const auto base =
        std::make_shared<OneRun>(shared(fixtures::wedge_job()), Asked{}, nullptr, counting.steps);
    Overrides turned;
    turned.attitude = {"", rad(15), std::nullopt};
    OneRun other(base, turned);
    EXPECT_DOUBLE_EQ(other.hold().setups.front().tilt, rad(15));
    EXPECT_NE(base->hold().setups.front().tilt, rad(15));
    EXPECT_EQ(counting.of(Step::stand), 1);
    other.cut();
    base->cut();
    EXPECT_EQ(counting.of(Step::find), 2);
    EXPECT_EQ(&other.proof(), &base->proof());

    Overrides deeper;
    deeper.depths["1I"] = 0.3;
    OneRun third(base, deeper);
    third.cut();
    EXPECT_EQ(&third.hold(), &base->hold());
    EXPECT_EQ(&third.find(), &base->find());
    EXPECT_EQ(counting.of(Step::find), 2);
    EXPECT_EQ(counting.of(Step::design), 3);
}

TEST(Run, ACacheIsAskedByWhatAStageIsGiven) {
    Counting counting;
    ResultCache cache;
    job::Job job = fixtures::with_guides_read(fixtures::wedge_job());
    const auto work = [&](const job::Job& given) {
        counting.worked = {};
        OneRun run(shared(given), {}, &cache, counting.steps);
        run.plan();
        run.proof();
    };
    work(job);
    work(job);
    EXPECT_EQ(counting.worked, (std::array<int, step_count>{})) << "the same job";
    job::SeatAfter proof;
    proof.valve = "1I";
    proof.runout = 0.01;
    proof.head = "another";
    job.readings.proofs.push_back(proof);
    work(job);
    EXPECT_EQ(counting.of(Step::find) + counting.of(Step::design) + counting.of(Step::cut), 0)
        << "a proof of another head";
    EXPECT_EQ(counting.of(Step::prove), 1);
    job.readings.proofs.back().head = "1";
    work(job);
    EXPECT_EQ(counting.of(Step::find) + counting.of(Step::design), 0);
    EXPECT_EQ(counting.of(Step::cut), 1) << "a seat measured after cutting counts as cut";
    job.seat.intake->width = 1.6;
    work(job);
    EXPECT_EQ(counting.of(Step::stand) + counting.of(Step::find), 0) << "a facet is dragged";
    EXPECT_EQ(counting.of(Step::design), 1);
    job.readings.guides.front().top += 0.001;
    work(job);
    EXPECT_EQ(counting.of(Step::find), 1);
    job::SeatBefore seat;
    seat.head = "2";
    seat.valve = "1I";
    job.readings.seats.push_back(seat);
    work(job);
    EXPECT_EQ(counting.of(Step::find), 0) << "the first seat of another head";
    EXPECT_EQ(counting.of(Step::stand), 1) << "whose readings hold may have to ask about";
}

// The wedge example with one head read, every kind of reading of it, and what its file leaves out.
test::Texts read_wedge() {
    std::string job = text_of("examples/wedge/job.toml");
    job.resize(job.find("[[reading."));
    const std::array touches{"1E\"\nx = 0\ny = 0", "1I\"\nx = 1.8772\ny = -0.0067",
                             "4I\"\nx = 15.08\ny = 0.008"};
    for (const std::string touch : touches)
        job += "[[reading.touch]]\nhead = \"6\"\nvalve = \"" + touch + "\n";
    for (const std::string valve : {"1E", "1I", "2E", "2I", "3E", "3I", "4E", "4I"}) {
        const std::string of = "head = \"6\"\nvalve = \"" + valve + "\"\n";
        job += "[[reading.guide]]\n" + of + "top = 0.3452\nmiddle = 0.3450\nbottom = 0.3452\n";
        job += "[[reading.seat]]\n" + of +
               "stem_height = 1.91\nvalve_used = \"setting\"\ncleanup = 0.005\nface_outside = " +
               (valve[1] == 'E' ? "1.474" : "1.724") + "\nface_width = 0.075\nchamber = \"64.1 cm3\"\n";
    }
    job += R"(
[[reading.level]]
head = "6"
valve = "1E"
first = "0.08 deg"
second = "0.02 deg"
[[reading.first]]
head = "6"
valve = "4I"
depth = 0.005
[[reading.proof]]
head = "6"
valve = "2E"
runout = 0.0008
width = [0.061, 0.062]
stem_height = 1.913
vacuum = "25 inHg"
gauge_u = 0.0001
[[depth.seat]]
valve = "3I"
depth = 0.007
[[allow]]
what = "trim 3I"
why = "the seat is soft"
by = "a lead"
)";
    // Every second pilot will do.
    std::string shop = text_of("shop/shop.toml");
    for (std::size_t at = shop.find("[[pilot]]"); at != std::string::npos;
         at = shop.find("[[pilot]]", at + 1))
        if (const auto next = shop.find("[[", at + 1); shop.compare(next, 9, "[[pilot]]") == 0)
            shop.erase(at, next - at);
    return {job, shop};
}

// A job that has every table in its own file, with words of a control and a mass nobody believes; and one
// nothing was read of, whose valves may change their names.
test::Texts full_one() {
    std::string with_mass = job::test::full_job;
    with_mass.replace(with_mass.find("21 kg"), 5, "2100 kg");
    return {with_mass + R"(
[machine.float]
free = "M64"
lock = "M65"
centre = "self"
[dialect]
tool_change = "M6"
program_end = "M2"
top = "G53 G0 Z0"
[[depth.seat]]
valve = "1E"
finish = { recession = 0.1 }
[forecast]
heads = 12
touches = 2
rezero = true
level_sd = 0.02
guide_angle_sd = 0.01
height_sd = 0.02
zero_sd = 0.03
depth_sd = 0.01
depth_wear = 0.001
width_sd = 0.02
width_wear = 0.001
change_every = 6
pilot_runout = 0.005
share = 0.9
gauge_u = 0.002
width_gauge_u = 0.02
height_gauge_u = 0.01
[[gauge]]
name = "dial 3"
reads = ["runout", "width"]
u = 0.002
step = 0.001
calibrated_until = "2026-01-31"
[[reading.proof]]
head = "8"
valve = "1I"
runout = 0.02
width = [1.5]
stem_height = 47.5
date = "2026-03-01"
gauge = { runout = "dial 3", width = "dial 3", stem_height = "dial 3" }
)",
            ""};
}
test::Texts unread() {
    test::Texts texts = read_wedge();
    texts.job.resize(texts.job.find("[[reading."));
    for (const std::string line : {"\ndatum"})
        if (const auto at = texts.job.find(line); at != std::string::npos)
            texts.job.erase(at, texts.job.find('\n', at + 1) - at);
    return texts;
}

// Where one of several keys is wanted, another of them.
test::Texts with_other(test::Texts texts, const std::string& from, const std::string& to) {
    const auto at = texts.job.find(from);
    require(at != std::string::npos, from);
    texts.job.replace(at, from.size(), to);
    return texts;
}
struct Base {
    test::Texts texts;
    bool spare;  // only for keys the others do not reach
};
std::vector<Base> bases() {
    const test::Texts wedge = read_wedge(), full = full_one();
    const std::string depth = "depth = 0.005\n", finish = "recession = 0.1 }";
    return {{wedge, false},
            {full, false},
            {unread(), true},
            {with_other(wedge, depth, "stem_height = 1.92\n"), true},
            {with_other(wedge, depth, "below_deck = 0.1\n"), true},
            {with_other(full, finish, "stem_height = 47.8 }"), true},
            {with_other(full, finish, "below_deck = 1.0 }"), true}};
}

// But for the mark, in which every key of a job file is felt.
std::string without_mark(std::string words, const std::string& mark) {
    for (auto at = words.find(mark); !mark.empty() && at != std::string::npos; at = words.find(mark))
        words.erase(at, mark.size());
    return words;
}

std::string all_without_mark(const std::array<std::string, 5>& words, const OneRun& run) {
    std::string all;
    for (const auto& of_stage : words) all += of_stage;
    return without_mark(std::move(all), run.so_far().selection.digest);
}

struct KeysOf {
    const char* table;
    std::span<const job::Key> (*keys)();
    std::size_t felt;  // at least, in words other than the mark of a plan
};

void PrintTo(const KeysOf& of, std::ostream* out) {
    *out << of.table;
}

class EveryKey : public testing::TestWithParam<KeysOf> {};

// What a stage does not read must not stand in what it was given, and what it reads must: every key of a job
// file, changed, asked for through a cache that knows every job before it.
TEST_P(EveryKey, IsNeverAnsweredStale) {
    ResultCache cache;
    std::set<std::string_view> varied, felt;
    for (const auto& [base, spare] : bases()) {
        const test::Varying varying(base);
        OneRun first(shared(varying.base()), {}, &cache);
        const auto before = all_without_mark(words_of(first), first);
        for (const Stage stage : all_stages) EXPECT_TRUE(first.is_there(stage)) << job::name_of(stage);
        for (const job::Key& key : GetParam().keys()) {
            if (felt.contains(key.path) || (spare && varied.contains(key.path))) continue;
            for (auto& [what, job] : varying.of(key, 4)) {
                const auto given = shared(std::move(job));
                OneRun cold(given, {}), warm(given, {}, &cache);
                const auto words = words_of(cold);
                ASSERT_EQ(words_of(warm), words) << what;
                varied.insert(key.path);
                if (all_without_mark(words, cold) == before) continue;
                felt.insert(key.path);
                break;
            }
        }
    }
    std::string left, idle;
    // `casting` names a file, whose figures stand in the job as if they had been written there
    // (tests/casting).
    varied.insert("casting");
    for (const job::Key& key : GetParam().keys())
        if (!varied.contains(key.path) && key.type != job::ValueType::table &&
            key.type != job::ValueType::tables && key.type != job::ValueType::shelf)
            left += std::string(key.path) + " ";
    EXPECT_EQ(left, "") << "keys this test does not reach";
    for (const auto key : varied)
        if (!felt.contains(key)) idle += std::string(key) + " ";
    EXPECT_GE(felt.size(), GetParam().felt) << "of " << varied.size() << " keys varied; not felt: " << idle;
}

constexpr std::array tables{
    KeysOf{"head", job::head_keys, 34},      KeysOf{"plan", job::plan_keys, 26},
    KeysOf{"form", job::form_keys, 42},      KeysOf{"machine", job::machine_keys, 24},
    KeysOf{"shop", job::shop_keys, 28},      KeysOf{"tool", job::tool_keys, 18},
    KeysOf{"work", job::work_keys, 9},       KeysOf{"forecast", job::forecast_keys, 4},
    KeysOf{"reading", job::reading_keys, 55}};
INSTANTIATE_TEST_SUITE_P(Run, EveryKey, testing::ValuesIn(tables),
                         [](const auto& of) { return std::string(of.param.table); });

TEST(EveryKeyOf, AllTablesIsAllThereAre) {
    std::size_t keys = 0;
    for (const KeysOf& table : tables) keys += table.keys().size();
    EXPECT_EQ(keys, job::all_keys().size());
}

// The same for the question asked of a job, for the unit it is told in, and for what only doubts hang on: a
// mass nobody believes until it is confirmed, a guide of another head, touches typed in the other unit.
TEST(Run, NoQuestionIsAnsweredStale) {
    auto texts = with_other(read_wedge(), "46 lb", "4600 lb");
    texts.job +=
        "[[reading.level]]\nhead = \"7\"\nvalve = \"1E\"\nfirst = \"0.3 deg\"\n"
        "[[reading.guide]]\nhead = \"7\"\nvalve = \"1E\"\ntop = 0.39\nmiddle = 0.39\nbottom = 0.39\n"
        "[[reading.touch]]\nhead = \"7\"\nvalve = \"4I\"\nx = 15.08\ny = 0.008\n";
    const std::string seat = "[[reading.seat]]\nhead = \"7\"\nvalve = \"1E\"\nstem_height = 1.91\n";
    const auto also = [&](const std::string& more) {
        test::Texts out = texts;
        out.job += more;
        return out;
    };
    const std::vector<test::Texts> jobs{
        also(""), also(seat), with_other(texts, "units =", "sure = [\"head.mass = 4600 lb\"]\nunits ="),
        with_other(also(seat), "x = 15.08\ny = 0.008", "x = 383.03\ny = 0.2032")};
    const std::vector<Asked> questions{{},
                                       {"6", {}},
                                       {"7", {}},
                                       {"6", {{"3I"}, std::nullopt}},
                                       {"6", {{}, "2I"}},
                                       {"6", {{}, std::nullopt, job::Writes::draft}}};
    ResultCache cache;
    std::set<std::string> answers;
    for (const auto& one : jobs)
        for (const auto unit : {LengthUnit::inch, LengthUnit::mm})
            for (const Asked& asked : questions) {
                job::Job told = test::Varying(one).base();
                told.programs_units = told.program_unit();
                told.units = unit;
                const auto given = shared(std::move(told));
                OneRun cold(given, asked), warm(given, asked, &cache);
                const auto words = words_of(cold);
                ASSERT_EQ(words_of(warm), words) << asked.head;
                answers.insert(all_without_mark(words, cold));
            }
    EXPECT_GT(answers.size(), 30u) << "most have an answer of their own";
}

void stop_with(int way) {
    if (way == 0) throw std::runtime_error("a solver met what it cannot");
    if (way == 1) throw std::bad_alloc();
    throw 7;
}

struct Break {
    Step step;
    std::vector<Stage> fall;  // with it
};

// A stage that fails, with an exception of whatever kind.
TEST(Run, AStageThatFailsLeavesTheOthersStandingAndSaysSo) {
    const auto job = shared(fixtures::with_guides_read(fixtures::wedge_job()));
    OneRun good(job, {});
    const auto right = words_of(good);
    const ResultsSchema stopped("StoppedResult");
    const std::vector<Break> breaks{{Step::stand, {Stage::hold, Stage::find, Stage::shape, Stage::cut}},
                                    {Step::find, {Stage::find, Stage::shape, Stage::cut}},
                                    {Step::mark, {Stage::cut}},
                                    {Step::design, {Stage::shape, Stage::cut}},
                                    {Step::cut, {Stage::cut}},
                                    {Step::prove, {Stage::prove}}};
    for (const auto& [step, fall] : breaks)
        for (const int way : {0, 1, 2}) {
            Steps steps = the_steps();
            steps[static_cast<std::size_t>(step)].work = [&](const Given&) -> Result {
                stop_with(way);
                return nullptr;
            };
            ResultCache cache;
            OneRun run(job, {}, &cache, steps);
            const auto words = words_of(run);
            const std::string name(job::name_of(steps[static_cast<std::size_t>(step)].stage));
            for (const Stage stage : all_stages) {
                const auto i = static_cast<std::size_t>(stage);
                const bool falls = std::find(fall.begin(), fall.end(), stage) != fall.end();
                EXPECT_EQ(run.is_there(stage), !falls) << name << " stopped, " << job::name_of(stage);
                EXPECT_EQ(run.missing(stage).empty(), !falls) << name;
                // Where a seat stops in its own program only cut can say.
                if (!falls && stage != Stage::shape) {
                    EXPECT_EQ(words[i], right[i]) << name << " stopped, " << job::name_of(stage);
                }
            }
            const auto told = report::json_so_far(run);
            for (const Stage stage : all_stages)
                EXPECT_EQ(told.contains(std::string(job::name_of(stage))), run.is_there(stage)) << name;
            EXPECT_EQ(stopped.faults(told), "") << name << " stopped";
            // A schema that lets everything pass proves nothing.
            auto renamed = told;
            renamed["warnings"].back()["kode"] = "";
            EXPECT_NE(stopped.faults(renamed), "");
            EXPECT_EQ(told["warnings"].back()["code"], "program-error");
            EXPECT_EQ(told["warnings"].back()["stage"], name);
            ASSERT_EQ(run.failures().size(), 1u);
            EXPECT_FALSE(run.failures().front().what.empty());
            EXPECT_NE(spoken(warning_of(run.failures().front()).text).find("stopped " + name),
                      std::string::npos);
            // What failed is not remembered: a run with nothing wrong gives all.
            OneRun again(job, {}, &cache);
            EXPECT_EQ(words_of(again), right);
        }
}

}  // namespace
}  // namespace seatwright::plan
