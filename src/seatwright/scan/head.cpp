#include "seatwright/scan/head.hpp"

#include "seatwright/drawing/told.hpp"

namespace seatwright::scan {
namespace {

std::vector<survey::Repeat> repeats_of(const Scan& scan) {
    drawing::Drawing as_drawn;
    as_drawn.cylinders = scan.cylinders;
    for (const auto& v : scan.valves) {
        drawing::Valve d;
        d.id = v.id;
        d.cylinder = v.cylinder;
        d.x = v.x;
        d.y = v.y;
        as_drawn.valves.push_back(std::move(d));
        as_drawn.u_place = std::max({as_drawn.u_place, v.x.u, v.y.u});
    }
    for (const auto& h : scan.holes) {
        drawing::Hole d;
        d.x = h.x;
        d.y = h.y;
        d.kind = h.kind;
        as_drawn.holes.push_back(d);
    }
    return drawing::repeats_of(as_drawn);
}

}  // namespace

bool make_head(const Found& found, const Told& told, Scan& out, Head& head) {
    const Plan plan = plan_of(found);
    const auto& sorted = plan.sorted;
    head.grooves = sorted.grooves.size();
    head.strays = found.part.size() - sorted.part;
    head.row_shown = plan.layout.row_shown;
    if (sorted.guides.empty() && sorted.short_guides.empty() && sorted.holes.empty()) return false;
    Frame frame(plan, told.end_for_end);
    out.cylinders = static_cast<int>(frame.cylinders().size());
    out.placed_by = frame.of(found.pose);
    make_valves(plan, frame, out, head);
    make_holes(plan, frame, out, head);
    make_chambers(found, frame, out);
    for (const auto* b : sorted.grooves) out.not_taken.push_back(frame.of(b->fit.cylinder));
    if (!out.valves.empty() && out.not_seen.empty()) out.repeats = repeats_of(out);
    return true;
}

}  // namespace seatwright::scan
