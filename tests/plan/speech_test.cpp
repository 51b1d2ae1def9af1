// Words are made at the rim: a job is planned once and said in either unit and in another language.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <type_traits>
#include <vector>

#include "other_language.hpp"
#include "plan/typed_job.hpp"
#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/forecast_words.hpp"
#include "seatwright/brought/brought.hpp"
#include "seatwright/brought/draw_scan.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/plan/run.hpp"
#include "seatwright/plan/walk.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/report/brief.hpp"
#include "seatwright/report/held_words.hpp"
#include "seatwright/report/json_text.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/stood_by.hpp"
#include "seatwright/scan/changes.hpp"
#include "seatwright/survey/read.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

using fixtures::english_changed, fixtures::english_left, fixtures::Other;
using words::Line, words::Place;

// No stage can hand out words: a warning takes a sentence of the catalogue, and nothing else is one.
static_assert(std::is_same_v<decltype(Warning::text), Sentence>);
static_assert(std::is_same_v<decltype(HeldBack::reason), Sentence>);
static_assert(std::is_same_v<decltype(HeldBack::frees), Sentence>);
static_assert(!std::is_constructible_v<Sentence, std::string> &&
              !std::is_constructible_v<Sentence, const char*>);

const std::vector<std::string> examples{"wedge", "canted", "pent-roof"};

// An example as it is, and with what draws most sentences out of the stages: nothing read, a head turned, a
// level that is off, questions.
std::vector<job::Job> jobs() {
    std::vector<job::Job> out;
    for (const auto& example : examples) {
        job::Job job = fixtures::job_of(example, {});
        out.push_back(job);
        job::Job bare = job;
        bare.readings = {};
        bare.pilots.clear();
        bare.cutters.clear();
        bare.machine.travel_x = 50;
        out.push_back(std::move(bare));
        job::Job turned = job;
        for (auto& touch : turned.readings.touches) touch.at.x() += 3;
        for (auto& guide : turned.readings.guides) guide.top += 0.4;
        for (auto& seat : turned.readings.seats) seat.cleanup = 1.9;
        turned.fixture.plumb_limit = rad(0.01);
        turned.machine.torque = 1000;
        out.push_back(std::move(turned));
    }
    return out;
}

struct Planned {
    plan::Plan plan;
    prove::Proof proof;
};

Planned planned(const job::Job& job) {
    return {plan::make_plan(job), prove::judge(job)};
}

// All that is said of it.
std::vector<Sentence> said(const Planned& of) {
    std::vector<Sentence> out;
    const auto add = [&](const Sentence& sentence) {
        if (!sentence.empty()) out.push_back(sentence);
    };
    for (const Notices* notices :
         {static_cast<const Notices*>(&of.plan.hold), static_cast<const Notices*>(&of.plan.find),
          static_cast<const Notices*>(&of.plan.shape), static_cast<const Notices*>(&of.plan.cut),
          static_cast<const Notices*>(&of.proof)}) {
        for (const Warning& warning : notices->warnings) add(warning.text);
        for (const Sentence& assumption : notices->assumptions) add(assumption);
        for (const HeldBack& held : notices->held_back) {
            add(held.reason);
            add(held.frees);
        }
    }
    for (const auto& fixture : of.plan.hold.fixtures) add(fixture.why);
    if (of.plan.hold.level)
        for (const Sentence& words : of.plan.hold.level->words) add(words);
    for (const auto& pilot : of.plan.find.pilots) add(pilot.reason);
    for (const auto& miss : of.plan.shape.near_misses) add(miss.why);
    for (const Sentence& conflict : of.plan.shape.depth.conflict) add(conflict);
    for (const auto& program : of.plan.cut.programs)
        for (const auto& zero : program.route.zeros) add(zero.taken.words);
    for (const auto& seat : of.proof.seats) {
        for (const auto& judgement : seat.judgements) add(judgement.decider);
        for (const auto& cause : seat.causes) {
            add(cause.statement);
            add(cause.sureness);
        }
    }
    return out;
}

std::vector<std::string> words_of(const Planned& of, const Speech& speech) {
    return in_words(said(of), speech);
}

