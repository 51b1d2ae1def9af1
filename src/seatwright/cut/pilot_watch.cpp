#include "seatwright/cut/pilot_watch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback_words.hpp"

namespace seatwright::cut {

namespace {

// A height is said to a thousandth of a millimetre or a ten-thousandth of an inch; how the tool stands over
// the deck to a tenth of a millimetre, mm.
constexpr double height_said_to = 2e-3, gap_said_to = 0.06;

}  // namespace

PilotWatch::PilotWatch(const job::Job& job, const Route& route, const Expected& expected)
    : job_(job), route_(route), expected_(expected) {
    for (const CutterZero& zero : route.zeros)
        if (zero.pilot_stands) pilots_[zero.cutter] = zero.pilot.value();
    // Planted for Z0 are those the seats are cut on, or they are planted after it.
    planted_ = std::all_of(route.zeros.begin(), route.zeros.end(), [&](const CutterZero& zero) {
        return std::any_of(route.stops.begin(), route.stops.end(),
                           [&](const Stop& stop) { return zero.taken.valve == stop.valve; });
    });
}

bool PilotWatch::in_tool() const {
    return route_.pilot == job::PilotUse::carried || route_.pilot == job::PilotUse::live;
}

bool PilotWatch::due(const Stop& stop) const {
    if (route_.pilot == job::PilotUse::planted) return !planted_;
    if (!stop.pilot) return false;
    const auto in = pilots_.find(stop.tool.number);
    return in == pilots_.end() || in->second != *stop.pilot;
}

bool PilotWatch::beside(const Position& at) const {
    if (!at.x || !at.y) return false;
    const double tolerance = written_tolerance(job_);
    for (const auto& place : {job_.machine.measure_at, job_.machine.load_at})
        if (place && std::abs(*at.x - place->x()) <= tolerance && std::abs(*at.y - place->y()) <= tolerance)
            return !over_head(expected_, job_, *place);
    return false;
}

bool PilotWatch::place_beside() const {
    for (const auto& place : {job_.machine.measure_at, job_.machine.load_at})
        if (place && !over_head(expected_, job_, *place)) return true;
    return false;
}

// Before the first look no height can be gone to: there the way leads over the top, and a float that a person
// centres is not centred up there.
bool PilotWatch::can_go_beside(const Halt& halt) const {
    if (!place_beside() || (halt.cutter == 0 && job_.machine.zero == job::ZeroKept::offsets)) return false;
    if (!looked_.empty()) return true;
    const auto& words = job_.machine.tool_float;
    const bool commanded = words && words->kind == job::Float::Kind::commanded;
    return !job_.dialect.top.empty() && !(commanded && (words->centre == "hand" || words->lock == "hand"));
}

std::string PilotWatch::zero_asked(const Asked& asked) const {
    if (route_.pilot == job::PilotUse::planted && !asked.planted)
        return "the first halt does not list which pilots stand in which guides";
    return "";
}

std::string PilotWatch::asked_for(const Asked& asked, const Halt& halt) {
    const bool by_hand = asked.away && !can_go_beside(halt);
    if (!by_hand && !(beside(halt.at) && halt.clear))
        return "pilots are changed elsewhere than beside the head, clear of everything";
    if (halt.next == nullptr) return "asks for pilots after the last seat";
    if (asked.plants) {
        if (route_.pilot != job::PilotUse::planted) return "asks for pilots to be planted where none are";
        planted_ = true;
        return "";
    }
    if (!asked.put) return "asks for a pilot that nobody knows";
    return put(*asked.put, *halt.next);
}

std::string PilotWatch::put(const PilotPut& put, const Stop& next) {
    if (put.cutter != next.tool.number || put.pilot != next.pilot)
        return fmt::format("asks for pilot {} in cutter {}; seat {} needs {} in cutter {}",
                           job_.pilots.at(put.pilot).name, put.cutter, next.id,
                           next.pilot ? job_.pilots.at(*next.pilot).name : "none", next.tool.number);
    if (job_.machine.pilot_change == job::PilotChange::cutter_off &&
        job_.machine.zero != job::ZeroKept::offsets)
        return "the pilot is changed where that takes the cutter off the spindle, and Z0 with it";
    pilots_[put.cutter] = put.pilot;
    const auto& count = job_.pilots.at(put.pilot).count;
    const auto holders = std::count_if(pilots_.begin(), pilots_.end(),
                                       [&](const auto& one) { return one.second == put.pilot; });
    // Which of the others gave it up nobody knows.
    if (count && holders > *count)
        std::erase_if(pilots_,
                      [&](const auto& one) { return one.second == put.pilot && one.first != put.cutter; });
    return "";
}

bool PilotWatch::goes_aside(const Stop& next, const Position& to) const {
    return due(next) && beside(to);
}

std::string PilotWatch::goes_to(const Stop& next) const {
    if (due(next))
        return route_.pilot == job::PilotUse::planted
                   ? fmt::format("goes to seat {} before its pilot is planted", next.id)
                   : fmt::format("goes to seat {} without pilot {} put in", next.id,
                                 job_.pilots.at(*next.pilot).name);
    if (!looked_at(next.tool.number))
        return fmt::format("goes to seat {} before the height of cutter {} was looked at", next.id,
                           next.tool.number);
    return "";
}

std::string PilotWatch::look(const Asked& asked, std::string_view text, const Stop* coming) {
    if (coming == nullptr) return "asks to look at the tool after the last seat";
    const Stop& next = *coming;
    if (due(next)) return "asks to look at the tool before its pilot is in";
    const double z = job_.machine.z_sign * route_.clear;
    if (!asked.look_at || std::abs(*asked.look_at - z) > height_said_to)
        return fmt::format("asks to look at the tool at Z {:.4f} mm; the clear height is {:.4f} mm",
                           asked.look_at.value_or(0), z);
    const auto gap = over_deck(expected_, job_, route_, next, route_.clear);
    const std::string& look = zero_of(route_, next.tool.number).look;
    if (look.empty() && !asked.looks && gap.value_or(0) <= 0) {  // no deck to look at
        looked_.insert(next.tool.number);
        return "";
    }
    if (!gap || !asked.looks || std::abs(*asked.looks - *gap) > gap_said_to ||
        !has_word(text, plain_words(look)))
        return fmt::format(
            "says that the tool is to be seen {:.1f} mm over the deck; it stands {:.1f} mm over it",
            asked.looks.value_or(0), gap.value_or(0));
    looked_.insert(next.tool.number);
    return "";
}

}  // namespace seatwright::cut
