// Pilots on the simulated machine: put in, planted, let into a guide and drawn out of it.
#include "machine.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::sim {

namespace {

constexpr double stands_out = 0.4;  // of a guide's length, a taper in it
constexpr double lost = 0.3;        // a pilot so much smaller than its guide leads nothing

}  // namespace

const PilotSize* Machine::in_tool() const {
    if (!carries()) return nullptr;
    const auto at = left_.pilots.find(c_.offsets ? tool_ : cutter_.value_or(0));
    return at == left_.pilots.end() ? nullptr : c_.pilot(at->second);
}

double Machine::gauge_line() const {
    const PilotSize* pilot = in_tool();
    return c_.gauge_at + (pilot != nullptr ? pilot->longer : 0) - c_.drop;
}

double Machine::locks(const PilotSize& pilot, const Seat& seat) const {
    return (seat.bore - pilot.diameter) / c_.taper;
}

// A taper may stand some way out of its guide, one that slides goes in or does not.
void Machine::goes_into(const PilotSize& pilot, const Seat& seat) {
    const double length = c_.of(seat).guide_length, lock = locks(pilot, seat);
    const double over = seat.bore - pilot.diameter;
    if (c_.way == Way::live ? over < 0 : lock < -stands_out * length)
        wrong("pilot " + pilot.name + " does not go into guide " + seat.id);
    if (c_.way == Way::live ? over > lost : lock > length)
        wrong("pilot " + pilot.name + " does not lead in guide " + seat.id);
}

double Machine::planted_top(const Seat& seat) const {
    const PilotSize* pilot = c_.pilot(left_.planted.at(seat.id));
    return mouth(seat) - (pilot != nullptr ? locks(*pilot, seat) : 0) + c_.above;
}

// "Put pilot two in cutter 1": beside the head, clear of everything. "Planted now: one in 1I, nothing
// elsewhere".
void Machine::take_pilots(const std::string& said) {
    constexpr std::string_view put = "Put pilot ", in = " in cutter ",
                               now = "Planted now: ", start = "Planted before the start: ";
    const std::size_t at = said.find(put), planted = said.find(now), started = said.find(start);
    if (started != std::string::npos) plant(said.substr(started + start.size()));
    if (at == std::string::npos && planted == std::string::npos) return;
    const bool by_hand = said.find("away from the head, by hand") != std::string::npos;
    const bool clear = top_ || (known_ && h_ - below_gauge() > deck_under(at_));
    ++ran_.pilots_put;
    if (!by_hand && (!clear || deck_under(at_) > -top_height)) wrong("pilots are changed over the head");
    if (planted != std::string::npos) return plant(said.substr(planted + now.size()));
    const std::size_t where = said.find(in, at);
    if (where == std::string::npos) return wrong("a pilot is asked for, nobody knows in which cutter");
    const std::string name = said.substr(at + put.size(), where - at - put.size());
    if (c_.pilot(name) == nullptr) wrong("there is no pilot " + name);
    change_pilot(std::atoi(said.c_str() + where + in.size()), name);
}

// Where that takes the cutter off the spindle its Z0 is gone; a length in the control stays with its holder.
void Machine::change_pilot(int cutter, const std::string& name) {
    if (left_.pilots[cutter] != name && c_.cutter_off && !c_.offsets) left_.zeros.erase({setup_.id, cutter});
    left_.pilots[cutter] = name;
}

bool Machine::taken(int cutter, const std::string& on) const {
    const auto at = left_.taken_on.find({setup_.id, cutter});
    return left_.zeros.count({setup_.id, cutter}) != 0 && at != left_.taken_on.end() && at->second == on;
}

void Machine::mount(int cutter) {
    cutter_ = cutter;
    if (c_.offsets) return;
    std::erase_if(left_.zeros, [&](const auto& zero) { return zero.first.second != cutter; });
}

void Machine::plant(const std::string& list) {
    left_.planted.clear();
    std::size_t at = 0;
    for (;;) {
        const std::size_t end = list.find(", ", at), in = list.find(" in ", at);
        if (end == std::string::npos || in == std::string::npos || in > end) break;
        const std::string id = list.substr(in + 4, end - in - 4), name = list.substr(at, in - at);
        if (c_.pilot(name) == nullptr) wrong("there is no pilot " + name);
        left_.planted[id] = name;
        at = end + 2;
    }
    for (const auto& [id, name] : left_.planted)
        if (c_.pilot(name) != nullptr) goes_into(*c_.pilot(name), c_.seat(id));
}

