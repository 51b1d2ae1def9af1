#include "seatwright/papers/sheet/sheet.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/version.hpp"
#include "seatwright/cut/files.hpp"
#include "seatwright/papers/drawings/draw_head.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/pages.hpp"
#include "seatwright/papers/sheet/sheet_card.hpp"
#include "seatwright/papers/sheet/sheet_hold.hpp"
#include "seatwright/papers/sheet/sheet_seats.hpp"
#include "seatwright/papers/sheet/sheet_words.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// Besides the card, whose rows are never set smaller.
constexpr std::size_t most_pages = 3;
constexpr double rows_a_page = 22, rows_a_block = 4;

// How the same is set: the roomiest of these that takes three pages is printed, else the last.
enum class Tables { open, tight };
struct Detail {
    Tables tables = Tables::open;
    double words = 3.0;             // mm, letters of sentences
    double plan = 1, section = 56;  // height of the plan, of what it may take; of the sections, mm
    HoldViews views;
    Gathering warnings;
    std::size_t lines = 1000;  // of cautions and of assumptions, each
};

const Detail details[] = {
    {},
    {Tables::tight, 2.8, 1, 50, HoldViews::fewer, {}, 1000},
    {Tables::tight, 2.6, 1.2, 46, HoldViews::fewer, {}, 1000},
    {Tables::tight, 2.4, 1.2, 46, HoldViews::fewer, {1, 20}, 1000},
    {Tables::tight, least_size, 1, 44, HoldViews::fewest, {1, 12}, 14},
};

PageTitle title_of(const job::Job& job, const plan::Plan& plan, const SheetOptions& options) {
    const LengthUnit unit = options.unit;
    PageTitle title;
    title.title = (job.title.empty() ? job.head.name : job.title) + ": work card";
    std::vector<std::string> parts;
    const auto add = [&](const std::string& what) {
        if (!what.empty()) parts.push_back(what);
    };
    // What tells this sheet from another comes first: a line too long is cut at its end.
    add("head " + plan.shape.head);
    if (!plan.selection.digest.empty()) add("plan " + plan.selection.digest);
    add(cut::newest_date(job, plan.shape.head));
    add(job.head.name);
    add(job.head.material);
    if (job.head.mass) add(mass_on_sheet(*job.head.mass, unit));
    if (!job.fixture.name.empty()) add("in " + job.fixture.name);
    if (!job.machine.name.empty()) add("on " + job.machine.name);
    title.detail = fmt::format("{}", fmt::join(parts, " · "));
    title.later = fmt::format("{}, head {}, plan {}", job.title.empty() ? job.head.name : job.title,
                              plan.shape.head, plan.selection.digest);
    title.footer = fmt::format("{} · plan {}{} · lengths in {} · Seatwright {}", job.file,
                               plan.selection.digest, options.record.empty() ? "" : " · " + options.record,
                               unit == LengthUnit::inch ? "inches" : "millimetres", version);
    return title;
}

// Under the title: whoever takes the sheet in hand sees first that it must not be run as it is.
void stop_banner(Pages& sheet, const Notices& notices, const Detail& detail, const Speech& speech) {
    constexpr std::size_t shown = 3;
    const auto stops = gathered_warnings(notices, Severity::blocking, speech, detail.warnings);
    if (stops.empty()) return;
    sheet.sentence(in_words(sentence<"stop">(), speech), {Ink::warn, "■"});
    for (std::size_t k = 0; k < std::min(shown, stops.size()); ++k)
        sheet.sentence(stops[k], {Ink::warn, "■"});
    if (stops.size() > shown)
        sheet.sentence(in_words(sentence<"more-under-cautions">("more"_is = stops.size() - shown), speech),
                       {Ink::warn, "■"});
    sheet.gap(2);
}

// The first of them; how many more there are is said.
void listed(Pages& sheet, const std::vector<std::string>& all, std::size_t most, const SentenceStyle& style,
            const Speech& speech) {
    for (std::size_t k = 0; k < std::min(most, all.size()); ++k) sheet.sentence(all[k], style);
    if (all.size() > most)
        sheet.sentence(in_words(sentence<"more-in-plan">("more"_is = all.size() - most), speech), style);
}

