// The seats of a head that has many, side by side.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/papers/certificate/certificate_rows.hpp"
#include "seatwright/papers/certificate/certificate_seats.hpp"
#include "seatwright/papers/certificate/certificate_words.hpp"
#include "seatwright/papers/drawings/verdict_mark.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/prove/verdict.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double tight_line = 3.1, head_room = 8;     // mm of paper
constexpr double tight_mark = 0.95, mark_room = 2.6;  // radius; from a value's end to the next column
constexpr double tight_column_gap = 1, tight_block_gap = 3;
constexpr double widest_u = 1.3;  // of the column without it
constexpr std::size_t ruled_after = 4, least_tight_rows = 4;

struct TightCell {
    std::string value, u;
    std::optional<prove::Verdict> verdict;
};
using TightRow = std::vector<TightCell>;

// A column whose values all have one U says it in its heading, or, where that would make the column wider, in
// a note under the list.
struct HeadLine {
    std::string words, u;
};

// The judgements of which `what` is the chief: a width's places, a vacuum's loss.
std::optional<prove::Verdict> worst_of(const prove::SeatProof& seat, const std::string& what) {
    std::optional<prove::Verdict> worst;
    for (const auto& j : seat.judgements) {
        const bool under = (is_place(j) && j.what.starts_with(what)) || j.what == what + " loss";
        if (j.what == what || under) worst = worst ? prove::worse(*worst, j.verdict) : j.verdict;
    }
    return worst;
}

TightCell cell(const prove::SeatProof& seat, const std::string& what, std::optional<double> value,
               LengthUnit unit) {
    const auto* j = judgement_of(seat, what);
    const auto number = [&](std::optional<double> v) {
        return what == "vacuum" && v ? vacuum(*v, unit) : length(v, unit);
    };
    TightCell out{number(j ? j->value : value), {}, worst_of(seat, what)};
    if (j) out.u = shown_u(*j, unit);
    return out;
}

class SeatRows {
  public:
    SeatRows(const job::Job& job, const prove::Proof& proof, LengthUnit unit) {
        const bool vacuum_read = any_vacuum(proof);
        heads = {{"seat", ""}, {"runout", ""}, {"width", ""}, {"stem", ""}};
        if (vacuum_read) heads.push_back({"vacuum", ""});
        for (const auto& seat : proof.seats) {
            TightRow row{{job.head.valves[seat.valve].id, {}, std::nullopt},
                         cell(seat, "runout", seat.runout, unit),
                         cell(seat, "width", seat.width, unit),
                         cell(seat, "stem height", seat.stem_height, unit)};
            if (vacuum_read) row.push_back(cell(seat, "vacuum", seat.vacuum, unit));
            rows.push_back(std::move(row));
        }
        for (std::size_t c = 1; c < heads.size(); ++c) say_common_u(c);
        if (vacuum_read)
            heads.back().u += (heads.back().u.empty() ? "" : " ") + std::string(vacuum_unit_name(unit));
        for (const auto& u : proof.unmeasured)
            rows.push_back({{job.head.valves[u.valve].id, {}, std::nullopt},
                            {"not measured", {}, prove::Verdict::not_measured}});
    }

    static std::string words(const TightCell& cell) {
        return cell.u.empty() ? cell.value : cell.value + " " + cell.u;
    }

    // Right end of each column with its mark, from the block's left; the last is the block's width.
    std::vector<double> ends() const {
        std::vector<double> out;
        double x = 0;
        for (std::size_t c = 0; c < heads.size(); ++c) {
            double wide =
                std::max(words_width(heads[c].words, least_size), words_width(heads[c].u, least_size));
            for (const auto& row : rows)
                if (c < row.size())
                    wide = std::max(
                        wide, words_width(words(row[c]), least_size, c == 0 ? Face::bold : Face::plain));
            x += wide + (c > 0 ? mark_room + tight_column_gap : 0);
            out.push_back(x);
        }
        return out;
    }

    std::vector<HeadLine> heads;
    std::vector<TightRow> rows;
    std::vector<std::string> noted;  // "runout ± 0.000004"