// "For Z0 pilot two in guide 1E, cutter 1": only where Z0 is taken now, not where it was for a file before.
void Machine::take_pilot_for_zero(const std::string& said) {
    constexpr std::string_view asked = "For Z0 ", end = ", cutter ";
    for (std::size_t at = said.find(asked); at != std::string::npos; at = said.find(asked, at + 1)) {
        const std::size_t cutter_at = said.find(end, at);
        if (cutter_at == std::string::npos) return wrong("for which cutter is that pilot");
        const int cutter = std::atoi(said.c_str() + cutter_at + end.size());
        mount(cutter);
        const std::string what = said.substr(at + asked.size(), cutter_at - at - asked.size());
        std::string name;
        const std::size_t in = what.find(" in guide ");
        if (what.rfind("pilot ", 0) == 0 && in != std::string::npos) {
            name = what.substr(6, in - 6);
            const std::string id = what.substr(in + 10);
            if (taken(cutter, id)) continue;
            if (c_.pilot(name) == nullptr) return wrong("there is no pilot " + name);
            goes_into(*c_.pilot(name), c_.seat(id));
            if (c_.way == Way::planted) {
                // Whatever stands elsewhere may stay where the file says it may.
                if (left_.planted.count(id) == 0) left_.planted = {{id, name}};
                continue;
            }
        }
        if (name.empty() && taken(cutter, "the")) continue;
        if (carries()) change_pilot(cutter, name);
    }
}

void Machine::descend_with_pilot(const Seat& seat, double to) {
    const KindData& k = c_.of(seat);
    const double m = mouth(seat), reach = below_gauge(), gauge = gauge_line();
    const PilotSize* pilot = in_tool();
    if (pilot == nullptr) return wrong("no pilot is in the tool at " + seat.id);
    const double tip_from = h_ - reach, tip_to = to - reach;
    if (tip_to >= m) return;
    if (tip_from >= m) leans(seat);
    if (tip_from >= m && 2 * length(place(seat.id) - at_) > k.mouth - c_.tip)
        wrong("the tip strikes the rim of guide " + seat.id);
    const double lock = locks(*pilot, seat);
    goes_into(*pilot, seat);
    const double used_before = c_.way == Way::live ? 0 : std::max(0.0, m - lock - (h_ - gauge));
    const double used = c_.way == Way::live ? 0 : std::max(0.0, m - lock - (to - gauge));
    if (turning_ && c_.way == Way::carried && used_before <= 0)
        wrong("the spindle turns while the pilot goes in at " + seat.id);
    if (turning_ && tip_from >= m) wrong("the pilot enters guide " + seat.id + " turning");
    if (!turning_ && commanded() && !free_) wrong("the pilot goes in at " + seat.id + " with the float held");
    if (feed_ > slow) wrong("the pilot goes in fast at " + seat.id);
    if (used > c_.slide) wrong("the slide is driven solid at " + seat.id);
    const double tip = tip_to + used;
    if (m - k.guide_length - tip > k.below) wrong("the tip strikes what is below guide " + seat.id);
    if (turning_ && std::min(k.guide_length, m - tip) < 0.6 * k.guide_length)
        wrong("too little of the pilot is in guide " + seat.id);
}

void Machine::descend_over_planted(const Seat& seat, double to) {
    const auto stands = left_.planted.find(seat.id);
    const auto wanted = wanted_.find(seat.id);
    if (stands == left_.planted.end()) return wrong("no pilot is planted in " + seat.id);
    if (wanted == wanted_.end() || wanted->second != stands->second)
        wrong("seat " + seat.id + " is reached over pilot " + stands->second);
    const double swallowed = planted_top(seat) - (to - c_.lowest);
    if (swallowed > c_.bore_depth) wrong("the tool does not swallow the pilot planted in " + seat.id);
    if (swallowed > 0 && feed_ > slow) wrong("comes fast over the pilot planted in " + seat.id);
    for (const auto& [id, name] : left_.planted) {
        if (id == seat.id || planted_top(c_.seat(id)) < to - c_.lowest) continue;
        if (length(place(id) - at_) < 0.5 * (c_.body + c_.pilot(name)->diameter))
            wrong("the cutter strikes the pilot planted in " + id);
    }
}

}  // namespace seatwright::sim
