#include "seatwright/papers/sheet_seats.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "seatwright/papers/sheet_section.hpp"
#include "seatwright/papers/show.hpp"

namespace seatwright::papers {

namespace {

const find::FoundHead* found_head(const plan::Plan& plan) {
    const auto& heads = plan.find.heads;
    const auto at =
        std::find_if(heads.begin(), heads.end(), [&](const auto& h) { return h.head == plan.shape.head; });
    if (at != heads.end()) return &*at;
    return heads.empty() ? nullptr : &heads.back();
}

template <class T>
const T* of_valve(const std::vector<T>& all, std::size_t valve) {
    const auto at = std::find_if(all.begin(), all.end(), [&](const T& t) { return t.valve == valve; });
    return at == all.end() ? nullptr : &*at;
}

const find::FoundSetup* found_setup(const find::FoundHead* head, const std::string& id) {
    if (!head) return nullptr;
    const auto at =
        std::find_if(head->setups.begin(), head->setups.end(), [&](const auto& s) { return s.id == id; });
    return at == head->setups.end() ? nullptr : &*at;
}

std::string z_words(job::DepthFrom from) {
    switch (from) {
        case job::DepthFrom::deck:
            return "Z from deck";
        case job::DepthFrom::datum:
            return "Z at depth";
        case job::DepthFrom::touch:
            break;
    }
    return "Z from touch";
}

std::string depth_words(const shape::Seat* seat, LengthUnit unit) {
    if (!seat) return "–";
    if (seat->decision == shape::Decision::insert) return "INSERT";
    if (seat->decision == shape::Decision::not_allowed) return "do not cut";
    return length(seat->depth, unit);
}

bool any_touched(const find::FoundSetup* found) {
    return found &&
           std::any_of(found->guides.begin(), found->guides.end(), [](const auto& g) { return g.touched; });
}

SheetTable empty_table(const job::Job& job, LengthUnit unit) {
    const std::string u = unit_name(unit);
    return {{{"guide", Anchor::start},
             {"X " + u},
             {"Y " + u},
             {"Z " + u},
             {"pilot", Anchor::start},
             {"enters"},
             {"depth " + u},
             {z_words(job.depth.from) + " " + u},
             {"rpm"},
             {"feed " + u + "/turn"},
             {"dwell turns"}},
            {}};
}

std::string guide_words(const job::Job& job, const hold::Setup& setup, const hold::Held& held,
                        const find::FoundGuide* guide) {
    std::string words = job.head.valves[held.valve].id;
    if (held.valve == setup.datum) words += " (datum)";
    if (guide && guide->suspect) words += " suspect";
    return words;
}

std::string pilot_words(const job::Job& job, const find::PilotChoice* choice) {
    if (!choice) return "–";
    if (choice->repair) return "REPAIR GUIDE";
    return choice->pilot ? job.pilots[*choice->pilot].name : "–";
}

void add_rows(SheetTable& table, const job::Job& job, const plan::Plan& plan, const hold::Setup& setup,
              LengthUnit unit) {
    const auto* head = found_head(plan);
    const auto* found = found_setup(head, setup.id);
    const auto& pilots = head && !head->pilots.empty() ? head->pilots : plan.find.pilots;
    for (const auto& held : setup.valves) {
        const auto* guide = found ? of_valve(found->guides, held.valve) : nullptr;
        const auto* seat = of_valve(plan.shape.seats, held.valve);
        const auto* cut = of_valve(plan.cut.seats, held.valve);
        const Vec2 at = guide && any_touched(found) ? guide->programmed : held.readout;
        table.rows.push_back(
            {guide_words(job, setup, held, guide), length(at.x(), unit), length(at.y(), unit),
             length(held.map.z(), unit), pilot_words(job, of_valve(pilots, held.valve)),
             guide ? percent(guide->enter_probability) : "–", depth_words(seat, unit),
             seat && seat->decision == shape::Decision::cut ? length(seat->z, unit) : "–",
             cut ? fmt::format("{:.0f}", cut->rpm) : "–", cut ? length(cut->feed, unit) : "–",
             cut ? fmt::format("{:.1f}", cut->dwell_turns) : "–"});
    }
}

// The first seat of a kind that is planned stands for all of them.
const shape::Seat* seat_of_kind(const job::Job& job, const plan::Plan& plan, job::Kind kind) {
    for (const auto& seat : plan.shape.seats)
        if (job.head.valves[seat.valve].kind == kind && seat.section.points.size() >= 2) return &seat;
    return nullptr;
}

}  // namespace

void seat_tables(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    const auto* head = found_head(plan);
    const auto source = [&](const hold::Setup& setup) {
        return any_touched(found_setup(head, setup.id)) ? "as found on head " + head->head
                                                        : std::string("from the drawing, no guide touched");
    };
    // Many setups of a few guides each share one table, every setup from its own datum.
    constexpr std::size_t own_tables = 2;
    if (plan.hold.setups.size() > own_tables) {
        SheetTable table = empty_table(job, unit);
        for (const auto& setup : plan.hold.setups) {
            const std::size_t first = table.rows.size();
            add_rows(table, job, plan, setup, unit);
            for (std::size_t r = first; r < table.rows.size(); ++r)
                table.rows[r].insert(table.rows[r].begin(), setup.id);
        }
        table.columns.insert(table.columns.begin(), {"setup", Anchor::start});
        sheet.table(fmt::format("Map, each setup from its own datum, {}", source(plan.hold.setups.front())),
                    table);
        return;
    }
    for (const auto& setup : plan.hold.setups) {
        SheetTable table = empty_table(job, unit);
        add_rows(table, job, plan, setup, unit);
        sheet.table(fmt::format("Setup {}, tilt {}°{}: map {}", setup.id, angle(setup.tilt),
                                std::abs(setup.swing) > 1e-4 ? fmt::format(" swing {}°", angle(setup.swing))
                                                             : std::string(),
                                source(setup)),
                    table);
    }
}

void seat_sections(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    std::vector<Drawing> drawings;
    for (const auto kind : job::both_kinds)
        if (const auto* seat = seat_of_kind(job, plan, kind))
            drawings.push_back(draw_seat_form(job, *seat, {(sheet.width() - 2) / 2, 56, unit}));
    if (drawings.empty()) return;
    sheet.gap(2);
    sheet.row(drawings);
}

void cutting_words(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    if (plan.cut.order.empty()) return;
    sheet.heading("Order of work");
    for (const auto& tool : plan.cut.tools)
        sheet.sentence(fmt::format("T{}: {}, blade set to {} diameter.", tool.number,
                                   job.cutters[tool.cutter].name, length_with_unit(tool.blade_setting, unit)),
                       {Ink::line, "•"});
    std::vector<std::string> ids;
    for (const auto v : plan.cut.order) ids.push_back(job.head.valves[v].id);
    sheet.sentence(fmt::format("Seats in order: {}. About {:.0f} min a head.", fmt::join(ids, ", "),
                               std::ceil(plan.cut.seconds_head / 60)),
                   {Ink::line, "•"});
    for (const auto& program : plan.cut.programs)
        sheet.sentence(fmt::format("Setup {}: {}, {} lines, read back and checked.", program.setup,
                                   program.file, program.lines),
                       {Ink::line, "•"});
}

}  // namespace seatwright::papers
