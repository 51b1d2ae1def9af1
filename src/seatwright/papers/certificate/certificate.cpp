#include "seatwright/papers/certificate/certificate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "seatwright/papers/certificate/certificate_parts.hpp"
#include "seatwright/papers/certificate/certificate_rows.hpp"
#include "seatwright/papers/certificate/certificate_seats.hpp"
#include "seatwright/papers/drawings/draw_charts.hpp"
#include "seatwright/papers/drawings/draw_verdict_map.hpp"
#include "seatwright/papers/drawings/verdict_mark.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/record_mark.hpp"
#include "seatwright/prove/verdict.hpp"
#include "seatwright/report/let_pass.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// How much is listed: the fullest of these that takes two pages is printed, else the last. Of more heads only
// those that do not pass are listed, the worst first.
struct CertificateDetail {
    std::size_t heads, lines;
    double map;  // of the page's width
    std::size_t charts;
};
constexpr CertificateDetail certificate_details[] = {{60, 20, 1, 8},    {60, 20, 0.62, 8}, {36, 14, 0.62, 8},
                                                     {24, 10, 0.62, 8}, {36, 14, 0.8, 6},  {24, 10, 0.8, 6},
                                                     {16, 8, 0.62, 6},  {10, 5, 0.62, 6},  {6, 3, 0.62, 4}};
// Of one head: the map as a share of the page's width, how seats are listed, the traces in mm of paper. Of
// those that list seats openly the one of fewest pages; where none takes two pages, the first tight one that
// does.
enum class Seats { open, tight };
struct HeadDetail {
    std::size_t lines;
    double map;
    Seats seats;
    double trace;
};
constexpr HeadDetail head_details[] = {
    {20, 1, Seats::open, 27},     {20, 0.62, Seats::open, 27}, {20, 1, Seats::open, 21},
    {20, 0.62, Seats::open, 21},  {20, 1, Seats::tight, 21},   {20, 1, Seats::tight, 15},
    {14, 0.62, Seats::tight, 15}, {14, 1, Seats::tight, 10},   {8, 1, Seats::tight, 8}};
constexpr std::size_t most_certificate_pages = 2;
constexpr double signed_room = 48;  // mm: who measured stands on the page that is signed
constexpr double chart_gap = 6;
constexpr double words_size = 2.7;  // mm, letters of sentences

std::vector<std::string> heads_of(const prove::Proof& proof) {
    std::vector<std::string> out;
    for (const auto& seat : proof.seats)
        if (std::find(out.begin(), out.end(), seat.head) == out.end()) out.push_back(seat.head);
    return out;
}

PageTitle title_of(const std::string& what, const CertificateOptions& options) {
    const std::string& record = options.record;
    PageTitle title;
    title.title = "Certificate of measurement";
    title.later = title.title + ": " + what;
    title.detail = what;
    title.footer = in_words(
        record.empty() ? sentence<"no-record">() : sentence<"record">("mark"_is = short_mark(record)),
        options.speech());
    if (!options.entries.empty()) title.footer += " · " + options.entries;
    return title;
}

// What was measured, the verdict over all, and how to read what follows.
void opening(Pages& paper, const job::Job& job, const prove::Proof& proof,
             const CertificateOptions& options) {
    // In the room that the title leaves at its right.
    constexpr double size = 4.4, radius = 3.4;  // mm
    const double right = paper.left() + paper.width(), line = Pages::margin + 4.6;
    const std::string word(prove::word(proof.verdict));
    verdict_mark(paper.page(), {right - words_width(word, size, Face::bold) - 2 * radius, line - 1.6}, radius,
                 proof.verdict);
    paper.page().text({right, line}, word, size, Anchor::end, verdict_ink(proof.verdict), true);
    const std::string head =
        job.head.name.empty() ? job.head.material : job.head.name + ", " + job.head.material;
    paper.sentence(job.title + (head.empty() ? "" : "; " + head));
    if (!options.order.empty()) paper.sentence(options.order);
    paper.gap(1);
    paper.sentence(in_words(sentence<"how-to-read">(), options.speech()), {Ink::line, "", true});
}

// Without it people falsify readings to get a program (the customer sees what was let pass).
void let_pass_part(Pages& paper, const job::Job& job, const Speech& speech) {
    const auto words = in_words(let_pass(job), speech);
    if (words.empty()) return;
    paper.heading(let_pass_heading);
    for (const auto& one : words) paper.sentence(one, {Ink::warn, "•"});
}