TEST(Speech, AJobPlannedOnceIsSaidInEitherUnit) {
    std::size_t sentences = 0, differ = 0;
    for (const job::Job& job : jobs()) {
        const Planned once = planned(job);
        // The same job by somebody who types in the other unit says the same sentences.
        job::Job other = job;
        other.programs_units = job.program_unit();
        other.units = job.units == LengthUnit::mm ? LengthUnit::inch : LengthUnit::mm;
        const Planned again = planned(other);
        const auto mm = words_of(once, {LengthUnit::mm}), inch = words_of(once, {LengthUnit::inch});
        EXPECT_EQ(words_of(again, {other.units}), other.units == LengthUnit::mm ? mm : inch) << job.title;
        ASSERT_EQ(mm.size(), inch.size());
        for (std::size_t i = 0; i < mm.size(); ++i) {
            ++sentences;
            if (mm[i] != inch[i]) ++differ;
        }
    }
    EXPECT_GT(sentences, 300U);
    EXPECT_GT(differ, 40U) << "sentences with a length in them";
}

// Another language is another catalogue: each sentence of it comes out whole in it, clauses and all.
TEST(Speech, AnotherLanguageIsAnotherCatalogueAndNothingElse) {
    const Other tagged = english_changed([](const Line& line) {
        return line.id.starts_with("list.") ? std::string(line.text) : "<" + std::string(line.text) + ">";
    });
    // A language that puts everything the other way round.
    const Other reversed = english_changed([](const Line& line) {
        if (line.id == "list.more") return std::string(line.text);
        std::string out;
        for (std::size_t at = 0; at < line.text.size();) {
            const Place place = words::next_place(line.text, at);
            out = std::string(line.text.substr(place.from, place.to - place.from)) +
                  std::string(line.text.substr(at, place.from - at)) + out;
            at = std::max(place.to, at + 1);
            if (place.from == line.text.size()) break;
        }
        return out;
    });
    EXPECT_TRUE(words::faults_of(tagged.catalogue->lines()).empty());
    EXPECT_TRUE(words::faults_of(reversed.catalogue->lines()).empty());
    std::size_t sentences = 0;
    for (const job::Job& job : jobs()) {
        const Planned of = planned(job);
        for (const Sentence& sentence : said(of)) {
            ++sentences;
            const std::string english = in_words(sentence, {job.units});
            std::string other = in_words(sentence, {job.units, tagged.catalogue.get()});
            if (!sentence.id().starts_with("list.")) {
                EXPECT_TRUE(other.front() == '<' && other.back() == '>') << other;
            }
            std::erase_if(other, [](char c) { return c == '<' || c == '>'; });
            std::string plain = english;
            std::erase_if(plain, [](char c) { return c == '<' || c == '>'; });
            EXPECT_EQ(other, plain);
            EXPECT_EQ(in_words(sentence, {job.units, reversed.catalogue.get()}).empty(), english.empty());
        }
        // The tables for a terminal as well.
        const report::TextStyle style{{}, job.units, tagged.catalogue.get()};
        const std::string warnings = report::warnings_text(of.plan.notices(), style.speech());
        if (!of.plan.notices().warnings.empty()) {
            EXPECT_NE(warnings.find('<'), std::string::npos);
        }
    }
    EXPECT_GT(sentences, 300U);
}

// ------------------------------------------------ nothing of English is left

struct Told {
    std::string what, words;
};

// JSON and tables of a result, with what stands before and behind them.
template <class Result>
std::string all_of(const job::Job& job, const Result& result, const report::TextStyle& style) {
    const Speech speech = style.speech();
    return report::json_frame(job.title, result, speech).dump() +
           report::json_of(job, result, speech).dump() + "\n" + report::warnings_text(result, speech) + "\n" +
           report::assumptions_text(result, speech) + "\n" + report::text_of(job, result, style);
}

template <class Found>
std::string all_of(const std::string& title, const Found& found, const report::TextStyle& style) {
    const Speech speech = style.speech();
    return report::json_frame(title, found, speech).dump() + brought::json_of(found, speech).dump() + "\n" +
           report::warnings_text(found, speech) + "\n" + report::assumptions_text(found, speech) + "\n" +
           brought::text_of(found, style);
}

