#include "server/answers/drawings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/drawings/draw_charts.hpp"
#include "seatwright/papers/drawings/draw_chatter.hpp"
#include "seatwright/papers/drawings/draw_depths.hpp"
#include "seatwright/papers/drawings/draw_find.hpp"
#include "seatwright/papers/drawings/draw_head.hpp"
#include "seatwright/papers/drawings/draw_hold.hpp"
#include "seatwright/papers/drawings/draw_path.hpp"
#include "seatwright/papers/drawings/draw_section.hpp"
#include "seatwright/papers/drawings/draw_trace.hpp"
#include "seatwright/papers/drawings/draw_verdict_map.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using papers::Drawing;

struct Row {
    DrawingName name;
    Stage needs;
    std::function<Drawing(Computation&, const DrawingQuery&)> draw;
};

// The item with that id, or the first when none is named. Throws HttpError.
template <class List>
const auto& of_setup(const List& list, const std::string& id, std::string List::value_type::*name) {
    if (list.empty()) throw http_error(422, "there is nothing to draw yet");
    if (id.empty()) return list.front();
    const auto at =
        std::find_if(list.begin(), list.end(), [&](const auto& item) { return item.*name == id; });
    if (at == list.end()) throw http_error(404, "there is no setup of that name");
    return *at;
}

Drawing plan_drawing(Computation& c, const DrawingQuery& q) {
    papers::HeadView view;
    view.unit = q.unit;
    return papers::draw_head_plan(c.job(), c.hold(), view);
}

Drawing held(Computation& c, const DrawingQuery& q, papers::Seen seen) {
    papers::HoldView view;
    view.seen = seen;
    view.unit = q.unit;
    const auto& setups = c.hold().setups;
    const auto& setup = of_setup(setups, q.setup, &hold::Setup::id);
    return papers::draw_hold(c.job(), c.hold(), static_cast<std::size_t>(&setup - setups.data()), view);
}

// The head asked for, else the last on record.
const find::FoundHead& head_found(Computation& c) {
    const auto& heads = c.find().heads;
    if (heads.empty()) throw http_error(422, "no head has been touched yet");
    const auto at = std::find_if(heads.begin(), heads.end(),
                                 [&](const auto& found) { return found.head == c.asked_head(); });
    return at == heads.end() ? heads.back() : *at;
}

Drawing map(Computation& c, const DrawingQuery& q) {
    return papers::draw_find(c.job(), of_setup(head_found(c).setups, q.setup, &find::FoundSetup::id));
}

// The seat of the valve asked for; without one the first of the kind asked for, or the first of all.
const shape::Seat& seat_of(Computation& c, const DrawingQuery& q) {
    const auto& seats = c.shape().seats;
    const auto fits = [&](const shape::Seat& seat) {
        const auto& valve = c.job().head.valves[seat.valve];
        if (!q.valve.empty()) return valve.id == q.valve;
        return q.kind.empty() || q.kind == (job::kind_word(valve.kind));
    };
    const auto at = std::find_if(seats.begin(), seats.end(), fits);
    if (at == seats.end()) throw http_error(404, "there is no seat of that name");
    return *at;
}

Drawing section(Computation& c, const DrawingQuery& q) {
    papers::SectionStyle style;
    style.unit = q.unit;
    return papers::draw_section(c.job(), seat_of(c, q), style);
}

Drawing form(Computation& c, const DrawingQuery& q) {
    papers::SectionStyle style;
    style.unit = q.unit;
    const auto drawn =
        papers::draw_form_to_order(c.job(), c.job().head.valves[seat_of(c, q).valve].kind, style);
    if (!drawn) throw http_error(422, "the form of this seat is not known");
    return *drawn;
}

Drawing depths(Computation& c, const DrawingQuery& q) {
    papers::DepthsStyle style;
    style.unit = q.unit;
    return papers::draw_depths(c.job(), c.shape(), style);
}

Drawing chatter(Computation& c, const DrawingQuery& q) {
    const cut::Cut& cut = c.cut();
    if (cut.charts.empty()) throw http_error(422, "there is nothing to draw yet");
    return papers::draw_chatter(cut.charts, cut.calm_rpm, q.unit);
}

Drawing path(Computation& c, const DrawingQuery& q) {
    const auto& setups = c.hold().setups;
    const auto& setup = of_setup(setups, q.setup, &hold::Setup::id);
    const cut::Route route =
        cut::whole_setup(c.cut().routes, static_cast<std::size_t>(&setup - setups.data()));
    if (route.stops.empty()) throw http_error(422, "there is nothing to draw yet");
    return papers::draw_path(c.job(), setup.id, route, q.unit);
}

