#include "seatwright/papers/sheet.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/version.hpp"
#include "seatwright/papers/draw_head.hpp"
#include "seatwright/papers/draw_hold.hpp"
#include "seatwright/papers/sheet_page.hpp"
#include "seatwright/papers/sheet_seats.hpp"
#include "seatwright/papers/sheet_words.hpp"
#include "seatwright/papers/show.hpp"

namespace seatwright::papers {

namespace {

// At most this many setups are drawn side by side; more go on in further rows.
constexpr std::size_t views_in_a_row = 4;
constexpr double between_views = 2;

SheetTitle title_of(const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    SheetTitle title;
    title.title = (job.title.empty() ? job.head.name : job.title) + ": setup sheet";
    std::vector<std::string> parts;
    const auto add = [&](const std::string& what) {
        if (!what.empty()) parts.push_back(what);
    };
    add(job.head.name);
    add(job.head.material);
    if (job.head.mass) add(mass_on_sheet(*job.head.mass, unit));
    if (!job.fixture.name.empty()) add("in " + job.fixture.name);
    if (!job.machine.name.empty()) add("on " + job.machine.name);
    add("head " + plan.shape.head);
    title.detail = fmt::format("{}", fmt::join(parts, " · "));
    title.footer = fmt::format("{} · lengths in {} · Seatwright {}", job.file,
                               unit == LengthUnit::inch ? "inches" : "millimetres", version);
    return title;
}

void hold_views(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    const std::size_t setups = plan.hold.setups.size();
    if (setups == 0) return;
    const auto swung = [](const hold::Setup& s) { return std::abs(s.swing) > 1e-4; };
    const bool front = std::any_of(plan.hold.setups.begin(), plan.hold.setups.end(), swung);
    const auto row_of = [&](std::size_t most, double high, Seen seen) {
        const auto across = static_cast<double>(most);
        const double wide = (sheet.width() - between_views * (across - 1)) / across;
        for (std::size_t from = 0; from < setups; from += most) {
            std::vector<Drawing> row;
            for (std::size_t s = from; s < std::min(setups, from + most); ++s)
                row.push_back(draw_hold(job, plan.hold, s, {wide, high, seen, unit}));
            sheet.row(row, between_views);
        }
    };
    if (setups == 1) {  // room for both views beside each other
        const double wide = (sheet.width() - between_views) / 2;
        sheet.row({draw_hold(job, plan.hold, 0, {wide, 66, Seen::from_end, unit}),
                   draw_hold(job, plan.hold, 0, {wide, 66, Seen::from_front, unit})},
                  between_views);
        return;
    }
    row_of(std::clamp<std::size_t>(setups, 2, views_in_a_row), setups > 2 ? 52 : 64, Seen::from_end);
    if (front) row_of(2, sheet.tall() ? 44 : 38, Seen::from_front);
}

void hold_table(SheetPages& sheet, const job::Job& job, const hold::Hold& hold, LengthUnit unit) {
    SheetTable table;
    table.columns = {{"setup", Anchor::start},
                     {"tilt °"},
                     {"swing °"},
                     {"plumb within °"},
                     {"guides"},
                     {"datum", Anchor::start},
                     {fmt::format("spare X {}", unit_name(unit))},
                     {fmt::format("spare Y {}", unit_name(unit))},
                     {"deck slope °"},
                     {"slip factor"},
                     {"when released", Anchor::start}};
    for (const auto& setup : hold.setups)
        table.rows.push_back({setup.id, angle(setup.tilt), angle(setup.swing),
                              angle(setup.worst_plumb_error, 3), std::to_string(setup.valves.size()),
                              job.head.valves[setup.datum].id, length(setup.travel_margin[0], unit),
                              length(setup.travel_margin[1], unit), angle(setup.safety.slope),
                              slip_on_sheet(setup.safety), release_on_sheet(setup.safety)});
    sheet.table(table);
}

// Under the title: whoever takes the sheet in hand sees first that it must not be run as it is.
void stop_banner(SheetPages& sheet, const Notices& notices) {
    constexpr std::size_t shown = 3;
    const auto stops = gathered_warnings(notices, Weight::blocking);
    if (stops.empty()) return;
    sheet.sentence("STOP: this plan cannot be carried out as asked.", {Ink::warn, "■"});
    for (std::size_t k = 0; k < std::min(shown, stops.size()); ++k)
        sheet.sentence(stops[k], {Ink::warn, "■"});
    if (stops.size() > shown)
        sheet.sentence(fmt::format("and {} more under Cautions.", stops.size() - shown), {Ink::warn, "■"});
    sheet.gap(2);
}

void cautions(SheetPages& sheet, const Notices& notices) {
    sheet.heading("Cautions");
    for (const auto& words : gathered_warnings(notices, Weight::blocking))
        sheet.sentence(words, {Ink::warn, "■"});
    for (const auto& words : gathered_warnings(notices, Weight::note))
        sheet.sentence(words, {Ink::warn, "▲"});
    for (const auto& words : standing_cautions()) sheet.sentence(words, {Ink::line, "▲"});
}

}  // namespace

std::vector<std::string> setup_sheet(const job::Job& job, const plan::Plan& plan,
                                     const SheetOptions& options) {
    const LengthUnit unit = options.unit;
    const Notices notices = plan.notices();
    SheetPages sheet(options.paper, title_of(job, plan, unit));
    stop_banner(sheet, notices);
    const double most = sheet.tall() ? 92 : 84;
    sheet.row({draw_head_plan(job, plan.hold, {sheet.width(), most, unit})});
    hold_views(sheet, job, plan, unit);
    hold_table(sheet, job, plan.hold, unit);
    if (plan.hold.posts) sheet.sentence(posts_on_sheet(*plan.hold.posts, unit), {Ink::line, "•"});
    if (plan.hold.level)
        for (const auto& words : plan.hold.level->words)
            sheet.sentence("Level: " + words + ".", {Ink::touch, "•"});
    seat_tables(sheet, job, plan, unit);
    seat_sections(sheet, job, plan, unit);
    cutting_words(sheet, job, plan, unit);
    sheet.heading("Before the first cut");
    for (const auto& words : first_cut_checks(job, plan, unit)) sheet.check(words);
    cautions(sheet, notices);
    if (!notices.assumptions.empty()) {
        sheet.heading("This plan assumes");
        for (const auto& words : notices.assumptions) sheet.sentence(words, {Ink::faint, "•", true});
    }
    return sheet.documents();
}

}  // namespace seatwright::papers