std::string all_of(const job::Job& job, const forecast::Forecast& result, const report::TextStyle& style) {
    const Speech speech = style.speech();
    return report::json_frame(job.title, result, speech).dump() + batch::json_of(job, result, speech).dump() +
           "\n" + report::warnings_text(result, speech) + "\n" + report::assumptions_text(result, speech) +
           "\n" + batch::text_of(job, result, style);
}

std::string lines_of(const std::vector<Sentence>& sentences, const Speech& speech) {
    std::string out;
    for (const auto& words : in_words(sentences, speech)) out += words + "\n";
    return out;
}

// What a page is told, of the whole job and of what it lacks.
std::string page_of(const job::Job& job, const Planned& of, const Speech& page) {
    std::string out =
        report::json_of(job, of.plan.hold, page).dump() + report::json_of(job, of.plan.find, page).dump() +
        report::json_of(job, of.plan.shape, page).dump() + report::json_of(job, of.plan.cut, page).dump() +
        report::json_of(job, of.proof, page).dump();
    out += report::json_frame(job.title, of.plan.notices(), page).dump();
    for (const Warning& warning : of.plan.notices().warnings) out += report::text_of(warning, page).text();
    out += report::json_of(job, plan::walk_of(job, of.plan, of.plan.shape.head), page).dump();
    for (const auto& line : report::brief(job, of.plan, of.proof, page, of.plan.shape.head))
        out += line.answer + "\n" + line.next + "\n" + line.frees + "\n";
    job::Job lacking = job;
    lacking.seat = {};
    lacking.machine.rpm_max.reset();
    plan::Run run(std::make_shared<const job::Job>(std::move(lacking)), {});
    for (const auto stage : {job::Stage::shape, job::Stage::cut}) out += lines_of(run.missing(stage), page);
    return out;
}

std::vector<Told> told_of(const job::Job& job, const report::TextStyle& style) {
    const Planned of = planned(job);
    const Speech speech = style.speech();
    const auto lines = report::brief(job, of.plan, of.proof, speech, of.plan.shape.head);
    std::string held;
    for (const auto& one : report::gathered(of.plan.notices().held_back, speech))
        held += report::words_of(one, speech) + "\n";
    const auto walk = plan::walk_of(job, of.plan, of.plan.shape.head);
    return {{"hold", all_of(job, of.plan.hold, style)},
            {"find", all_of(job, of.plan.find, style)},
            {"shape", all_of(job, of.plan.shape, style)},
            {"cut", all_of(job, of.plan.cut, style)},
            {"prove", all_of(job, of.proof, style)},
            {"walk", report::json_of(job, walk, speech).dump()},
            {"page", page_of(job, of, job::on_page(speech.unit, *speech.catalogue))},
            {"brief", report::text_of(job, lines, of.plan.notices(), style) + held}};
}

TEST(Speech, NoEnglishIsLeftInWhatTheStagesSayInAnotherLanguage) {
    const Other other = fixtures::other_language();
    ASSERT_TRUE(words::faults_of(other.catalogue->lines()).empty());
    EXPECT_GT(fixtures::english_runs().size(), 600U);
    std::map<std::string, std::size_t> said;
    for (const job::Job& job : jobs())
        for (const Told& told : told_of(job, {{}, job.units, other.catalogue.get()})) {
            EXPECT_EQ(english_left(told.words), std::vector<std::string>{}) << job.title << ": " << told.what;
            said[told.what] += fixtures::runs_of_other(told.words);
        }
    for (const auto& [what, runs] : said) EXPECT_GT(runs, 10U) << what;
    // In English it is all there, so that nothing above passes for want of being looked for.
    const job::Job job = fixtures::job_of("wedge", {});
    for (const Told& told : told_of(job, {{}, job.units}))
        EXPECT_FALSE(english_left(told.words).empty()) << told.what;
}

