// The certificate, its drawings, the results as a table and the JSON of prove. Invented readings.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "job_fixtures.hpp"
#include "seatwright/base/sha256.hpp"
#include "seatwright/papers/certificate/certificate.hpp"
#include "seatwright/papers/drawings/draw_charts.hpp"
#include "seatwright/papers/drawings/draw_trace.hpp"
#include "seatwright/papers/drawings/draw_verdict_map.hpp"
#include "seatwright/papers/page/record_mark.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/results_csv.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

job::SeatAfter reading(const std::string& head, const std::string& valve, double size, unsigned seed) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal(0, 0.0006);
    job::SeatAfter r;
    r.head = head;
    r.valve = valve;
    for (int i = 0; i < 72; ++i) {
        const double t = 2 * pi * i / 72;
        r.trace.push_back(0.2 + size * std::cos(t - 0.3 * seed) + 0.3 * size * std::cos(2 * t + seed) +
                          0.1 * size * std::cos(9 * t) + normal(random));
    }
    r.width = {1.48, 1.53, 1.55};
    r.stem_height = 48.1;
    r.vacuum = 78;
    r.by = "invented person";
    r.date = "12 March";
    r.gauge = "dial 0.001 mm, no. 7";
    r.calibrated = "January";
    r.gauge_u = 0.001;
    return r;
}

job::Job one_head() {
    job::Job job = fixtures::wedge_job(4);
    unsigned seed = 1;
    for (const auto& v : job.head.valves) job.readings.proofs.push_back(reading("1", v.id, 0.010, seed++));
    job.readings.proofs[2] = reading("1", job.head.valves[2].id, 0.030, 3);  // fails
    job.readings.proofs[2].accepted_by = "invented customer";
    job.readings.proofs[5] = reading("1", job.head.valves[5].id, 0.0226, 6);  // undecided
    job.readings.proofs[6].stem_height.reset();
    job.readings.proofs.pop_back();
    return job;
}

