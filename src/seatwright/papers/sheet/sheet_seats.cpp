#include "seatwright/papers/sheet/sheet_seats.hpp"

#include <fmt/format.h>

#include <cmath>

#include "seatwright/papers/sheet/seat_lines.hpp"
#include "seatwright/papers/sheet/sheet_section.hpp"
#include "seatwright/papers/sheet/sheet_words.hpp"
#include "seatwright/report/attitude.hpp"
#include "seatwright/report/head_time.hpp"
#include "seatwright/report/said_figures.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

PaperTable empty_table(const job::Job& job, LengthUnit unit) {
    const std::string u = unit_name(unit);
    return {{{"guide", Anchor::start},
             {"X " + u},
             {"Y " + u},
             {"Z " + u},
             {"pilot", Anchor::start},
             {"enters"},
             {"depth " + u},
             {z_heading(job.depth.from) + " " + u},
             {"rpm"},
             {"feed " + u + "/turn"},
             {"dwell turns"}},
            {}};
}

std::string guide_words(const SeatLine& line) {
    return line.id + (line.datum ? " (datum)" : "") + (line.suspect ? " suspect" : "");
}

void add_rows(PaperTable& table, const job::Job& job, const plan::Plan& plan, const hold::Setup& setup,
              LengthUnit unit) {
    for (const auto& line : seat_lines(job, plan, setup))
        table.rows.push_back({guide_words(line), length(line.at.x(), unit), length(line.at.y(), unit),
                              length(line.z, unit), pilot_words(job, line), percent(line.enters),
                              depth_words(line, unit), z_words(line, job.depth.from, unit),
                              line.cut ? fmt::format("{:.0f}", line.cut->rpm) : "–",
                              line.cut ? length(line.cut->feed, unit) : "–",
                              line.cut ? fmt::format("{:.1f}", line.cut->dwell_turns) : "–"});
}

// The first seat of a kind that is planned stands for all of them.
const shape::Seat* seat_of_kind(const job::Job& job, const plan::Plan& plan, job::Kind kind) {
    for (const auto& seat : plan.shape.seats)
        if (job.head.valves[seat.valve].kind == kind && seat.section.points.size() >= 2) return &seat;
    return nullptr;
}

}  // namespace

void seat_tables(Pages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    // Many setups of a few guides each share one table, every setup from its own datum.
    constexpr std::size_t own_tables = 2;
    if (plan.hold.setups.size() > own_tables) {
        PaperTable table = empty_table(job, unit);
        for (const auto& setup : plan.hold.setups) {
            const std::size_t first = table.rows.size();
            add_rows(table, job, plan, setup, unit);
            for (std::size_t r = first; r < table.rows.size(); ++r)
                table.rows[r].insert(table.rows[r].begin(), setup.id);
        }
        table.columns.insert(table.columns.begin(), {"setup", Anchor::start});
        sheet.table("Map, each setup from its own datum, " + map_source(plan), table);
        return;
    }
    for (const auto& setup : plan.hold.setups) {
        PaperTable table = empty_table(job, unit);
        add_rows(table, job, plan, setup, unit);
        sheet.table(
            fmt::format("Setup {}, {}: map {}", setup.id, attitude_words(setup), map_source(plan, setup)),
            table);
    }
}

void seat_sections(Pages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit,
                   double height) {
    std::vector<Drawing> drawings;
    for (const auto kind : job::both_kinds)
        if (const auto* seat = seat_of_kind(job, plan, kind))
            drawings.push_back(draw_seat_form(job, *seat, {(sheet.width() - 2) / 2, height, unit}));
    if (drawings.empty()) return;
    sheet.gap(2);
    sheet.row(drawings);
}

void cutting_words(Pages& sheet, const job::Job& job, const plan::Plan& plan, const Speech& speech) {
    if (plan.cut.order.empty()) return;
    sheet.heading("Order of work");
    const auto say = [&](const Sentence& words) {
        sheet.sentence(in_words(words, speech), {Ink::line, "•"});
    };
    for (const auto& tool : plan.cut.tools)
        say(sentence<"blade-set">("tool"_is = tool.number, "cutter"_is = job.cutters[tool.cutter].name,
                                  "setting"_is = length_said(tool.blade_setting)));
    std::vector<std::string> ids;
    for (const auto v : plan.cut.order) ids.push_back(job.head.valves[v].id);
    const auto seats = "seats"_is = list_of(ids, Join::commas);
    const auto min = "min"_is = as_number(std::ceil(plan.cut.seconds_head / 60));
    const auto halts = "halts"_is = plan.cut.halts_head;
    const std::size_t left = head_time(plan.cut).in_no_file;
    say(left == 0 ? sentence<"seats-in-order">(seats, min, halts)
                  : sentence<"seats-in-order-of-some">(seats, min, halts, "left"_is = left));
    for (const auto& words : program_words(plan.cut)) say(words);
}

}  // namespace seatwright::papers