// A button stands on a page for a line of the file, a label for a key; the file is told what it always was.
TEST(Speech, APageIsToldNoLineOfTheFileAndTheFileNoWordOfAPage) {
    const std::vector<std::string> of_file{"allow = [",    "allow what", "sure = ", "keep = true",
                                           "head.assumed", "[[",         " deg ",   " deg,",
                                           " deg;",        "wanted to",  "`"};
    const std::vector<std::string> of_page{
        "a lead lets it pass", "somebody says", "use it all the same", "it is needed to", "°,",
        "said to be right"};
    const auto in = [](const std::string& text, const std::vector<std::string>& marks) {
        std::vector<std::string> out;
        for (const auto& mark : marks)
            if (text.find(mark) != std::string::npos) out.push_back(mark);
        return out;
    };
    std::set<std::string> told_page, told_file;
    for (const job::Job& job : jobs()) {
        const Planned of = planned(job);
        const auto left = [&](const Speech& speech) {
            std::string all;
            for (const auto& words : words_of(of, speech)) all += words + "\n";
            return all;
        };
        const std::string page = left(job::on_page(job.units)), file = left({job.units});
        EXPECT_EQ(in(page, of_file), std::vector<std::string>{}) << job.title;
        EXPECT_EQ(in(file, of_page), std::vector<std::string>{}) << job.title;
        for (const auto& mark : in(page, of_page)) told_page.insert(mark);
        for (const auto& mark : in(file, of_file)) told_file.insert(mark);
    }
    EXPECT_GE(told_page.size(), 3U);
    EXPECT_GE(told_file.size(), 3U);
}

// What frees it is a field of its own, for its button as well.
TEST(Speech, APageIsToldApartWhatFrees) {
    std::size_t allowed = 0;
    std::vector<job::Job> all = jobs();
    all.push_back(fixtures::job_of("wedge", {}));
    for (auto& guide : all.back().readings.guides)
        guide.top += 0.1;  // worn: repaired first, or a lead lets it pass
    for (const job::Job& job : all) {
        const Planned of = planned(job);
        const Speech page = job::on_page(job.units);
        const auto told = report::json_of(job, of.plan.cut, page),
                   of_file = report::json_of(job, of.plan.cut, {job.units});
        for (const auto& held : told["held_back"]) {
            EXPECT_TRUE(held.contains("key") && held.contains("allow") && held.contains("sure") &&
                        held.contains("named"));
            const std::string frees = held["frees"];
            EXPECT_EQ(frees.find("a lead lets it pass") != std::string::npos, held["allow"].is_string())
                << held;
            allowed += held["allow"].is_string();
        }
        for (const auto& held : of_file["held_back"])
            EXPECT_FALSE(held.contains("allow") || held.contains("named")) << held;
        for (const auto& line : report::brief(job, of.plan, of.proof, page, of.plan.shape.head)) {
            EXPECT_EQ(line.next.find("what frees it"), std::string::npos) << line.next;
            if (line.frees.empty()) continue;
            EXPECT_NE(report::whole_next(line, {job.units}).find("; what frees it: " + line.frees),
                      std::string::npos);
        }
    }
    EXPECT_GT(allowed, 0U);
}

TEST(Speech, NoEnglishIsLeftInAForecastInAnotherLanguage) {
    const Other other = fixtures::other_language();
    for (const auto& example : examples) {
        const job::Job job = fixtures::job_of(example, {});
        const Planned of = planned(job);
        const auto forecast = forecast::forecast(job, of.plan, of.proof);
        const report::TextStyle style{{}, job.units, other.catalogue.get()};
        const std::string words =
            all_of(job, forecast, style) + in_words(batch::best_change(forecast, job.units), style.speech());
        EXPECT_EQ(english_left(words), std::vector<std::string>{}) << example;
        EXPECT_GT(fixtures::runs_of_other(words), 10U) << example;
        EXPECT_FALSE(english_left(all_of(job, forecast, {{}, job.units})).empty());
    }
}

