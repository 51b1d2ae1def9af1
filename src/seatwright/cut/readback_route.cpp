#include "seatwright/cut/readback_route.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "seatwright/cut/program.hpp"
#include "seatwright/words/figure.hpp"

namespace seatwright::cut {

namespace {

// Two ways to one height differ by rounding alone, mm.
constexpr double height_tolerance = 1e-6;

class RouteCheck {
  public:
    RouteCheck(const job::Job& job, const Route& route, const Expected& expected)
        : job_(job), route_(route), expected_(expected) {}

    std::string run() {
        for (const auto check :
             {&RouteCheck::set, &RouteCheck::places, &RouteCheck::pilots, &RouteCheck::zero_pilots,
              &RouteCheck::heights, &RouteCheck::touched_last, &RouteCheck::trims, &RouteCheck::travel})
            if (std::string fault = (this->*check)(); !fault.empty()) return fault;
        return "";
    }

  private:
    std::string set() {
        std::set<std::size_t> seen;
        for (const Stop& stop : route_.stops) {
            if (!seen.insert(stop.valve).second && !again(stop))
                return fmt::format("seat {} is cut twice", stop.id);
            if (std::find(route_.held_back.begin(), route_.held_back.end(), stop.id) !=
                route_.held_back.end())
                return fmt::format("seat {} is held back and stands in the program", stop.id);
            const ExpectedSeat* seat = expected_.seat(stop.valve);
            if (!seat) return fmt::format("seat {} does not belong to this setup", stop.id);
            if (!seat->planned) return fmt::format("seat {} is not planned to be cut", stop.id);
        }
        return "";
    }

    // Where Z0 is moved at the control one file cuts the first seat short, halts, and cuts it to its stop.
    bool again(const Stop& stop) const {
        const auto of_valve = [&](const Stop& s) { return s.valve == stop.valve; };
        const auto first = std::find_if(route_.stops.begin(), route_.stops.end(), of_valve);
        return route_.measure_after && first->short_cut && !stop.short_cut &&
               std::count_if(route_.stops.begin(), route_.stops.end(), of_valve) == 2;
    }

    std::string places() {
        std::vector<Placed> placed;
        for (const Stop& stop : route_.stops)
            if (!stop.short_cut || route_.part == FilePart::first)
                placed.push_back({stop.valve, stop.id, stop.at});
        return fault_of_places(expected_, placed, job_);
    }

    bool in_tool() const {
        return route_.pilot == job::PilotUse::carried || route_.pilot == job::PilotUse::live;
    }

    // Each fits its guide and goes with the way the file works; a person can tell one from another by name.
    std::string pilots() {
        std::map<std::size_t, std::string> named;
        for (const Stop& stop : route_.stops) {
            if (stop.pilot.has_value() == (route_.pilot == job::PilotUse::none))
                return fmt::format("seat {} {} a pilot", stop.id, stop.pilot ? "has" : "lacks");
            if (!stop.pilot) continue;
            const job::Pilot& pilot = job_.pilots.at(*stop.pilot);
            const bool tapered = pilot.style == job::PilotStyle::tapered;
            if (tapered ? route_.pilot == job::PilotUse::live : route_.pilot == job::PilotUse::planted)
                return fmt::format("pilot {} cannot be {}", pilot.name, tapered ? "live" : "planted");
            if (std::string fault = fault_of_pilot(*expected_.seat(stop.valve), job_, route_, stop);
                !fault.empty())
                return fault;
            named.emplace(*stop.pilot, plain_words(pilot.name));
        }
        for (const CutterZero& zero : route_.zeros)
            if (zero.pilot) named.emplace(*zero.pilot, plain_words(job_.pilots.at(*zero.pilot).name));
        std::set<std::string> names;
        for (const auto& [pilot, name] : named)
            if (!names.insert(name).second) return fmt::format("two pilots are called {}", name);
        return "";
    }

