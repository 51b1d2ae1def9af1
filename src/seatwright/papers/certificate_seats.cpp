#include "seatwright/papers/certificate_seats.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/papers/certificate_words.hpp"
#include "seatwright/papers/draw_trace.hpp"
#include "seatwright/papers/show.hpp"
#include "seatwright/papers/verdict_mark.hpp"
#include "seatwright/prove/verdict.hpp"

namespace seatwright::papers {

namespace {

constexpr double second_line = 3;  // mm, under a row for a k that is not 2, a place, a loss

// One cell: value ± U ending at `right`, behind it the verdict's mark and word, under it a k that is not 2.
void cell(Flow& flow, double right, const prove::SeatProof& seat, const std::string& what,
          std::optional<double> value, LengthUnit unit) {
    const auto* j = judgement_of(seat, what);
    const auto known = j ? j->value : value;
    // The column's head names the unit of a vacuum.
    std::string words = what == "vacuum" && known ? vacuum(*known, unit) : shown_value(known, what, unit);
    if (j && j->value && j->u) words += fmt::format(" ± {}", shown_value(j->u, what, unit));
    const double y = flow.y();
    const double x = flow.left() + right;
    flow.page().text({x, y}, words, 2.6, Anchor::end);
    if (!j) return;
    verdict_mark(flow.page(), {x + 2.4, y - 0.9}, 1.2, j->verdict);
    flow.page().text({x + 4.3, y}, prove::word(j->verdict), 2.1, Anchor::start, verdict_ink(j->verdict));
    if (has_own_k(*j))
        flow.page().text({x, y + second_line}, fmt::format("k = {:.2f}", j->coverage), 2.1, Anchor::end);
}

// Small lines that stand under a seat's row.
std::size_t lines_under(const prove::SeatProof& seat) {
    std::size_t places = 0, other = 0;
    for (const auto& j : seat.judgements) {
        places += is_place(j) ? 1 : 0;
        if (has_own_k(j) || j.what == "vacuum loss") other = 1;
    }
    return std::max(places, other);
}

void small_cell(Flow& flow, double right, double under, const prove::Judgement& j, const std::string& words) {
    const double x = flow.left() + right, y = flow.y() + under;
    flow.page().text({x, y}, words, 2.1, Anchor::end);
    verdict_mark(flow.page(), {x + 2.4, y - 0.7}, 1, j.verdict);
    flow.page().text({x + 4.3, y}, prove::word(j.verdict), 2.1, Anchor::start, verdict_ink(j.verdict));
}

}  // namespace

void seats_part(Flow& flow, const job::Job& job, const prove::Proof& proof, LengthUnit unit) {
    flow.heading(fmt::format("Seats ({})", unit_name(unit)));
    const bool vacuum_read = any_vacuum(proof);
    const std::vector<Column> columns{{0},
                                      {31, Anchor::end},
                                      {58, Anchor::end},
                                      {75, Anchor::end},
                                      {102, Anchor::end},
                                      {141, Anchor::end},
                                      {165, Anchor::end}};
    std::vector<std::string> head{"seat", "runout (TIR)", "off axis", "out-of-round", "width", "stem height"};
    if (vacuum_read) head.push_back(fmt::format("vacuum {}", vacuum_unit_name(unit)));
    flow.table_head(columns, head);
    for (const auto& seat : proof.seats) {
        const std::size_t lines = lines_under(seat);
        if (lines > 0) flow.ensure(8 + second_line * static_cast<double>(lines));
        flow.row(columns, {job.head.valves[seat.valve].id, "", length(seat.eccentricity, unit),
                           seat.roundness ? length(seat.roundness->mz, unit) : "–"});
        cell(flow, 31, seat, "runout", seat.runout, unit);
        cell(flow, 102, seat, "width", seat.width, unit);
        cell(flow, 141, seat, "stem height", seat.stem_height, unit);
        if (vacuum_read) cell(flow, 165, seat, "vacuum", seat.vacuum, unit);
        double under = 0;
        for (const auto& j : seat.judgements)
            if (is_place(j))
                small_cell(flow, 102, under += second_line, j,
                           fmt::format("{} {}", j.what.substr(j.what.find(' ') + 1), length(j.value, unit)));
            else if (j.what == "vacuum loss" && j.value)
                small_cell(flow, 165, second_line, j, fmt::format("loss {}", vacuum(*j.value, unit)));
        flow.down(second_line * static_cast<double>(lines));
    }
    for (const auto& u : proof.unmeasured) {
        flow.row(columns, {job.head.valves[u.valve].id});
        verdict_mark(flow.page(), {flow.left() + 33.4, flow.y() - 0.9}, 1.2, prove::Verdict::not_measured);
        flow.page().text({flow.left() + 35.3, flow.y()}, "not measured", 2.1, Anchor::start,
                         verdict_ink(prove::Verdict::not_measured));
    }
    flow.down(1);
    flow.words("Off axis: once-per-turn part of the trace. Out-of-round: minimum zone of what is left of it.",
               2.3, Ink::faint);
    if (vacuum_read)
        flow.words(std::string(vacuum_caution()) + ". Loss: in 10 s with the pump shut off.", 2.3,
                   Ink::faint);
}

void traces_part(Flow& flow, const job::Job& job, const prove::Proof& proof, LengthUnit unit, double side) {
    const bool any = std::any_of(proof.seats.begin(), proof.seats.end(),
                                 [](const auto& seat) { return !seat.readings.empty(); });
    if (!any) return;
    flow.ensure(side + 22);  // a heading stays with its first row
    flow.heading(fmt::format("Traces (full swing, {}), each enlarged to fill its ring", unit_name(unit)));
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

}  // namespace seatwright::papers