// A head description however it comes in, and laid over itself.
TEST(Speech, NoEnglishIsLeftInSurveyDrawingAndScanInAnotherLanguage) {
    const Other other = fixtures::other_language();
    const report::TextStyle style{{}, LengthUnit::mm, other.catalogue.get()}, english;
    const auto expect = [&](const char* what, const std::string& words, const std::string& plain) {
        EXPECT_EQ(english_left(words), std::vector<std::string>{}) << what;
        EXPECT_GT(fixtures::runs_of_other(words), 4U) << what;
        EXPECT_GT(english_left(plain).size(), 4U) << what;
    };
    const auto readings =
        survey::read_readings(fixtures::text_of("examples/survey/readings.toml"), "readings.toml");
    ASSERT_TRUE(readings);
    const auto surveyed = survey::survey(*readings);
    ASSERT_TRUE(surveyed);
    expect("survey", all_of("survey", *surveyed, style), all_of("survey", *surveyed, english));
    const auto drawn = drawing::drawing_of(fixtures::text_of("examples/drawing/deck.dxf"), "deck.dxf", {});
    ASSERT_TRUE(drawn);
    expect("drawing", all_of("drawing", *drawn, style), all_of("drawing", *drawn, english));
    auto scanned = scan::scan_of(fixtures::text_of("examples/scan/head.ply"), "head.ply", {});
    ASSERT_TRUE(scanned);
    expect("scan", all_of("scan", *scanned, style), all_of("scan", *scanned, english));
    std::string pages;
    for (const auto& page : brought::scan_pages(*scanned, {}, papers::a4, style.speech())) pages += page;
    EXPECT_EQ(english_left(pages), std::vector<std::string>{});
    EXPECT_NE(pages.find(fixtures::thirteen_on("Look at every feature over its points")), std::string::npos);

    const auto over = survey::lay_over(drawing::laid(*drawn), drawing::laid(*drawn));
    ASSERT_TRUE(over);
    EXPECT_EQ(english_left(brought::text_of(*over, style)), std::vector<std::string>{});
    EXPECT_GT(fixtures::runs_of_other(brought::text_of(*over, style)), 1U);

    // What a person who looks at the points is asked, and told.
    scanned->valves.at(0).kind.reset();
    scanned->valves.at(1).face_in_doubt = true;
    scanned->valves.at(2).off_guide = 0.3;
    scanned->holes.at(0).in_doubt = true;
    scan::Changes said;
    said.valves["9I"].dropped = true;
    said.valves[scanned->valves.at(3).id].id = "intake";
    const auto changed = scan::changed(*scanned, said);
    ASSERT_FALSE(changed);
    std::vector<Sentence> objections;
    for (const auto& one : changed.error()) objections.push_back(one.why);
    EXPECT_EQ(objections.size(), 6U);
    EXPECT_EQ(english_left(lines_of(objections, style.speech())), std::vector<std::string>{});
    EXPECT_GT(english_left(lines_of(objections, {})).size(), 5U);
}

void expect_units(const nlohmann::ordered_json& values, const std::string& where) {
    for (const auto& [key, value] : values.items()) {
        EXPECT_FALSE(value.is_null()) << where << " " << key;
        if (value.is_object()) {
            EXPECT_TRUE(value.contains("text") && value.contains("values")) << where << " " << key;
            expect_units(value["values"], where);
        }
    }
}

TEST(Speech, JsonIsInTheJobsUnitAndHasTheValuesBeside) {
    std::size_t with_mm = 0;
    for (const job::Job& job : jobs()) {
        const Planned of = planned(job);
        const Notices all = of.plan.notices();
        const auto json = report::json_frame(job, all);
        const auto other = report::json_frame(
            job.title, all, {job.units == LengthUnit::mm ? LengthUnit::inch : LengthUnit::mm});
        ASSERT_EQ(json["warnings"].size(), all.warnings.size());
        for (std::size_t i = 0; i < all.warnings.size(); ++i) {
            const auto& warning = json["warnings"][i];
            EXPECT_EQ(warning["text"], in_words(all.warnings[i].text, {job.units}));
            // A clause has its words, which are the unit's; figures are not.
            expect_units(warning["values"], warning["text"]);
            for (const auto& [key, value] : warning["values"].items()) {
                if (key.ends_with("_mm")) ++with_mm;
                if (value.is_number()) {
                    EXPECT_EQ(value, other["warnings"][i]["values"][key]) << key;
                }
            }
        }
    }
    EXPECT_GT(with_mm, 10U);
}

}  // namespace
}  // namespace seatwright
