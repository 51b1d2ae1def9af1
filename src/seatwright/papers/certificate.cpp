#include "seatwright/papers/certificate.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "seatwright/papers/certificate_parts.hpp"
#include "seatwright/papers/certificate_seats.hpp"
#include "seatwright/papers/draw_charts.hpp"
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
    double map;  // of the page's width
    std::size_t charts;
};
constexpr Detail details[] = {{60, 20, 1, 8},    {60, 20, 0.62, 8}, {36, 14, 0.62, 8},
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
constexpr std::size_t most_pages = 2;
constexpr double signed_room = 48;  // mm: who measured stands on the page that is signed
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

void closing(Flow& flow, const job::Job& job, const prove::Proof& proof, std::size_t lines) {
    open_part(flow, job, proof, lines);
    flow.ensure(signed_room);
    people_part(flow, job, proof, lines);
    signature_part(flow);
}

void one_head(Flow& flow, const job::Job& job, const prove::Proof& proof, const std::string& head,
              LengthUnit unit, const HeadDetail& detail) {
    limits_part(flow, job, proof, unit);
    const auto map = draw_verdict_map(job, proof, head, {detail.map * flow.width(), Medium::print});
    flow.ensure(map.height() + 4);
    flow.down(3);
    flow.place(map, (flow.width() - map.width()) / 2);
    flow.down(map.height());
    if (detail.seats == Seats::open)
        seats_part(flow, job, proof, unit);
    else
        tight_seats_part(flow, job, proof, unit);
    traces_part(flow, job, proof, unit, detail.trace);
    closing(flow, job, proof, detail.lines);
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
        flow.table_head(columns, {"head", "pass", "fail", "undecided", "not measured",
                                  fmt::format("largest runout {}", unit_name(unit)), "verdict"});
    for (std::size_t i = 0; i < rows; ++i) {
        const auto& [head, c] = listed[i];
        flow.row(columns, {head, std::to_string(c.pass), std::to_string(c.fail), std::to_string(c.undecided),
                           std::to_string(c.open), length(c.runout, unit), prove::word(c.verdict)});
        verdict_mark(flow.page(), {flow.left() + 149, flow.y() - 1}, 1.3, c.verdict);
    }
    flow.down(1);
    if (listed.size() > rows)
        flow.words(fmt::format("and {} more heads that do not pass whole", listed.size() - rows));
    if (passing > 0)
        flow.words(rows > 0 ? fmt::format("and {} heads whose seats all pass", passing)
                            : fmt::format("All seats of all {} heads pass.", passing));
    flow.words(
        "The values of every seat with their uncertainties stand in proof.json and results.csv, and in each "
        "head's own certificate.",
        2.3, Ink::faint);
}

// Two beside each other: intake and exhaust of one characteristic.
void charts(Flow& flow, const prove::Proof& proof, LengthUnit unit, std::size_t most) {
    const double room = (flow.width() - chart_gap) / 2;
    std::size_t printed = 0;
    std::vector<std::string> left_out;
    double tall = 0;
    for (const auto& series : proof.batch) {
        if (series.what == "eccentricity") continue;
        if (printed == most) {
            if (left_out.empty() || left_out.back() != series.what) left_out.push_back(series.what);
            continue;
        }
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
    if (!left_out.empty())
        flow.words(fmt::format("Charts of {} stand in the record.", fmt::join(left_out, ", ")), 2.3,
                   Ink::faint);
}

void positions(Flow& flow, const job::Job& job, const prove::Proof& proof, const Detail& detail) {
    const auto map = draw_position_map(job, proof, {detail.map * flow.width(), Medium::print});
    flow.ensure(map.height() + 14);  // a heading stays with its drawing
    flow.heading("By position, over all heads: the worst verdict, and on how many of those measured");
    flow.place(map, (flow.width() - map.width()) / 2);
    flow.down(map.height());
}

void batch(Flow& flow, const job::Job& job, const prove::Proof& proof, const std::vector<std::string>& heads,
           LengthUnit unit, const Detail& detail) {
    limits_part(flow, job, proof, unit);
    heads_table(flow, proof, heads, unit, detail);
    if (proof.sampling && proof.sampling->measured > 0) {
        flow.heading("What may be claimed");
        flow.words(proof.sampling->words);
    }
    closing(flow, job, proof, detail.lines);
    positions(flow, job, proof, detail);
    charts(flow, proof, unit, detail.charts);
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
    const auto made = [&](const auto& part) {
        Flow flow(options.paper, "Certificate of measurement: " + what, foot);
        title(flow, job, proof, what);
        part(flow);
        return flow.documents();
    };
    if (heads.empty())
        return made(
            [](Flow& flow) { flow.words("No seat was measured: nothing is certified.", 3.4, Ink::warn); });
    std::vector<std::string> best;
    if (heads.size() == 1) {
        for (const auto& detail : head_details) {
            if (best.size() == 1 ||
                (detail.seats == Seats::tight && !best.empty() && best.size() <= most_pages))
                break;
            auto pages =
                made([&](Flow& flow) { one_head(flow, job, proof, heads.front(), options.unit, detail); });
            if (best.empty() || pages.size() < best.size()) best = std::move(pages);
        }
        return best;
    }
    for (const auto& detail : details) {
        best = made([&](Flow& flow) { batch(flow, job, proof, heads, options.unit, detail); });
        if (best.size() <= most_pages) break;
    }
    return best;
}

}  // namespace seatwright::papers