  private:
    void say_common_u(std::size_t column) {
        std::optional<std::string> common;
        for (const auto& row : rows) {
            const std::string& u = row[column].u;
            if (u.empty() && row[column].value == "–") continue;  // not read: no U to say
            if (common && u != *common) return;
            common = u;
        }
        double wide = words_width(heads[column].words, least_size);
        for (auto& row : rows) {
            row[column].u.clear();
            wide = std::max(wide, words_width(row[column].value, least_size));
        }
        if (!common || common->empty()) return;
        if (words_width(*common, least_size) <= widest_u * wide)
            heads[column].u = *common;
        else
            noted.push_back(fmt::format("{} {}", heads[column].words, *common));
    }
};

void say_notes(Pages& paper, const prove::Proof& proof, const std::vector<std::string>& noted,
               const Speech& speech) {
    double least = 0, most = 0;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements)
            if (has_own_k(j)) {
                least = least > 0 ? std::min(least, j.coverage) : j.coverage;
                most = std::max(most, j.coverage);
            }
    if (most > 0)
        paper.sentence(
            in_words(sentence<"own-k">("most"_is = as_number(most, 2), "least"_is = as_number(least, 2)),
                     speech),
            small_print);
    List said{Join::spaces, {}};
    if (!noted.empty())
        said.items.emplace_back(sentence<"u-of-all">("each"_is = list_of(noted, Join::commas)));
    said.items.emplace_back(sentence<"where-marks-stand">());
    if (any_vacuum(proof)) said.items.emplace_back(sentence<"vacuum-mark">("caution"_is = vacuum_caution()));
    paper.sentence(in_words(std::move(said), speech), small_print);
}

}  // namespace

void tight_seats_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    paper.heading(fmt::format("Seats ({})", unit_name(unit)));
    const SeatRows seats(job, proof, unit);
    const std::vector<double> ends = seats.ends();
    const auto blocks = static_cast<std::size_t>(
        std::max(1.0, std::floor((paper.width() + tight_block_gap) / (ends.back() + tight_block_gap))));
    const double apart =
        blocks > 1 ? (paper.width() - ends.back()) / static_cast<double>(blocks - 1) : paper.width();
    for (std::size_t from = 0; from < seats.rows.size();) {
        paper.need(head_room + tight_line * static_cast<double>(least_tight_rows));
        const auto most =
            static_cast<std::size_t>(std::max(1.0, (paper.left_over() - head_room) / tight_line));
        const std::size_t left = seats.rows.size() - from;
        const std::size_t per = std::min(most, (left + blocks - 1) / blocks);
        const double top = paper.y();
        for (std::size_t b = 0; b < blocks && from < seats.rows.size(); ++b) {
            const double x = paper.left() + apart * static_cast<double>(b);
            double y = top + 3.6;
            const auto right = [&](std::size_t c) { return x + ends[c] - mark_room; };
            for (std::size_t c = 0; c < seats.heads.size(); ++c) {
                const auto [edge, anchor] =
                    c == 0 ? std::pair{x, Anchor::start} : std::pair{right(c), Anchor::end};
                paper.page().text({edge, y}, seats.heads[c].words, least_size, anchor, Ink::faint);
                paper.page().text({edge, y + 3}, seats.heads[c].u, least_size, anchor);
            }
            y += 3;
            paper.page().line({x, y + 1}, {x + ends.back(), y + 1}, {Ink::faint, 0.15});
            y += 1;
            for (std::size_t r = 0; r < per && from < seats.rows.size(); ++r, ++from) {
                y += tight_line;
                const TightRow& row = seats.rows[from];
                paper.page().text({x, y}, row[0].value, least_size, Anchor::start, Ink::line, true);
                for (std::size_t c = 1; c < row.size(); ++c) {
                    paper.page().text({right(c), y}, SeatRows::words(row[c]), least_size, Anchor::end);
                    if (row[c].verdict)
                        verdict_mark(paper.page(), {right(c) + 1.5, y - 0.8}, tight_mark, *row[c].verdict);
                }
                if ((r + 1) % ruled_after == 0 && r + 1 < per)
                    paper.page().line({x, y + 0.9}, {x + ends.back(), y + 0.9}, {Ink::faint, 0.1});
            }
        }
        paper.gap(head_room + tight_line * static_cast<double>(per));
    }
    paper.gap(1);
    say_notes(paper, proof, seats.noted, speech);
}

}  // namespace seatwright::papers
