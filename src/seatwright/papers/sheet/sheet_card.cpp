#include "seatwright/papers/sheet/sheet_card.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/sheet/sheet_words.hpp"
#include "seatwright/report/held_words.hpp"
#include "seatwright/report/let_pass.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/stood_by.hpp"
#include "seatwright/report/two_ways.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double row_height = 10.5, large = 4.6, middle_letters = 3.6, small_letters = 2.6, file_size = 5.2;
constexpr double box_height = 6.5, between_columns = 2;

// Left edges of the columns, of the width between the margins.
struct Columns {
    double number, valve, pilot, main, side, width, runout, reading, tick;
};
Columns columns_of(double width) {
    return {0,
            0.05 * width,
            0.16 * width,
            0.29 * width,
            0.50 * width,
            0.66 * width,
            0.77 * width,
            0.86 * width,
            width - box_height};
}

std::string target_words(const std::optional<CardTarget>& target, LengthUnit unit) {
    return target ? fmt::format("{} {}", target->what, length(target->value, unit)) : "–";
}

std::string window_words(const std::optional<CardTarget>& target, LengthUnit unit) {
    if (!target || (!target->low && !target->high)) return "";
    if (!target->low) return fmt::format("at most {}", length(target->high, unit));
    if (!target->high) return fmt::format("at least {}", length(target->low, unit));
    return fmt::format("{} to {}", length(target->low, unit), length(target->high, unit));
}

std::string place_words(const CardRow& row, LengthUnit unit) {
    return fmt::format("X {}  Y {}  Z {}", length(row.at.x(), unit), length(row.at.y(), unit),
                       length(row.z, unit));
}

std::string note_of(const CardRow& row) {
    if (row.first) return "first";
    return row.touched ? "last: Z0" : "";
}

class Card {
  public:
    Card(Pages& sheet, const job::Job& job, const Speech& speech)
        : sheet_(sheet),
          by_hand_(job.machine.runs == job::Runs::hand),
          by_length_(job.machine.zero == job::ZeroKept::offsets),
          z_sign_(job.machine.z_sign),
          speech_(speech),
          unit_(speech.unit),
          at_(columns_of(sheet.width())) {}

    void head(const CardBlock& block, std::size_t rows) {
        sheet_.need(26 + row_height * static_cast<double>(std::min<std::size_t>(rows, 4)));
        sheet_.gap(7);
        text(0, 0,
             fmt::format("Setup {} · cutter {}: {}, blade set to {}", block.setup, block.cutter, block.name,
                         length_with_unit(block.blade_setting, unit_)),
             large, Face::bold);
        if (!by_hand_ && !block.files.empty()) {
            sheet_.gap(7);
            text(0, 0, fmt::format("{}", fmt::join(block.files, ", then ")), file_size, Face::bold);
        }
        sheet_.gap(1);
        for (const auto& words : block.zeros) lines(words);
        for (const auto& row : block.rows)
            if (row.first && block.measures_first && !block.second_is_there)
                lines(measure_words(row, After::second_file));
        if (block.trims_at_control)
            for (const auto& row : block.rows)
                if (row.first) trim_by_hand(block, row);
        if (block.trim) {
            sheet_.gap(middle_letters * 1.4);
            text(0, 0, in_words(sentence<"trim-in-file">("trim"_is = as_length(*block.trim)), speech_),
                 middle_letters, Face::bold);
        }
        names();
    }