job::Job batch() {
    job::Job job = fixtures::wedge_job(4);
    std::mt19937_64 random(5);
    std::normal_distribution<double> normal;
    for (int h = 1; h <= 24; ++h)
        for (const auto& v : job.head.valves) {
            auto r = reading(std::to_string(h), v.id, 0.009 + 0.0004 * h + 0.0012 * normal(random),
                             static_cast<unsigned>(h));
            r.cutter = h <= 14 ? "edge 1" : "edge 2";
            if (h > 14)
                r.trace = reading(r.head, v.id, 0.009 + 0.0004 * (h - 14), static_cast<unsigned>(h)).trace;
            job.readings.proofs.push_back(std::move(r));
        }
    return job;
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

// Pages are written where SEATWRIGHT_LOOK points, for a person to look at.
void show(const std::string& name, const std::string& bytes) {
    if (const char* folder = std::getenv("SEATWRIGHT_LOOK"))
        std::ofstream(std::string(folder) + "/" + name) << bytes;
}

std::string all_of(const std::vector<std::string>& pages) {
    std::string out;
    for (const auto& p : pages) out += p;
    return out;
}

TEST(ProvePapers, CertificateOfOneHeadSaysWhatIsKnownAndNoMore) {
    const auto job = one_head();
    const auto proof = prove::judge(job);
    const auto pages = certificate_pages(job, proof, {a4, LengthUnit::mm, "record"});
    ASSERT_GE(pages.size(), 1u);
    ASSERT_LE(pages.size(), 2u);
    for (std::size_t i = 0; i < pages.size(); ++i) {
        show("certificate-" + std::to_string(i + 1) + ".svg", pages[i]);
        const auto pdf = pdf_of({pages[i]}, a4, "certificate");
        ASSERT_TRUE(pdf.has_value()) << pdf.error();
        show("certificate-" + std::to_string(i + 1) + ".pdf", *pdf);
    }
    const std::string all = all_of(pages);
    for (const char* part : {"invented person", "dial 0.001 mm, no. 7", "January", "12 March", "not measured",
                             "accepted as it is by invented customer", "undecided", "14253-1", "± 0.002",
                             "no reading after cutting: 4I"})
        EXPECT_TRUE(holds(all, part)) << part;
    EXPECT_TRUE(holds(all, short_mark("record")));
}

TEST(ProvePapers, CertificateOfABatch) {
    const auto job = batch();
    const auto proof = prove::judge(job);
    const auto pages = certificate_pages(job, proof, {letter, LengthUnit::inch, "record"});
    for (std::size_t i = 0; i < pages.size(); ++i) {
        const auto pdf = pdf_of({pages[i]}, letter, "batch");
        ASSERT_TRUE(pdf.has_value()) << pdf.error();
        show("batch-" + std::to_string(i + 1) + ".pdf", *pdf);
    }
    EXPECT_EQ(pages.size(), 2u);
    EXPECT_TRUE(holds(all_of(pages), "What may be claimed"));
    EXPECT_TRUE(holds(all_of(pages), "By position, over all heads"));
}

TEST(ProvePapers, PositionsAreCountedOverTheHeadsMeasured) {
    auto job = batch();
    job.readings.proofs[0] = reading("1", "1E", 0.09, 1);  // far over 0.05
    job.readings.proofs.erase(job.readings.proofs.begin() + 8);
    const auto counts = count_positions(job, prove::judge(job));
    ASSERT_EQ(counts.size(), job.head.valves.size());
    EXPECT_EQ(counts[0].worst, prove::Verdict::fail);
    EXPECT_EQ(counts[0].fail, 1u);
    EXPECT_EQ(counts[0].measured, 23u);
    EXPECT_EQ(counts[1].measured, 24u);
    EXPECT_EQ(counts[1].fail + counts[1].undecided + counts[1].pass, 24u);
}

TEST(ProvePapers, ASmallHeadTakesOnePageSignedBesideWhoMeasured) {
    job::Job job = fixtures::wedge_job(4);
    unsigned seed = 1;
    for (const auto& v : job.head.valves) job.readings.proofs.push_back(reading("1", v.id, 0.010, seed++));
    const auto pages = certificate_pages(job, prove::judge(job), {a4, LengthUnit::mm, "record"});
    ASSERT_EQ(pages.size(), 1u);
    EXPECT_TRUE(holds(pages[0], "measured: name, date, signature"));
    const auto open =
        certificate_pages(one_head(), prove::judge(one_head()), {letter, LengthUnit::mm, "record"});
    for (const auto& page : open)
        EXPECT_EQ(holds(page, "Who measured"), holds(page, "measured: name, date, signature"));
}

// 128 valves are the most a job holds; every seat keeps its line.
TEST(ProvePapers, CertificateOfAHeadOfAnySizeTakesTwoPages) {
    for (const auto& [cylinders, gauge_u] :
         {std::pair{8, 0.001}, {16, 0.001}, {32, 0.001}, {64, 0.001}, {64, 0.00005}}) {
        job::Job job = fixtures::wedge_job(cylinders);
        unsigned seed = 1;
        for (const auto& v : job.head.valves)
            job.readings.proofs.push_back(reading("1", v.id, 0.010, seed++));
        job.readings.proofs[3] = reading("1", job.head.valves[3].id, 0.030, 3);
        for (auto& p : job.readings.proofs) p.gauge_u = gauge_u;
        const auto proof = prove::judge(job);
        for (const auto& [paper, unit] :
             {std::pair{a4, LengthUnit::mm}, std::pair{letter, LengthUnit::inch}}) {
            const auto pages = certificate_pages(job, proof, {paper, unit, "record"});
            EXPECT_LE(pages.size(), 2u) << job.head.valves.size() << " seats";
            const std::string all = all_of(pages);
            for (const auto& v : job.head.valves) EXPECT_TRUE(holds(all, ">" + v.id + "<")) << v.id;
            for (std::size_t i = 0; i < pages.size(); ++i)
                show(fmt::format("head-{}-{}.pdf", 2 * cylinders, i + 1), *pdf_of({pages[i]}, paper, "head"));
        }
    }
}

TEST(ProvePapers, CertificateOfABatchInWhichNothingPassesStillTakesTwoPages) {
    auto job = batch();
    for (int h = 25; h <= 90; ++h)
        for (const auto& v : job.head.valves) {
            auto r = reading(std::to_string(h), v.id, 0.03, 1);
            r.by = "person " + std::to_string(h);
            job.readings.proofs.push_back(std::move(r));
        }
    const auto proof = prove::judge(job);
    for (const auto& paper : {a4, letter}) {
        const auto pages = certificate_pages(job, proof, {paper, LengthUnit::inch, "record"});
        EXPECT_EQ(pages.size(), 2u);
        EXPECT_TRUE(holds(pages[0], "more heads that do not pass"));
        EXPECT_TRUE(holds(pages[0], "received: name, date, signature"));
    }
}

// A narrow place and a slipped zero stand beside their seat; an inch shop reads vacuum in inHg.
TEST(ProvePapers, CertificateShowsWhatASingleFigureHides) {
    auto job = one_head();
    job.readings.proofs[0].width = {1.5, 1.5, 1.5, 1.2};
    auto& slipped = job.readings.proofs[1].trace;
    for (std::size_t i = 40; i < slipped.size(); ++i) slipped[i] += 0.02;
    const std::string all = all_of(certificate_pages(job, prove::judge(job), {a4, LengthUnit::inch, ""}));
    for (const char* part :
         {"narrowest place 0.0472", ", slipped", "vacuum inHg", "23.0", "at least 20.0 inHg"})
        EXPECT_TRUE(holds(all, part)) << part;
    EXPECT_FALSE(holds(all, "kPa"));
}

// What the head is held to beside its seats, and what nothing was read against.
TEST(ProvePapers, CertificateNamesEveryLimitOfTheJob) {
    auto job = fixtures::wedge_job(4);
    job.depth.stem_spread = 0.3;
    for (const auto kind : job::both_kinds) {
        job.seat[kind]->stem_height_min = 47.6;
        job.seat[kind]->recession_max = 1.0;
        job.seat[kind]->below_deck_max = 1.8;
    }
    for (const auto& v : job.head.valves) job.readings.proofs.push_back(reading("1", v.id, 0.010, 1));
    for (auto& r : job.readings.proofs)
        if (r.valve == "2I") r.stem_height = 47.7;
    const auto proof = prove::judge(job);
    const std::string all = all_of(certificate_pages(job, proof, {a4, LengthUnit::mm, ""}));
    for (const char* part : {"47.600 to 48.500", "stem spread", "at most 0.300", "2I lowest",
                             "below deck (intake)", "recession (exhaust)", "claimed"})
        EXPECT_TRUE(holds(all, part)) << part;
    const auto json = json_of(job, proof);
    EXPECT_EQ(json["stem_spreads"][0]["lowest"], "2I");
    EXPECT_EQ(json["stem_spreads"][0]["verdict"], "fail");
    const std::string csv = results_csv(job, proof);
    const auto at = csv.find("\r\n1,2I 4I,intake,stem spread,");
    ASSERT_NE(at, std::string::npos) << csv;
    const std::string line = csv.substr(at + 2, csv.find("\r\n", at + 2) - at - 2);
    EXPECT_EQ(std::count(line.begin(), line.end(), ','), 16) << line;
    EXPECT_TRUE(holds(line, ",0.300000,stem_spread of the job,fail,")) << line;
    EXPECT_EQ(json["not_judged"][0]["what"], "below deck");
    EXPECT_TRUE(holds(text_of(job, proof, {}), "Nothing is claimed"));
}

TEST(ProvePapers, ALineOfATraceDoesNotBridgeWhatWasNotRead) {
    job::Job job = fixtures::wedge_job(1);
    auto r = reading("1", "1I", 0.01, 1);
    const auto lines = [&] {
        job.readings.proofs = {r};
        const std::string svg =
            draw_trace(job, prove::judge(job).seats[0], {90, TraceDetail::small, LengthUnit::mm}).document();
        std::size_t count = 0;
        for (auto at = svg.find("<polyline"); at != std::string::npos; at = svg.find("<polyline", at + 1))
            ++count;
        return count;
    };
    const auto whole = lines();
    for (int i = 0; i < 72; ++i) r.angles.push_back(rad(5.0 * i));
    for (int k = 0; k < 12; ++k) {  // a missing stretch in the middle
        r.trace.erase(r.trace.begin() + 30);
        r.angles.erase(r.angles.begin() + 30);
    }
    EXPECT_EQ(lines(), whole + 1);
}

TEST(ProvePapers, NothingMeasuredIsNothingCertified) {
    const auto job = fixtures::wedge_job(2);
    const auto pages = certificate_pages(job, prove::judge(job), {a4, LengthUnit::mm, ""});
    ASSERT_EQ(pages.size(), 1u);
    EXPECT_TRUE(holds(pages[0], "nothing is certified"));
}

TEST(ProvePapers, Drawings) {
    const auto job = one_head();
    const auto proof = prove::judge(job);
    const std::vector<std::pair<std::string, Drawing>> drawings{
        {"trace", draw_trace(job, proof.seats[0], {90, TraceDetail::full, LengthUnit::mm})},
        {"harmonics", draw_harmonics(job, proof.seats[0], 110, LengthUnit::inch)},
        {"map", draw_verdict_map(job, proof, "1", {180, Medium::screen})}};
    for (const auto& [name, drawing] : drawings) {
        const auto pdf = pdf_of({drawing.document()}, a4, name);
        ASSERT_TRUE(pdf.has_value()) << pdf.error();
        show(name + ".pdf", *pdf);
    }
    EXPECT_TRUE(holds(drawings[2].second.document(), "undecided"));
    const auto many = prove::judge(batch());
    ASSERT_FALSE(many.batch.empty());
    const auto chart = pdf_of({draw_chart(many.batch[0], 180, LengthUnit::mm).document()}, a4, "chart");
    ASSERT_TRUE(chart.has_value());
    show("chart.pdf", *chart);
    EXPECT_FALSE(many.batch[0].breaks.empty());
}

TEST(ProvePapers, ResultsTableHasALineACharacteristic) {
    auto job = one_head();
    job.readings.proofs[0].by = "=two, \"names\"";
    const auto proof = prove::judge(job);
    const std::string csv = results_csv(job, proof);
    show("results.csv", csv);
    std::size_t lines = 0, from = 0;
    for (auto end = csv.find("\r\n"); end != std::string::npos;
         from = end + 2, end = csv.find("\r\n", from)) {
        std::size_t commas = 0;
        bool quoted = false;
        for (std::size_t i = from; i < end; ++i) {
            if (csv[i] == '"') quoted = !quoted;
            if (csv[i] == ',' && !quoted) ++commas;
        }
        EXPECT_EQ(commas, 16u) << csv.substr(from, end - from);
        ++lines;
    }
    EXPECT_GT(lines, 7u * 5u);
    EXPECT_TRUE(holds(csv, "\"'=two, \"\"names\"\"\""));
}

TEST(ProvePapers, JsonHasTheKeysPromised) {
    const auto job = one_head();
    const auto json = json_of(job, prove::judge(job));
    const auto& seat = json["seats"][0];
    for (const char* key : {"head", "id", "tir_mm", "eccentricity_mm", "eccentricity_deg", "roundness_mm",
                            "harmonics_mm", "width_mm", "stem_height_mm", "verdicts"})
        EXPECT_TRUE(seat.contains(key)) << key;
    for (const char* key : {"ls", "mz", "mc", "mi"}) EXPECT_TRUE(seat["roundness_mm"].contains(key)) << key;
    for (const char* key : {"order", "amplitude_mm", "phase_deg"})
        EXPECT_TRUE(seat["harmonics_mm"][0].contains(key)) << key;
    for (const char* key : {"what", "value", "limit_low", "limit_high", "u", "verdict"})
        EXPECT_TRUE(seat["verdicts"][0].contains(key)) << key;
    const auto many = json_of(batch(), prove::judge(batch()));
    for (const char* key : {"what", "kind", "n", "mean", "sigma", "cp", "cpk", "cpk_low", "centre", "lower",
                            "upper", "signals", "drift_per_head", "limit_at_head"})
        EXPECT_TRUE(many["batch"][0].contains(key)) << key;
    EXPECT_TRUE(many.contains("verdict"));
}

TEST(ProvePapers, TextStandsOnItsOwn) {
    const auto job = one_head();
    const auto proof = prove::judge(job);
    const std::string text = text_of(job, proof, TextStyle{});
    show("proof.txt", text);
    EXPECT_TRUE(holds(text, "FAIL"));
    EXPECT_TRUE(holds(text, "NOT MEASURED"));
    show("batch.txt", text_of(batch(), prove::judge(batch()), TextStyle{}));
}

TEST(ProvePapers, EachReadingIsPutDownToWhoTookIt) {
    job::Job job = fixtures::wedge_job(1);
    auto r = reading("1", "1I", 0.01, 1);
    r.vacuum.reset();
    r.by = "person A";
    job::SeatAfter later;
    later.head = r.head;
    later.valve = r.valve;
    later.vacuum = 78;
    later.by = "person B";
    job.readings.proofs = {r, later};
    const auto proof = prove::judge(job);
    const std::string paper = all_of(certificate_pages(job, proof, {a4, LengthUnit::mm, ""}));
    EXPECT_TRUE(holds(paper, "1I: runout, width, stem height: measured by person A"));
    EXPECT_TRUE(holds(paper, "1I: vacuum: measured by person B"));
    const std::string csv = results_csv(job, proof);
    const auto line = [&](const std::string& what) {
        const auto at = csv.find("," + what + ",");
        return csv.substr(at, csv.find("\r\n", at) - at);
    };
    for (const char* what : {"runout", "width", "stem height", "eccentricity"})
        EXPECT_TRUE(holds(line(what), "person A")) << line(what);
    EXPECT_TRUE(holds(line("vacuum"), "person B")) << line("vacuum");
    const auto json = json_of(job, proof)["seats"][0];
    ASSERT_EQ(json["sessions"].size(), 2u);
    EXPECT_EQ(json["sessions"][1]["what"][0], "vacuum");
    for (const auto& verdict : json["verdicts"])
        EXPECT_EQ(verdict["session"], verdict["what"] == "vacuum" ? 1 : 0);
}

// Where each small word stands on the paper: none over another.
TEST(ProvePapers, SmallLinesUnderASeatDoNotCover) {
    job::Job job = fixtures::wedge_job(1);
    auto r = reading("1", "1I", 0.01, 1);
    r.width = {1.5, 1.2, 1.8};
    r.vacuum_after = 74;
    r.vacuum_seconds = 10;
    auto again = r;
    again.width = {1.51, 1.2, 1.81};
    again.vacuum = 78.6;
    job.readings.proofs = {r, again};
    const std::string paper = all_of(certificate_pages(job, prove::judge(job), {a4, LengthUnit::mm, ""}));
    std::vector<std::pair<std::string, std::string>> ends;  // right end and line of what ends there
    std::size_t small = 0;
    for (const char* words : {">k = ", ">± ", ">narrowest place", ">widest place", ">loss "})
        for (auto at = paper.find(words); at != std::string::npos; at = paper.find(words, at + 1)) {
            const auto tag = paper.rfind("<text", at);
            const auto value = [&](const std::string& key) {
                const auto from = paper.find(" " + key + "=\"", tag) + key.size() + 3;
                return paper.substr(from, paper.find('"', from) - from);
            };
            ends.emplace_back(value("x"), value("y"));
            ++small;
        }
    EXPECT_TRUE(holds(paper, ">78.3<"));
    show("repeats.pdf",
         *pdf_of({certificate_pages(job, prove::judge(job), {a4, LengthUnit::mm, ""})[0]}, a4, "repeats"));
    EXPECT_GE(small, 5u);
    std::sort(ends.begin(), ends.end());
    EXPECT_EQ(std::adjacent_find(ends.begin(), ends.end()), ends.end());
}

TEST(ProvePapers, AnUncertaintyIsNeverRoundedDown) {
    EXPECT_EQ(uncertainty(0.002, LengthUnit::mm), "0.002");
    EXPECT_EQ(uncertainty(2 * 0.001, LengthUnit::inch), "0.0001");
    EXPECT_EQ(uncertainty(2 * 0.0005, LengthUnit::inch), "0.00004");
    EXPECT_EQ(uncertainty(0.0021, LengthUnit::mm), "0.003");
    EXPECT_EQ(uncertainty(0.0001 * mm_per_inch, LengthUnit::inch), "0.0001");
    EXPECT_EQ(uncertainty(0.0002, LengthUnit::mm), "0.0002");
    EXPECT_EQ(uncertainty(0.00021, LengthUnit::mm), "0.0003");
    EXPECT_EQ(uncertainty(0.00097, LengthUnit::mm), "0.001");
    EXPECT_EQ(uncertainty(1e-12, LengthUnit::mm), "0.00001");
    EXPECT_EQ(uncertainty(0, LengthUnit::mm), "0.000") << "stated as nought";
    EXPECT_EQ(vacuum_uncertainty(0.31, LengthUnit::mm), "0.4");
    EXPECT_EQ(vacuum_uncertainty(0.02, LengthUnit::mm), "0.02");
    job::Job job = fixtures::wedge_job(1);
    job.readings.proofs = {reading("1", "1I", 0.01, 1)};
    job.readings.proofs[0].gauge_u = 0.00005;
    const auto proof = prove::judge(job);
    for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::inch}) {
        const char* u = unit == LengthUnit::mm ? "± 0.0001" : "± 0.000004";
        EXPECT_TRUE(holds(all_of(certificate_pages(job, proof, {a4, unit, ""})), u));
        EXPECT_TRUE(holds(text_of(job, proof, {{}, unit}), u));
    }
}

TEST(ProvePapers, SeatsReadWithoutATraceAreNotCalledTraced) {
    job::Job job = fixtures::wedge_job(1);
    auto r = reading("1", "1I", 0.01, 1);
    r.trace.clear();
    r.runout = 0.01;
    job.readings.proofs = {r};
    const std::string text = text_of(job, prove::judge(job), TextStyle{});
    EXPECT_TRUE(holds(text, "1 of 1 seats read pass in runout")) << text;
    EXPECT_FALSE(holds(text, "traced"));
}

// FIPS 180-4 example: SHA-256 of "abc".
TEST(ProvePapers, RecordMark) {
    EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    EXPECT_EQ(short_mark("abc"), "ba78 16bf 8f01 cfea");
}

}  // namespace
}  // namespace seatwright::papers