    // What stood for Z0 is what its seat is cut with, and stands still only if nothing else was put in since.
    std::string zero_pilots() {
        for (const CutterZero& zero : route_.zeros) {
            const std::string cutter = fmt::format("Z0 of cutter {}", zero.cutter);
            if (zero.pilot.has_value() && (!zero.taken.valve || route_.pilot == job::PilotUse::none))
                return cutter + " has a pilot, and is taken in no guide";
            if (zero.pilot_stands && !(zero.pilot && in_tool()))
                return fmt::format("no pilot stands in the tool after {}", cutter);
            const bool changing_voids =
                job_.machine.pilot_change == job::PilotChange::cutter_off && in_tool();
            if (changing_voids && zero.taken.on == shape::ZeroOn::block)
                return cutter + " is taken without the pilot, and putting it in takes the cutter off";
            for (const Stop& stop : route_.stops) {
                if (stop.tool.number != zero.cutter || stop.pilot == zero.pilot) continue;
                if (stop.valve == zero.taken.valve)
                    return fmt::format("{} is taken on {} with another pilot than it is cut with", cutter,
                                       stop.id);
                if (changing_voids && zero.taken.on != shape::ZeroOn::deck_point)
                    return fmt::format(
                        "{} is taken with another pilot than {} is cut with, and changing it "
                        "takes the cutter off",
                        cutter, stop.id);
                if (zero.pilot_stands && route_.part == FilePart::rest)
                    return fmt::format("the pilot of {} may have been changed in the file before", cutter);
            }
        }
        return "";
    }

    std::string heights() {
        for (const Stop& stop : route_.stops) {
            const CutterZero& zero = zero_of(route_, stop.tool.number);
            const ExpectedSeat& seat = *expected_.seat(stop.valve);
            const auto zeta = zero_height(expected_, job_, zero, job_.cutters.at(stop.tool.cutter));
            if (!zeta)
                return fmt::format("where Z0 of cutter {} lies cannot be worked out again", zero.cutter);
            if (std::string fault = height(stop, seat, zero, *zeta); !fault.empty()) return fault;
        }
        return "";
    }

    std::string height(const Stop& stop, const ExpectedSeat& seat, const CutterZero& zero,
                       double zeta) const {
        const double z = seat.m + *seat.planned - zeta + zero.trim;
        // A first seat is cut short by first_short, or less where the cut is thin.
        const double over = stop.z - z, most = stop.short_cut ? job_.cut.first_short : 0;
        if (over < -height_tolerance || over > most + height_tolerance)
            return fmt::format("seat {} stops at Z {}; by head, zero and plan it is {}", stop.id,
                               written(as_length(stop.z), job_.units), written(as_length(z), job_.units));
        const Between between = stop_between(seat, zeta);
        const double alone = stop.z - zero.trim - over;
        if (alone < between.least - height_tolerance || alone > between.most + height_tolerance)
            return fmt::format("seat {} stops at Z {}; its drawing and readings allow {} to {}", stop.id,
                               written(as_length(alone), job_.units),
                               written(as_length(between.least), job_.units),
                               written(as_length(between.most), job_.units));
        return "";
    }

    // Z0 can be checked on the touched seat till it is cut.
    std::string touched_last() {
        for (const CutterZero& zero : route_.zeros) {
            if (zero.taken.on != shape::ZeroOn::old_seat || !zero.taken.valve) continue;
            const Stop* touched = nullptr;
            for (const Stop& stop : route_.stops) {
                if (stop.tool.number != zero.cutter) continue;
                if (touched && touched->valve != stop.valve && job_.cut.first != touched->id)
                    return fmt::format("seat {}, on which Z0 was taken, is cut before seat {}", touched->id,
                                       stop.id);
                touched = stop.valve == *zero.taken.valve ? &stop : nullptr;
            }
        }
        return "";
    }

    std::string trims() {
        for (const CutterZero& zero : route_.zeros) {
            if (!std::isfinite(zero.trim))
                return fmt::format("the trim of cutter {} is no number", zero.cutter);
            if (zero.trim != 0 && route_.part == FilePart::first)
                return fmt::format("cutter {} has a trim before its first seat was measured", zero.cutter);
        }
        return "";
    }

