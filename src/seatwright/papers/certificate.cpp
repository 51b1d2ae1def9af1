#include "seatwright/papers/certificate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "seatwright/papers/certificate_parts.hpp"
#include "seatwright/papers/draw_charts.hpp"
#include "seatwright/papers/draw_trace.hpp"
#include "seatwright/papers/draw_verdict_map.hpp"
#include "seatwright/papers/record_mark.hpp"
#include "seatwright/papers/show.hpp"
#include "seatwright/papers/verdict_mark.hpp"
#include "seatwright/prove/verdict.hpp"

namespace seatwright::papers {

namespace {

// How much is listed: the fullest of these that takes two pages is printed, else the last. Of more heads only
// those that do not pass are listed, the worst first.
struct Detail {
    std::size_t heads, lines;
    double map = 1;  // of the page's width
};
// A smaller map of one head, where that saves a page.
constexpr double small_map = 0.62;
constexpr Detail details[] = {{60, 20}, {36, 14}, {24, 10}, {16, 8}, {10, 5}, {6, 3}};
constexpr std::size_t most_pages = 2;
constexpr double signed_room = 48;                      // mm: who measured stands on the page that is signed
constexpr double small_trace = 27, smaller_trace = 21;  // mm of paper, six or eight in a row
constexpr std::size_t few_traces = 6;
constexpr std::size_t charts_printed = 8;
constexpr double chart_gap = 6;

std::vector<std::string> heads_of(const prove::Proof& proof) {
    std::vector<std::string> out;
    for (const auto& seat : proof.seats)
        if (std::find(out.begin(), out.end(), seat.head) == out.end()) out.push_back(seat.head);
    return out;
}

void title(Flow& flow, const job::Job& job, const prove::Proof& proof, const std::string& what) {
    Drawing& page = flow.page();
    const double y = flow.y();
    page.text({flow.left(), y + 5}, "Certificate of measurement", 6, Anchor::start, Ink::line, true);
    page.text({flow.left(), y + 11}, what, 3.4);
    const std::string head =
        job.head.name.empty() ? job.head.material : job.head.name + ", " + job.head.material;
    page.text({flow.left(), y + 16}, job.title + (head.empty() ? "" : "; " + head), 3);
    const double right = flow.left() + flow.width();
    verdict_mark(page, {right - 14, y + 5}, 5, proof.verdict);
    page.text({right - 14, y + 15.5}, prove::word(proof.verdict), 4, Anchor::middle,
              verdict_ink(proof.verdict), true);
    flow.down(18);
    flow.words(
        "Only what is listed here was measured. Values are given ± U, the expanded uncertainty: coverage "
        "factor "
        "k = 2 but where another k is printed under the value; about 95 %. Verdicts by ISO 14253-1: pass, "
        "inside the limit by U or more; fail, outside by U or more; "
        "between them undecided. What was not measured is never a pass. The engine maker's data and local "
        "rules come before this paper.",
        2.5);
}

void traces(Flow& flow, const job::Job& job, const prove::Proof& proof, LengthUnit unit) {
    const auto traced = std::count_if(proof.seats.begin(), proof.seats.end(),
                                      [](const auto& seat) { return !seat.readings.empty(); });
    if (traced == 0) return;
    const double side = static_cast<std::size_t>(traced) <= few_traces ? small_trace : smaller_trace;
    flow.ensure(side + 22);  // a heading stays with its first row
    flow.heading(fmt::format("Traces: full swing in {}, each enlarged to fill its ring", unit_name(unit)));
    const auto in_row = static_cast<std::size_t>(flow.width() / (side + 1));
    const double slot = flow.width() / static_cast<double>(in_row);
    std::size_t column = 0;
    double tall = 0;
    for (const auto& seat : proof.seats) {
        if (seat.readings.empty()) continue;
        const auto drawing = draw_trace(job, seat, {side, TraceDetail::small, unit});
        tall = drawing.height() + 1;
        if (column == 0) flow.ensure(tall);
        flow.place(drawing, slot * static_cast<double>(column));
        column = (column + 1) % in_row;
        if (column == 0) flow.down(tall);
    }
    if (column > 0) flow.down(tall);
}

void closing(Flow& flow, const job::Job& job, const prove::Proof& proof, const Detail& detail) {
    open_part(flow, job, proof, detail.lines);
    flow.ensure(signed_room);
    people_part(flow, job, proof, detail.lines);
    signature_part(flow);
}

void one_head(Flow& flow, const job::Job& job, const prove::Proof& proof, const std::string& head,
              LengthUnit unit, const Detail& detail) {
    limits_part(flow, job, proof, unit);
    const auto map = draw_verdict_map(job, proof, head, detail.map * flow.width());
    flow.ensure(map.height() + 4);
    flow.down(3);
    flow.place(map, (flow.width() - map.width()) / 2);
    flow.down(map.height());
    seats_part(flow, job, proof, unit);
    traces(flow, job, proof, unit);
    closing(flow, job, proof, detail);
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
    for (const auto& u : proof.unmeasured) out.open += u.head == head ? 1 : 0;
    out.verdict = failed         ? prove::Verdict::fail
                  : undecided    ? prove::Verdict::undecided
                  : out.open > 0 ? prove::Verdict::not_measured
                                 : prove::Verdict::pass;
    return out;
}

void heads_table(Flow& flow, const prove::Proof& proof, const std::vector<std::string>& heads,
                 LengthUnit unit, const Detail& detail) {
    flow.heading("Heads");
    const std::vector<Column> columns{
        {0},  {45, Anchor::end}, {62, Anchor::end}, {82, Anchor::end}, {108, Anchor::end}, {140, Anchor::end},
        {152}};
    flow.table_head(columns, {"head", "pass", "fail", "undecided", "not measured",
                              fmt::format("largest runout {}", unit_name(unit)), "verdict"});
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
    for (std::size_t i = 0; i < rows; ++i) {
        const auto& [head, c] = listed[i];
        flow.row(columns, {head, std::to_string(c.pass), std::to_string(c.fail), std::to_string(c.undecided),
                           std::to_string(c.open), length(c.runout, unit), prove::word(c.verdict)});
        verdict_mark(flow.page(), {flow.left() + 149, flow.y() - 1}, 1.3, c.verdict);
    }
    flow.down(1);
    if (listed.size() > rows)
        flow.words(fmt::format("and {} more heads that do not pass whole", listed.size() - rows));
    if (passing > 0) flow.words(fmt::format("and {} heads whose seats all pass", passing));
    flow.words(
        "The values of every seat with their uncertainties stand in proof.json and results.csv, and in each "
        "head's own certificate.",
        2.3, Ink::faint);
}

// Two beside each other: intake and exhaust of one characteristic.
void charts(Flow& flow, const prove::Proof& proof, LengthUnit unit) {
    const double room = (flow.width() - chart_gap) / 2;
    std::size_t printed = 0;
    double tall = 0;
    for (const auto& series : proof.batch) {
        if (series.what == "eccentricity" || printed == charts_printed) continue;
        const auto chart = draw_chart(series, room, unit);
        tall = chart.height() + 1;
        const bool second = printed % 2 == 1;
        if (printed == 0) {
            flow.ensure(tall + 20);  // a heading stays with its first row
            flow.heading("Control charts");
        } else if (!second) {
            flow.down(tall);
            flow.ensure(tall);
        }
        flow.place(chart, second ? room + chart_gap : 0);
        ++printed;
    }
    flow.down(tall);
}

void batch(Flow& flow, const job::Job& job, const prove::Proof& proof, const std::vector<std::string>& heads,
           LengthUnit unit, const Detail& detail) {
    limits_part(flow, job, proof, unit);
    heads_table(flow, proof, heads, unit, detail);
    if (proof.sampling && proof.sampling->measured > 0) {
        flow.heading("What may be claimed");
        flow.words(proof.sampling->words);
    }
    closing(flow, job, proof, detail);
    charts(flow, proof, unit);
}

}  // namespace

std::vector<std::string> certificate_pages(const job::Job& job, const prove::Proof& proof,
                                           const CertificateOptions& options) {
    const auto heads = heads_of(proof);
    const std::string what = heads.size() == 1
                                 ? fmt::format("Valve seats of head {}, after cutting", heads.front())
                                 : fmt::format("Valve seats of {} heads, after cutting", heads.size());
    const std::string foot = options.record.empty()
                                 ? std::string("Made without a stored record.")
                                 : fmt::format("Record {}: the first digits of the SHA-256 of proof.json",
                                               short_mark(options.record));
    const auto made = [&](const Detail& detail) {
        Flow flow(options.paper, "Certificate of measurement: " + what, foot);
        title(flow, job, proof, what);
        if (heads.size() == 1)
            one_head(flow, job, proof, heads.front(), options.unit, detail);
        else if (!heads.empty())
            batch(flow, job, proof, heads, options.unit, detail);
        else
            flow.words("No seat was measured: nothing is certified.", 3.4, Ink::warn);
        return flow.documents();
    };
    std::vector<std::string> pages;
    for (const auto& detail : details) {
        pages = made(detail);
        if (heads.size() == 1) {
            auto smaller = made({detail.heads, detail.lines, small_map});
            if (smaller.size() < pages.size()) pages = std::move(smaller);
        }
        if (pages.size() <= most_pages) break;
    }
    return pages;
}

}  // namespace seatwright::papers