    void row(const CardRow& row) {
        // Typed by hand the first cut has two lines more than its place: its own Z, and what comes after.
        const bool typed_twice = by_hand_ && row.first_z;
        const double up = 6, down = typed_twice ? 10.2 : 9.4, below = 14.2;
        const double height = row_height + (typed_twice ? below - 9.4 : 0);
        if (sheet_.left_over() < height + 1) {
            sheet_.new_page();
            names();
        }
        const double main = at_.width - at_.main - between_columns;
        text(at_.number, up, fmt::format("{}", row.number), middle_letters);
        text(at_.valve, up, row.id, large, Face::bold);
        text(at_.valve, down, note_of(row), small_letters);
        text(at_.pilot, up, fitted(row.pilot, at_.main - at_.pilot - between_columns, middle_letters),
             middle_letters);
        if (by_hand_) {
            within(at_.main, up, place_words(row, unit_), main, Face::bold);
            if (typed_twice) {
                within(at_.main, down, in_words(first_words(row), speech_), main, Face::bold);
                within(at_.main, below, in_words(sentence<"then-z-above">(), speech_), main, Face::bold);
            } else {
                text(at_.main, down,
                     fitted(target_words(row.target, unit_) + "  " + window_words(row.target, unit_), main,
                            small_letters),
                     small_letters);
            }
        } else {
            within(at_.main, up, target_words(row.target, unit_), at_.side - at_.main - between_columns,
                   Face::bold);
            text(at_.side, up,
                 fitted(window_words(row.target, unit_), at_.width - at_.side - between_columns,
                        small_letters),
                 small_letters);
            text(at_.main, down,
                 fitted(place_words(row, unit_) +
                            (row.first_z ? ", first " + length(row.first_z, unit_) : std::string()),
                        main, small_letters),
                 small_letters);
        }
        text(at_.width, up, length(row.width, unit_), middle_letters);
        if (row.width_tol) text(at_.width, down, "± " + length(*row.width_tol, unit_), small_letters);
        text(at_.runout, up, row.runout_max ? "≤ " + length(*row.runout_max, unit_) : "–", small_letters);
        Drawing& page = sheet_.page();
        const double y = sheet_.y() + 1.6;
        page.rect({sheet_.left() + at_.reading, y}, at_.tick - at_.reading - 2, box_height, {Ink::line, 0.3});
        page.rect({sheet_.left() + at_.tick, y}, box_height, box_height, {Ink::line, 0.5});
        sheet_.gap(height);
        page.line({sheet_.left(), sheet_.y()}, {sheet_.left() + sheet_.width(), sheet_.y()},
                  {Ink::faint, 0.15});
    }

  private:
    void lines(const Sentence& words) {
        for (const auto& line : wrapped_lines(in_words(words, speech_), sheet_.width(), middle_letters)) {
            sheet_.gap(middle_letters * 1.4);
            text(0, 0, line, middle_letters);
        }
    }

    // Deeper than planned: every stop moves up, so Z0 does. What is typed for that goes by how the readout
    // counts; a cutter's length counts the other way from Z0, since the readout shows its edge.
    void trim_by_hand(const CardBlock& block, const CardRow& row) {
        if (row.first_reads.by != cut::ShallRead::By::depth) lines(measure_words(row, After::one_file));
        const bool up = z_sign_ > 0;
        const auto valve = "valve"_is = row.id;
        const auto cutter = "cutter"_is = block.cutter;
        if (by_length_)
            lines(up ? sentence<"halt-add-length">(valve, cutter)
                     : sentence<"halt-take-length">(valve, cutter));
        else
            lines(up ? sentence<"halt-less-plus">(valve) : sentence<"halt-plus-less">(valve));
        sheet_.gap(middle_letters * 1.7);
        text(0, 0, "e measured less planned:", middle_letters);
        sheet_.page().rect({sheet_.left() + 48, sheet_.y() - middle_letters}, 24, middle_letters * 1.3,
                           {Ink::line, 0.3});
        text(76, 0, by_length_ ? "length changed to:" : "Z0 moved, which way:", middle_letters);
        sheet_.page().rect({sheet_.left() + 120, sheet_.y() - middle_letters}, 24, middle_letters * 1.3,
                           {Ink::line, 0.3});
    }

    void names() {
        const double y = 4.5;
        text(at_.valve, y, "valve", small_letters);
        text(at_.pilot, y, "pilot", small_letters);
        text(at_.main, y,
             by_hand_ ? fmt::format("type these, {}", unit_name(unit_))
                      : fmt::format("shall come to, {}", unit_name(unit_)),
             small_letters);
        text(at_.width, y, "width", small_letters);
        text(at_.runout, y, "runout", small_letters);
        text(at_.reading, y, "as measured", small_letters);
        sheet_.gap(6);
        sheet_.page().line({sheet_.left(), sheet_.y()}, {sheet_.left() + sheet_.width(), sheet_.y()},
                           {Ink::line, 0.4});
    }