// The seat asked for on the head asked for, else the last one measured.
const prove::SeatProof& proof_of(Computation& c, const DrawingQuery& q) {
    const auto& seats = c.proof().seats;
    if (seats.empty()) throw http_error(422, "nothing has been measured yet");
    if (q.valve.empty()) return seats.back();
    const auto named = [&](const prove::SeatProof& seat) {
        return c.job().head.valves[seat.valve].id == q.valve;
    };
    const auto at = std::find_if(seats.rbegin(), seats.rend(), named);
    if (at == seats.rend()) throw http_error(404, "that seat has not been measured");
    return *at;
}

Drawing trace(Computation& c, const DrawingQuery& q) {
    papers::TraceView view;
    view.unit = q.unit;
    return papers::draw_trace(c.job(), proof_of(c, q), view);
}

Drawing harmonics(Computation& c, const DrawingQuery& q) {
    constexpr double width = 120;
    return papers::draw_harmonics(c.job(), proof_of(c, q), width, q.unit);
}

Drawing chart(Computation& c, const DrawingQuery& q) {
    constexpr double width = 180;
    for (const auto& series : c.proof().batch) {
        const bool kind = q.kind.empty() || q.kind == (job::kind_word(series.kind));
        if (kind && (q.what.empty() || q.what == series.what))
            return papers::draw_chart(series, width, q.unit);
    }
    throw http_error(422, "there are no charts of that yet");
}

Drawing verdicts(Computation& c, const DrawingQuery&) {
    constexpr double width = 180;
    const auto& seats = c.proof().seats;
    if (seats.empty()) throw http_error(422, "nothing has been measured yet");
    return papers::draw_verdict_map(c.job(), c.proof(), seats.back().head, {width, papers::Medium::screen});
}

const std::vector<Row>& table() {
    static const std::vector<Row> entries{
        {{"plan", "hold", "The head, square to its deck", {}}, Stage::hold, plan_drawing},
        {{"end", "hold", "The head in its fixture, from the end", {"setup", "tilt_deg", "swing_deg"}},
         Stage::hold,
         [](Computation& c, const DrawingQuery& q) { return held(c, q, papers::Seen::from_end); }},
        {{"side", "hold", "The head in its fixture, from the front", {"setup", "tilt_deg", "swing_deg"}},
         Stage::hold,
         [](Computation& c, const DrawingQuery& q) { return held(c, q, papers::Seen::from_front); }},
        {{"map", "find", "Every guide in readout coordinates", {"setup"}}, Stage::find, map},
        {{"section", "shape", "A seat in section", {"valve", "kind"}}, Stage::shape, section},
        {{"form", "shape", "The form, dimensioned for ordering a cutter", {"valve", "kind"}},
         Stage::shape,
         form},
        {{"depths", "shape", "Depth of every seat", {}}, Stage::shape, depths},
        {{"chatter", "cut", "Steady width over speed", {}}, Stage::cut, chatter},
        {{"path", "cut", "The way of the tool", {"setup"}}, Stage::cut, path},
        {{"trace", "prove", "Runout trace of a seat", {"valve"}}, Stage::prove, trace},
        {{"harmonics", "prove", "What the trace is made of", {"valve"}}, Stage::prove, harmonics},
        {{"chart", "prove", "Control chart over the heads", {"kind", "what"}}, Stage::prove, chart},
        {{"verdicts", "prove", "Verdicts on the head", {}}, Stage::prove, verdicts},
    };
    return entries;
}

}  // namespace

std::string DrawingQuery::key() const {
    return fmt::format("{}/{}/{}/{}/{}", setup, kind, valve, what, unit == LengthUnit::inch ? "in" : "mm");
}

const std::vector<DrawingName>& drawing_names() {
    static const std::vector<DrawingName> names = [] {
        std::vector<DrawingName> all;
        for (const auto& entry : table()) all.push_back(entry.name);
        return all;
    }();
    return names;
}

DrawingQuery only_taken(const std::string& name, DrawingQuery query) {
    const auto& names = drawing_names();
    const auto at =
        std::find_if(names.begin(), names.end(), [&](const auto& one) { return one.name == name; });
    if (at == names.end()) throw http_error(404, "there is no drawing of that name");
    const auto takes = [&](const char* what) {
        return std::find(at->takes.begin(), at->takes.end(), what) != at->takes.end();
    };
    if (!takes("setup")) query.setup.clear();
    if (!takes("kind")) query.kind.clear();
    if (!takes("valve")) query.valve.clear();
    if (!takes("what")) query.what.clear();
    return query;
}

std::vector<DrawingName> drawings_of(Computation& computation) {
    std::vector<DrawingName> possible;
    for (const auto& entry : table())
        if (computation.needs(entry.needs).empty()) possible.push_back(entry.name);
    return possible;
}

papers::Drawing draw(Computation& computation, const std::string& name, const DrawingQuery& query) {
    for (const auto& entry : table())
        if (entry.name.name == name) return entry.draw(computation, query);
    throw http_error(404, "there is no drawing of that name");
}

}  // namespace seatwright::server
