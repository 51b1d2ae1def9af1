// Words are made at the rim: a job is planned once and said in either unit and in another language.
#include <gtest/gtest.h>

#include <algorithm>
#include <deque>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <type_traits>
#include <vector>

#include "plan/typed_job.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/report/report.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

using words::Catalogue, words::Line, words::Place;

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

// Every template put through `change`; the texts stand as long as the catalogue.
struct Other {
    std::deque<std::string> texts;
    std::unique_ptr<Catalogue> catalogue;
};
Other english_changed(const std::function<std::string(const Line&)>& change) {
    Other out;
    std::vector<Line> lines;
    for (const Line& line : words::english().lines())
        lines.push_back({line.id, out.texts.emplace_back(change(line))});
    EXPECT_TRUE(words::faults_of(lines).empty());
    out.catalogue = std::make_unique<Catalogue>(lines);
    return out;
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