    // As large as goes into that width, down to small letters.
    void within(double x, double y, const std::string& words, double width, Face face) {
        double size = middle_letters;
        while (size > small_letters && words_width(words, size, face) > width)
            size = std::max(small_letters, size - 0.2);
        text(x, y, fitted(words, width, size, face), size, face);
    }

    void text(double x, double y, const std::string& words, double size, Face face = Face::plain) {
        if (words.empty()) return;
        sheet_.page().text({sheet_.left() + x, sheet_.y() + y}, fitted(words, sheet_.width() - x, size, face),
                           size, Anchor::start, Ink::line, face == Face::bold);
    }

    Pages& sheet_;
    bool by_hand_, by_length_;
    int z_sign_;
    Speech speech_;
    LengthUnit unit_;
    Columns at_;
};

}  // namespace

void card_on_sheet(Pages& sheet, const job::Job& job, const CardBlock& block, const Speech& speech) {
    Card card(sheet, job, speech);
    card.head(block, block.rows.size());
    for (const auto& row : block.rows) card.row(row);
}

void walk_on_sheet(Pages& sheet, const std::vector<plan::WalkStep>& walk, const Speech& speech) {
    PaperTable table;
    table.columns = {{"step"}, {"", Anchor::start}};
    for (std::size_t i = 0; i < walk.size(); ++i) {
        const Sentence& step = walk[i].words;
        table.rows.push_back({std::to_string(i + 1),
                              in_words(walk[i].done ? sentence<"done">("step"_is = step) : step, speech)});
    }
    sheet.side_by_side("The head step by step", table);
}

void two_ways_on_sheet(Pages& sheet, const job::Job& job, const shape::PlanAnew& ways, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    PaperTable table;
    table.columns = {{"valve", Anchor::start}, {"shifted"}, {"anew"}, {"", Anchor::start}};
    for (const auto& row : two_ways_rows(job, ways, unit))
        table.rows.push_back({row.id, row.shifted, row.anew, row.cut ? "cut, as measured" : ""});
    sheet.side_by_side(fmt::format("{}, {}", two_ways_heading, unit_name(unit)), table);
    const auto clauses = two_ways_words(ways);
    for (std::size_t i = 0; i < clauses.size(); ++i) {
        const auto words = in_words(sentence<"sentence-of">("clause"_is = clauses[i]), speech);
        if (i + 1 < clauses.size() && ways.chosen == job::AfterFirst::open)
            sheet.check(words);
        else
            sheet.sentence(words, {Ink::warn, "▲"});
    }
}

void let_pass_on_sheet(Pages& sheet, const job::Job& job, const Speech& speech) {
    const auto words = in_words(let_pass(job), speech);
    if (words.empty()) return;
    sheet.heading(let_pass_heading);
    for (const auto& one : words) sheet.sentence(one, {Ink::warn, "▲"});
}

void stood_by_on_sheet(Pages& sheet, const job::Job& job, const std::string& head, const Speech& speech) {
    const auto words = in_words(stood_by(job, head), speech);
    if (words.empty()) return;
    sheet.heading(stood_by_heading);
    for (const auto& one : words) sheet.sentence(one, {Ink::line, "•"});
}

void restarts_on_sheet(Pages& sheet, const cut::Cut& cut, const Speech& speech) {
    std::vector<Sentence> said;
    for (const auto& program : cut.programs)
        if (!program.route.restart.empty() &&
            std::find(said.begin(), said.end(), program.route.restart) == said.end())
            said.push_back(program.route.restart);
    if (said.empty()) return;
    sheet.heading("After the broken blade");
    for (const auto& one : said) sheet.check(in_words(sentence<"sentence-of">("clause"_is = one), speech));
}

void held_back_on_sheet(Pages& sheet, const std::vector<HeldBack>& held_back, const Speech& speech) {
    if (held_back.empty()) return;
    sheet.heading("Held back: in no program");
    for (const auto& held : gathered(held_back, speech))
        sheet.sentence(words_of(held, speech), {Ink::warn, "■"});
}

}  // namespace seatwright::papers