void closing(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t lines,
             const Speech& speech) {
    let_pass_part(paper, job, speech);
    open_part(paper, job, proof, lines, speech);
    paper.need(signed_room);
    people_part(paper, job, proof, lines, speech);
    signature_part(paper);
}

void one_head(Pages& paper, const job::Job& job, const prove::Proof& proof, const std::string& head,
              const Speech& speech, const HeadDetail& detail) {
    const LengthUnit unit = speech.unit;
    limits_part(paper, job, proof, speech);
    const auto map = draw_verdict_map(job, proof, head, {detail.map * paper.width(), Medium::print});
    in_the_middle(paper, map, 3);
    if (detail.seats == Seats::open)
        seats_part(paper, job, proof, speech);
    else
        tight_seats_part(paper, job, proof, speech);
    spreads_part(paper, job, proof, speech);
    traces_part(paper, job, proof, unit, detail.trace);
    closing(paper, job, proof, detail.lines, speech);
}

struct HeadCount {
    std::size_t seats = 0, pass = 0, fail = 0, undecided = 0, open = 0;
    std::optional<double> runout;
    prove::Verdict verdict = prove::Verdict::pass;
};

HeadCount count(const prove::Proof& proof, const std::string& head) {
    HeadCount out;
    bool failed = false, undecided = false;
    for (const auto& seat : proof.seats) {
        if (seat.head != head) continue;
        ++out.seats;
        out.pass += seat.verdict == prove::Verdict::pass ? 1 : 0;
        out.fail += seat.verdict == prove::Verdict::fail ? 1 : 0;
        out.undecided += seat.verdict == prove::Verdict::undecided ? 1 : 0;
        out.open += seat.verdict == prove::Verdict::not_measured ? 1 : 0;
        failed |= seat.verdict == prove::Verdict::fail;
        undecided |= seat.verdict == prove::Verdict::undecided;
        if (seat.runout) out.runout = std::max(out.runout.value_or(0), *seat.runout);
    }
    for (const auto& s : proof.stem_spreads) {
        if (s.head != head) continue;
        failed |= s.judgement.verdict == prove::Verdict::fail;
        undecided |= s.judgement.verdict == prove::Verdict::undecided;
    }
    for (const auto& u : proof.unmeasured) out.open += u.head == head ? 1 : 0;
    out.verdict = failed         ? prove::Verdict::fail
                  : undecided    ? prove::Verdict::undecided
                  : out.open > 0 ? prove::Verdict::not_measured
                                 : prove::Verdict::pass;
    return out;
}

void heads_table(Pages& paper, const prove::Proof& proof, const std::vector<std::string>& heads,
                 const Speech& speech, const CertificateDetail& detail) {
    const LengthUnit unit = speech.unit;
    paper.heading("Heads");
    std::vector<std::pair<std::string, HeadCount>> listed;
    listed.reserve(heads.size());
    for (const auto& head : heads) listed.emplace_back(head, count(proof, head));
    const std::size_t all = listed.size();
    if (all > detail.heads) {
        std::erase_if(listed, [](const auto& h) { return h.second.verdict == prove::Verdict::pass; });
        std::stable_sort(listed.begin(), listed.end(), [](const auto& a, const auto& b) {
            return a.second.verdict != b.second.verdict &&
                   prove::worse(a.second.verdict, b.second.verdict) == a.second.verdict;
        });
    }
    const std::size_t passing = all - listed.size();
    const std::size_t rows = std::min(listed.size(), detail.heads);
    const std::vector<Column> columns{
        {0},  {45, Anchor::end}, {62, Anchor::end}, {82, Anchor::end}, {108, Anchor::end}, {140, Anchor::end},
        {152}};
    if (rows > 0)
        row_of_heads(paper, columns,
                     {"head", "pass", "fail", "undecided", "not measured",
                      fmt::format("largest runout {}", unit_name(unit)), "verdict"});
    for (std::size_t i = 0; i < rows; ++i) {
        const auto& [head, c] = listed[i];
        row_of_cells(paper, columns,
                     {head, std::to_string(c.pass), std::to_string(c.fail), std::to_string(c.undecided),
                      std::to_string(c.open), length(c.runout, unit), prove::word(c.verdict)});
        verdict_mark(paper.page(), {paper.left() + 149, paper.y() - 1}, 1.3, c.verdict);
    }
    paper.gap(1);
    if (listed.size() > rows)
        paper.sentence(in_words(sentence<"more-heads">("more"_is = listed.size() - rows), speech));
    if (passing > 0)
        paper.sentence(in_words(rows > 0 ? sentence<"heads-that-pass">("count"_is = passing)
                                         : sentence<"all-heads-pass">("count"_is = passing),
                                speech));
    paper.sentence(in_words(sentence<"where-values-stand">(), speech), small_print);
}

