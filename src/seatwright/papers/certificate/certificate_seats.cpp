#include "seatwright/papers/certificate/certificate_seats.hpp"
#include "seatwright/report/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "seatwright/papers/certificate/certificate_rows.hpp"
#include "seatwright/papers/certificate/certificate_words.hpp"
#include "seatwright/papers/drawings/draw_trace.hpp"
#include "seatwright/papers/drawings/verdict_mark.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/prove/verdict.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double second_line = 3;  // mm, each line under a row: a k that is not 2, a place, a loss

// Right ends of the columns, mm: behind a value its mark and "undecided" have room.
constexpr double runout_end = 31, off_axis_end = 58, roundness_end = 75, width_end = 102, stem_end = 143,
                 vacuum_end = 167;
constexpr double word_size = 2.1;
constexpr double first_rows =
    24;  // mm: the columns' heads and a seat with small lines stand under the heading

void verdict_at(Pages& paper, double left, prove::Verdict verdict) {
    const Vec2 at(paper.left() + left, paper.y());
    verdict_mark(paper.page(), at + Vec2(0, -0.9), 1.2, verdict);
    paper.page().text(at + Vec2(1.9, 0), prove::word(verdict), word_size, Anchor::start,
                      verdict_ink(verdict));
}

// What was not measured says so in the value's place.
void open_cell(Pages& paper, double right) {
    const auto verdict = prove::Verdict::not_measured;
    verdict_at(paper, right - words_width(prove::word(verdict), word_size) - 1.9, verdict);
}

// " ± 0.4, k = 3.31": what is known of U and not said above the values.
std::string u_words(const prove::Judgement& j, LengthUnit unit) {
    std::string out = j.value && j.u ? " " + shown_u(j, unit) : "";
    if (has_own_k(j)) out += fmt::format(", k = {:.2f}", j.coverage);
    return out;
}

// What stands in small letters under a judged value: a k that is not 2; of a vacuum, whose column is narrow,
// U too.
std::string words_under(const prove::Judgement& j, LengthUnit unit) {
    if (j.what == "vacuum") return j.u ? u_words(j, unit).substr(1) : "";
    return has_own_k(j) ? fmt::format("k = {:.2f}", j.coverage) : "";
}

// One cell: value ± U ending at `right`, behind it the verdict's mark and word, under it its small words.
void cell(Pages& paper, double right, const prove::SeatProof& seat, const std::string& what,
          std::optional<double> value, LengthUnit unit) {
    const auto* j = judgement_of(seat, what);
    const auto known = j ? j->value : value;
    if (j && !known && j->verdict == prove::Verdict::not_measured) {
        open_cell(paper, right);
        return;
    }
    // The column's head names the unit of a vacuum.
    std::string words = what == "vacuum" && known ? vacuum(*known, unit) : shown_value(known, what, unit);
    if (j && j->value && j->u && what != "vacuum") words += " " + shown_u(*j, unit);
    const Vec2 at(paper.left() + right, paper.y());
    paper.page().text(at, words, 2.6, Anchor::end);
    if (!j) return;
    verdict_at(paper, right + 2.4, j->verdict);
    if (const auto under = words_under(*j, unit); !under.empty())
        paper.page().text(at + Vec2(0, second_line), under, word_size, Anchor::end);
}

// Small lines that stand under a seat's row, in the column that has most of them: those of its value, then
// what belongs to it.
struct Under {
    std::size_t width = 0, vacuum = 0, lines = 0;  // taken by the values of width and vacuum; in all
};
Under lines_under(const prove::SeatProof& seat, LengthUnit unit) {
    Under out;
    std::size_t places = 0, losses = 0;
    for (const auto& j : seat.judgements) {
        if (is_place(j))
            ++places;
        else if (j.what == "vacuum loss")
            losses += j.value ? 1 : 0;
        else if (!words_under(j, unit).empty()) {
            out.lines = 1;
            if (j.what == "width") out.width = 1;
            if (j.what == "vacuum") out.vacuum = 1;
        }
    }
    out.lines = std::max({out.lines, out.width + places, out.vacuum + losses});
    return out;
}