void cautions(Pages& sheet, const Notices& notices, const Detail& detail, const Speech& speech) {
    sheet.heading("Cautions");
    listed(sheet, gathered_warnings(notices, Severity::blocking, speech, detail.warnings), detail.lines,
           {Ink::warn, "■"}, speech);
    listed(sheet, gathered_warnings(notices, Severity::note, speech, detail.warnings), detail.lines,
           {Ink::warn, "▲"}, speech);
}

std::vector<std::string> pages_made(const job::Job& job, const plan::Plan& plan, const SheetOptions& options,
                                    const Notices& notices, const std::vector<CardBlock>& blocks,
                                    const Detail& detail) {
    const LengthUnit unit = options.unit;
    const Speech speech = options.speech();
    Pages sheet(options.paper, title_of(job, plan, options), detail.words);
    if (!options.order.empty()) sheet.sentence(options.order);
    stop_banner(sheet, notices, detail, speech);
    const double most = (sheet.tall() ? 92 : 84) * detail.plan;
    sheet.row({draw_head_plan(job, plan.hold, {sheet.width(), most, unit, Medium::print})});
    hold_views(sheet, job, plan.hold, speech, detail.views);
    hold_table(sheet, job, plan.hold, speech);
    if (plan.hold.posts) sheet.sentence(in_words(posts_on_sheet(*plan.hold.posts), speech), {Ink::line, "•"});
    if (plan.hold.level)
        for (const auto& words : plan.hold.level->words)
            sheet.sentence(in_words(sentence<"level">("words"_is = words), speech), {Ink::touch, "•"});
    sheet.heading("Right before the first cut");
    for (const auto& words : in_words(first_cut_checks(job, plan), speech)) sheet.check(words);
    for (const auto& words : in_words(standing_cautions(), speech)) sheet.sentence(words, {Ink::line, "▲"});
    held_back_on_sheet(sheet, notices.held_back, speech);
    let_pass_on_sheet(sheet, job, speech);
    stood_by_on_sheet(sheet, job, plan.shape.head, speech);
    if (plan.shape.depth.anew) two_ways_on_sheet(sheet, job, *plan.shape.depth.anew, speech);
    restarts_on_sheet(sheet, plan.cut, speech);
    walk_on_sheet(sheet, plan::walk_of(job, plan, plan.shape.head), speech);
    for (const auto& block : blocks) card_on_sheet(sheet, job, block, speech);
    sheet.new_page();
    sheet.sentence(in_words(sentence<"may-stay-off">(), speech));
    cutting_words(sheet, job, plan, speech);
    seat_sections(sheet, job, plan, unit, detail.section);
    if (detail.tables == Tables::open)
        seat_tables(sheet, job, plan, unit);
    else
        tight_seat_table(sheet, job, plan, speech);
    cautions(sheet, notices, detail, speech);
    if (!notices.assumptions.empty()) {
        sheet.heading("This plan assumes");
        listed(sheet, in_words(notices.assumptions, speech), detail.lines, {Ink::faint, "•", true}, speech);
    }
    return sheet.documents();
}

}  // namespace

std::vector<std::string> setup_sheet(const job::Job& job, const plan::Plan& plan,
                                     const SheetOptions& options) {
    const Notices notices = plan.notices_of_head();
    const std::vector<CardBlock> blocks = card_blocks(job, plan);
    double rows = 0;
    for (const auto& block : blocks) rows += rows_a_block + static_cast<double>(block.rows.size());
    const auto allowed = most_pages + static_cast<std::size_t>(rows / rows_a_page);
    std::vector<std::string> pages;
    for (const auto& detail : details) {
        pages = pages_made(job, plan, options, notices, blocks, detail);
        if (pages.size() <= allowed) break;
    }
    return pages;
}

}  // namespace seatwright::papers