// Two beside each other: intake and exhaust of one characteristic.
void charts(Pages& paper, const prove::Proof& proof, const Speech& speech, std::size_t most) {
    const double room = (paper.width() - chart_gap) / 2;
    std::vector<Drawing> drawn;
    std::vector<std::string> left_out;
    for (const auto& series : proof.batch) {
        if (series.what == "eccentricity") continue;
        if (drawn.size() < most)
            drawn.push_back(draw_chart(series, room, speech.unit));
        else if (left_out.empty() || left_out.back() != series.what)
            left_out.push_back(series.what);
    }
    if (!drawn.empty()) paper.heading("Control charts", drawn.front().height() + 1);
    for (std::size_t i = 0; i < drawn.size(); i += 2)
        paper.row({drawn.begin() + static_cast<std::ptrdiff_t>(i),
                   drawn.begin() + static_cast<std::ptrdiff_t>(std::min(i + 2, drawn.size()))},
                  chart_gap);
    if (!left_out.empty())
        paper.sentence(
            in_words(sentence<"charts-in-record">("charts"_is = list_of(left_out, Join::commas)), speech),
            small_print);
}

void positions(Pages& paper, const job::Job& job, const prove::Proof& proof,
               const CertificateDetail& detail) {
    const auto map = draw_position_map(job, proof, {detail.map * paper.width(), Medium::print});
    paper.heading("By position, over all heads: the worst verdict, and on how many of those measured",
                  map.height());
    in_the_middle(paper, map);
}

void batch(Pages& paper, const job::Job& job, const prove::Proof& proof,
           const std::vector<std::string>& heads, const Speech& speech, const CertificateDetail& detail) {
    limits_part(paper, job, proof, speech);
    heads_table(paper, proof, heads, speech, detail);
    if (proof.sampling && proof.sampling->measured > 0) {
        paper.heading("What may be claimed");
        paper.sentence(in_words(proof.sampling->words, speech));
    }
    closing(paper, job, proof, detail.lines, speech);
    positions(paper, job, proof, detail);
    charts(paper, proof, speech, detail.charts);
}

}  // namespace

std::vector<std::string> certificate_pages(const job::Job& job, const prove::Proof& proof,
                                           const CertificateOptions& options) {
    const Speech speech = options.speech();
    const auto heads = heads_of(proof);
    const std::string what = heads.size() == 1
                                 ? fmt::format("Valve seats of head {}, after cutting", heads.front())
                                 : fmt::format("Valve seats of {} heads, after cutting", heads.size());
    const auto made = [&](const auto& part) {
        Pages paper(options.paper, title_of(what, options), words_size);
        opening(paper, job, proof, options);
        part(paper);
        return paper.documents();
    };
    if (heads.empty())
        return made([&](Pages& paper) {
            paper.sentence(in_words(sentence<"nothing-certified">(), speech), {Ink::warn});
        });
    std::vector<std::string> best;
    if (heads.size() == 1) {
        for (const auto& detail : head_details) {
            if (best.size() == 1 ||
                (detail.seats == Seats::tight && !best.empty() && best.size() <= most_certificate_pages))
                break;
            auto pages =
                made([&](Pages& paper) { one_head(paper, job, proof, heads.front(), speech, detail); });
            if (best.empty() || pages.size() < best.size()) best = std::move(pages);
        }
        return best;
    }
    for (const auto& detail : certificate_details) {
        best = made([&](Pages& paper) { batch(paper, job, proof, heads, speech, detail); });
        if (best.size() <= most_certificate_pages) break;
    }
    return best;
}

}  // namespace seatwright::papers