void small_cell(Pages& paper, double right, double under, const prove::Judgement& j,
                const std::string& words) {
    const double x = paper.left() + right, y = paper.y() + under;
    paper.page().text({x, y}, words, 2.1, Anchor::end);
    verdict_mark(paper.page(), {x + 2.4, y - 0.7}, 1, j.verdict);
    paper.page().text({x + 4.3, y}, prove::word(j.verdict), 2.1, Anchor::start, verdict_ink(j.verdict));
}

}  // namespace

void seats_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    paper.heading(fmt::format("Seats ({})", unit_name(unit)), first_rows);
    const bool vacuum_read = any_vacuum(proof);
    const std::vector<Column> columns{{0},
                                      {runout_end, Anchor::end},
                                      {off_axis_end, Anchor::end},
                                      {roundness_end, Anchor::end},
                                      {width_end, Anchor::end},
                                      {stem_end, Anchor::end},
                                      {vacuum_end, Anchor::end}};
    std::vector<std::string> head{"seat", "runout (TIR)", "off axis", "out-of-round", "width", "stem height"};
    if (vacuum_read) head.push_back(fmt::format("vacuum {}", vacuum_unit_name(unit)));
    row_of_heads(paper, columns, head);
    for (const auto& seat : proof.seats) {
        const Under taken = lines_under(seat, unit);
        const double room = second_line * static_cast<double>(taken.lines);
        if (taken.lines > 0) paper.need(8 + room);
        row_of_cells(paper, columns,
                     {job.head.valves[seat.valve].id, "", length(seat.eccentricity, unit),
                      seat.roundness ? length(seat.roundness->mz, unit) : "–"});
        cell(paper, runout_end, seat, "runout", seat.runout, unit);
        cell(paper, width_end, seat, "width", seat.width, unit);
        cell(paper, stem_end, seat, "stem height", seat.stem_height, unit);
        if (vacuum_read) cell(paper, vacuum_end, seat, "vacuum", seat.vacuum, unit);
        double under = second_line * static_cast<double>(taken.width);
        for (const auto& j : seat.judgements)
            if (is_place(j))
                small_cell(paper, width_end, under += second_line, j,
                           fmt::format("{} {}", j.what.substr(j.what.find(' ') + 1), length(j.value, unit)));
            else if (j.what == "vacuum loss" && j.value)
                small_cell(paper, vacuum_end, second_line * static_cast<double>(taken.vacuum + 1), j,
                           fmt::format("loss {}{}", vacuum(*j.value, unit), u_words(j, unit)));
        paper.gap(room);
    }
    for (const auto& u : proof.unmeasured) {
        row_of_cells(paper, columns, {job.head.valves[u.valve].id});
        open_cell(paper, runout_end);
    }
    paper.gap(1);
    paper.sentence(in_words(sentence<"off-axis-meant">(), speech), small_print);
    if (vacuum_read)
        paper.sentence(in_words(sentence<"loss-meant">("caution"_is = vacuum_caution()), speech),
                       small_print);
}

void traces_part(Pages& paper, const job::Job& job, const prove::Proof& proof, LengthUnit unit, double side) {
    const auto in_row = static_cast<std::size_t>(paper.width() / (side + 1));
    std::vector<Drawing> row;
    const auto set_row = [&] {
        if (!row.empty()) paper.row(row, paper.width() / static_cast<double>(in_row) - row.front().width());
        row.clear();
    };
    bool first = true;
    for (const auto& seat : proof.seats) {
        if (seat.readings.empty()) continue;
        row.push_back(draw_trace(job, seat, {side, TraceDetail::small, unit}));
        if (std::exchange(first, false))
            paper.heading(
                fmt::format("Traces (full swing, {}), each enlarged to fill its ring", unit_name(unit)),
                row.front().height() + 1);
        if (row.size() == in_row) set_row();
    }
    set_row();
}

}  // namespace seatwright::papers
