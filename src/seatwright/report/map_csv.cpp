#include "seatwright/report/map_csv.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace seatwright::report {

namespace {

// A tenth of a micrometre, and as fine in inches.
std::string mm(std::optional<double> value) {
    return value ? fmt::format("{:.4f}", *value + 0.0) : "";
}
std::string inch(std::optional<double> value) {
    return value ? fmt::format("{:.6f}", *value / mm_per_inch + 0.0) : "";
}

std::string row_of(const std::vector<std::string>& cells) {
    std::string row;
    for (const auto& c : cells) row += (row.empty() && &c == &cells.front() ? "" : ",") + csv_cell(c);
    return row + "\n";
}

struct Planned {
    const cut::Stop* stop = nullptr;
    const cut::SeatCut* seat = nullptr;
    std::size_t order = 0;
    bool found = false;
};

Planned planned(const cut::Cut& cut, std::size_t valve) {
    Planned out;
    for (const auto& seat : cut.seats)
        if (seat.valve == valve) out.seat = &seat;
    const auto place = std::find(cut.order.begin(), cut.order.end(), valve);
    for (const cut::Route& route : cut.routes)
        for (const cut::Stop& stop : route.stops)
            if (stop.valve == valve) {
                out.stop = &stop;
                out.order = static_cast<std::size_t>(place - cut.order.begin()) + 1;
                out.found = route.from_touches;
            }
    return out;
}

}  // namespace

std::string map_csv(const job::Job& job, const hold::Setup& setup, const cut::Cut& cut) {
    const bool inches = job.units == LengthUnit::inch;
    std::vector<std::string> heading{"order",        "valve",
                                     "kind",         "x_mm",
                                     "y_mm",         "z_mm",
                                     "program_x_mm", "program_y_mm",
                                     "program_z_mm", "positions",
                                     "cutter",       "blade_setting_mm",
                                     "rpm",          "feed_mm_per_turn",
                                     "dwell_turns"};
    if (inches)
        heading.insert(heading.end(),
                       {"x_in", "y_in", "z_in", "program_x_in", "program_y_in", "program_z_in"});
    // Whose map it is and of which plan: the mark on the sheet and in the files.
    heading.insert(heading.end(), {"head", "plan"});
    const std::string head = cut.routes.empty() ? "" : cut.routes.front().head;
    const std::string plan = cut.routes.empty() ? "" : cut.routes.front().digest;
    std::string out = row_of(heading);
    for (const auto& held : setup.valves) {
        const job::Valve& valve = job.head.valves[held.valve];
        const Planned p = planned(cut, held.valve);
        std::optional<double> x, y, z;
        if (p.stop) x = p.stop->at.x(), y = p.stop->at.y(), z = job.machine.z_sign * p.stop->z;
        std::vector<std::string> cells{p.stop ? std::to_string(p.order) : "",
                                       valve.id,
                                       job::kind_word(valve.kind),
                                       mm(held.readout.x()),
                                       mm(held.readout.y()),
                                       mm(held.map.z()),
                                       mm(x),
                                       mm(y),
                                       mm(z),
                                       p.stop ? (p.found ? "found" : "map") : "",
                                       p.stop ? job.cutters[p.stop->tool.cutter].name : "",
                                       p.stop ? mm(p.stop->tool.blade_setting) : "",
                                       p.seat ? fmt::format("{:g}", p.seat->rpm) : "",
                                       p.seat ? fmt::format("{:.4f}", p.seat->feed) : "",
                                       p.seat ? fmt::format("{:g}", p.seat->dwell_turns) : ""};
        if (inches)
            for (const auto& value :
                 {std::optional<double>(held.readout.x()), std::optional<double>(held.readout.y()),
                  std::optional<double>(held.map.z()), x, y, z})
                cells.push_back(inch(value));
        cells.push_back(head);
        cells.push_back(plan);
        out += row_of(cells);
    }
    return out;
}

}  // namespace seatwright::report