    std::string travel() {
        if (route_.stops.empty()) return "";
        double lowest = route_.clear;
        Vec2 low = Vec2::Zero(), high = Vec2::Zero();
        for (const Stop& s : route_.stops) {
            lowest = std::min(lowest, s.z);
            low = low.cwiseMin(s.at);
            high = high.cwiseMax(s.at);
        }
        for (const auto& place : {job_.machine.load_at, job_.machine.measure_at})
            if (place) {
                low = low.cwiseMin(*place);
                high = high.cwiseMax(*place);
            }
        const auto beyond = [&](const char* axis, double span, const std::optional<double>& room) {
            return room && span > *room + height_tolerance
                       ? fmt::format("{} must move {}, the machine has {}", axis,
                                     written(as_depth(span), job_.units),
                                     written(as_depth(*room), job_.units))
                       : std::string();
        };
        std::string fault = beyond("X", high.x() - low.x(), job_.machine.travel_x);
        if (fault.empty()) fault = beyond("Y", high.y() - low.y(), job_.machine.travel_y);
        if (fault.empty()) fault = beyond("Z", route_.clear - lowest, job_.machine.travel_z);
        return fault;
    }

    const job::Job& job_;
    const Route& route_;
    const Expected& expected_;
};

bool same_zero(const shape::Zero& a, const shape::Zero& b) {
    return a.on == b.on && a.valve == b.valve && a.zeta == b.zeta;
}

// A pilot that stands from Z0 on, where a file of the same Z0 before this one put in another.
std::string fault_of_standing(const Route& route, const std::vector<const Route*>& routes) {
    for (const CutterZero& zero : route.zeros) {
        if (!zero.pilot_stands) continue;
        for (const Route* before : routes) {
            if (before == &route) break;
            const auto its =
                std::find_if(before->zeros.begin(), before->zeros.end(), [&](const CutterZero& other) {
                    return other.cutter == zero.cutter && same_zero(other.taken, zero.taken);
                });
            if (before->setup != route.setup || its == before->zeros.end()) continue;
            for (const Stop& stop : before->stops)
                if (stop.tool.number == zero.cutter && stop.pilot != zero.pilot)
                    return fmt::format("the pilot of Z0 of cutter {} was changed in a file before",
                                       zero.cutter);
        }
    }
    return "";
}

}  // namespace

std::string fault_of_route(const job::Job& job, const Route& route, const Expected& expected) {
    return RouteCheck(job, route, expected).run();
}

std::string fault_of_files(const job::Job& job, const std::vector<const Route*>& routes) {
    std::set<std::size_t> cut, begun;
    for (const Route* route : routes) {
        if (std::string fault = fault_of_standing(*route, routes); !fault.empty()) return fault;
        for (const CutterZero& zero : route->zeros) {
            if (zero.taken.on != shape::ZeroOn::old_seat || !zero.taken.valve) continue;
            const std::string& touched = job.head.valves.at(*zero.taken.valve).id;
            if (begun.count(*zero.taken.valve) > 0 && job.cut.first != touched)
                return fmt::format("Z0 is taken on seat {}, which a file before has cut", touched);
        }
        for (const Stop& stop : route->stops) {
            begun.insert(stop.valve);
            if (!stop.short_cut && !cut.insert(stop.valve).second)
                return fmt::format("seat {} stands in two of the files", stop.id);
        }
    }
    return "";
}

std::vector<double> heights_over_mouth(const job::Job& job, const Route& route, const Expected& expected) {
    std::vector<double> heights;
    for (const Stop& stop : route.stops) {
        const CutterZero& zero = zero_of(route, stop.tool.number);
        const ExpectedSeat* seat = expected.seat(stop.valve);
        const auto zeta = zero_height(expected, job, zero, job.cutters.at(stop.tool.cutter));
        std::optional<double> height;
        // A trim says where the gauge plane truly is, not that the mouth moved: it is in Z like in the stops.
        if (seat && zeta) height = over_mouth(*seat, job, route, stop, *zeta - zero.trim);
        heights.push_back(height.value_or(stop.over_mouth));
    }
    return heights;
}

}  // namespace seatwright::cut
