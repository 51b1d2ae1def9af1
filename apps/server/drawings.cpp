#include "drawings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "seatwright/papers/draw_chatter.hpp"
#include "seatwright/papers/draw_find.hpp"
#include "seatwright/papers/draw_head.hpp"
#include "seatwright/papers/draw_hold.hpp"
#include "seatwright/papers/draw_path.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using papers::Drawing;

struct Entry {
    DrawingName name;
    Stage needs;
    std::function<Drawing(Computation&, const DrawingQuery&)> draw;
};

// The item with that id, or the first when none is named. Throws Halt.
template <class List>
const auto& of_setup(const List& list, const std::string& id, std::string List::value_type::*name) {
    if (list.empty()) throw halt(422, "there is nothing to draw yet");
    if (id.empty()) return list.front();
    const auto at = std::find_if(list.begin(), list.end(), [&](const auto& item) { return item.*name == id; });
    if (at == list.end()) throw halt(404, "there is no setup of that name");
    return *at;
}

Drawing plan(Computation& c, const DrawingQuery& q) {
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
    if (heads.empty()) throw halt(422, "no head has been touched yet");
    const auto at = std::find_if(heads.begin(), heads.end(), [&](const auto& found) { return found.head == c.head(); });
    return at == heads.end() ? heads.back() : *at;
}

Drawing map(Computation& c, const DrawingQuery& q) {
    return papers::draw_find(c.job(), of_setup(head_found(c).setups, q.setup, &find::FoundSetup::id));
}

Drawing path(Computation& c, const DrawingQuery& q) {
    return papers::draw_path(c.job(), of_setup(c.cut().programs, q.setup, &cut::Program::setup), q.unit);
}

const std::vector<Entry>& table() {
    static const std::vector<Entry> entries{
        {{"plan", "hold", "The head, square to its deck", {}}, Stage::hold, plan},
        {{"end", "hold", "The head in its fixture, from the end", {"setup", "tilt_deg", "swing_deg"}},
         Stage::hold,
         [](Computation& c, const DrawingQuery& q) { return held(c, q, papers::Seen::from_end); }},
        {{"side", "hold", "The head in its fixture, from the front", {"setup", "tilt_deg", "swing_deg"}},
         Stage::hold,
         [](Computation& c, const DrawingQuery& q) { return held(c, q, papers::Seen::from_front); }},
        {{"map", "find", "Every guide in readout coordinates", {"setup"}}, Stage::find, map},
        {{"path", "cut", "The way of the tool", {"setup"}}, Stage::cut, path},
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

std::vector<DrawingName> drawings_of(Computation& computation) {
    std::vector<DrawingName> possible;
    for (const auto& entry : table())
        if (computation.needs(entry.needs).empty()) possible.push_back(entry.name);
    return possible;
}

papers::Drawing draw(Computation& computation, const std::string& name, const DrawingQuery& query) {
    for (const auto& entry : table())
        if (entry.name.name == name) return entry.draw(computation, query);
    throw halt(404, "there is no drawing of that name");
}

}  // namespace seatwright::server
