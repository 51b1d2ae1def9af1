#include "seatwright/forecast/seats.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "seatwright/base/units.hpp"
#include "seatwright/cut/bending.hpp"
#include "seatwright/cut/known.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/hold/posts.hpp"
#include "seatwright/job/kind_index.hpp"
#include "seatwright/words/english_forecast.hpp"

namespace seatwright::forecast {
namespace {

constexpr double steel = 210'000;  // MPa: model of the forecast, unless the shelf says otherwise

// Where Z0 of a cutter is taken, in the setup's map.
struct ZeroPlace {
    std::optional<Vec2> at;
};

class Framer {
  public:
    Framer(const job::Job& job, const plan::Plan& plan, const Known& known, const std::vector<Recut>& recuts)
        : job_(job),
          plan_(plan),
          known_(known),
          recuts_(recuts),
          choices_(find::pilots_of(job, plan.find, plan.shape.head)) {}

    Frame run() {
        for (const hold::Setup& setup : plan_.hold.setups) add_setup(setup);
        std::sort(out_.seats.begin(), out_.seats.end(),
                  [](const SeatFrame& a, const SeatFrame& b) { return a.seat.valve < b.seat.valve; });
        for (std::size_t i = 0; i < out_.seats.size(); ++i) {
            SetupFrame& setup = out_.setups[out_.seats[i].seat.setup];
            out_.seats[i].guide = setup.seats.size();
            if (out_.seats[i].seat.valve == plan_.hold.setups[out_.seats[i].seat.setup].datum)
                setup.datum = setup.seats.size();
            setup.seats.push_back(i);
        }
        orders();
        zeros();
        heights();
        out_.stem_spread = job_.depth.stem_spread;
        return std::move(out_);
    }

  private:
    const shape::Seat* shaped(std::size_t valve) const {
        for (const shape::Seat& seat : plan_.shape.seats)
            if (seat.valve == valve) return &seat;
        return nullptr;
    }

    const Recut* recut(job::Kind kind) const {
        for (const Recut& one : recuts_)
            if (one.kind == kind) return &one;
        return nullptr;
    }

    Vec2 midpoint(const hold::Setup& setup) const {
        if (!plan_.hold.posts) {
            // Without posts the head turns about the middle of its guides.
            Vec2 sum = Vec2::Zero();
            for (const hold::Held& held : setup.valves) sum += held.map.head<2>();
            return setup.valves.empty() ? sum : sum / static_cast<double>(setup.valves.size());
        }
        return hold::midpoint_of(*plan_.hold.posts, job_.head, setup);
    }

    void add_setup(const hold::Setup& setup) {
        const std::size_t index = out_.setups.size();
        out_.setups.emplace_back();
        const Vec2 middle = midpoint(setup);
        for (const hold::Held& held : setup.valves) {
            const job::Valve& valve = job_.head.valves[held.valve];
            const auto& form = job_.seat[valve.kind];
            const shape::Seat* seat = shaped(held.valve);
            if (!form || !seat) {
                out_.notices.warnings.push_back(
                    {"forecast", "seat-left-out", valve.id, sentence<"seat-left-out">(), Severity::note});
                continue;
            }
            if (!form->cut_allowed) continue;
            SeatFrame one;
            one.map = held.map.head<2>();
            Seat& s = one.seat;
            s.valve = held.valve;
            s.kind = valve.kind;
            s.setup = index;
            s.from_posts = one.map - middle;
            s.angle = form->angle;
            s.gauge = seat->section.gauge;
            const Vec3 axis = setup.rotation() * valve.axis();
            s.residual = axis.head<2>() / axis.z();
            s.runout_max = form->runout_max;
            s.width = form->width;
            if (const Recut* other = recut(valve.kind))
                s.width_off = other->width - form->width;
            else if (seat->cut_width)
                s.width_off = *seat->cut_width - form->width;
            s.width_tol = form->width_tol;
            s.height = {form->stem_height_min, form->stem_height_max};
            if (held.valve < choices_.size()) lead_by(job_, held.valve, choices_[held.valve], one);
            out_.seats.push_back(std::move(one));
        }
    }

    // Cutter of a seat; without one on the shelf each kind has its own.
    std::size_t cutter_of(const SeatFrame& frame) const {
        if (const Recut* other = recut(frame.seat.kind)) return other->cutter;
        const shape::Seat* seat = shaped(frame.seat.valve);
        if (seat && seat->cutter) return *seat->cutter;
        return job_.cutters.size() + index_of(frame.seat.kind);
    }

    // Places in cut's order; seats it has none of follow in head order.
    void orders() {
        std::vector<std::size_t> order;
        const auto add = [&](std::size_t valve) {
            for (std::size_t i = 0; i < out_.seats.size(); ++i)
                if (out_.seats[i].seat.valve == valve &&
                    std::find(order.begin(), order.end(), i) == order.end())
                    order.push_back(i);
        };
        for (const std::size_t valve : plan_.cut.order) add(valve);
        for (const SeatFrame& frame : out_.seats) add(frame.seat.valve);
        std::map<std::size_t, double> count;
        for (const std::size_t i : order) out_.seats[i].seat.place = count[cutter_of(out_.seats[i])]++;
        for (SeatFrame& frame : out_.seats) frame.seat.seats_of_cutter = count[cutter_of(frame)];
    }

    // The place levers count from: the first seat where it is trimmed, else where Z0 was taken.
    void zeros() {
        std::map<std::pair<std::size_t, std::size_t>, std::vector<std::size_t>> groups;
        for (std::size_t i = 0; i < out_.seats.size(); ++i)
            groups[{out_.seats[i].seat.setup, cutter_of(out_.seats[i])}].push_back(i);
        for (const auto& [of, seats] : groups) {
            const Vec2 from = zero_place(of.first, seats);
            for (const std::size_t i : seats) {
                out_.seats[i].seat.zero = out_.zeros;
                out_.seats[i].seat.from_zero = out_.seats[i].map - from;
            }
            ++out_.zeros;
        }
    }

    Vec2 map_of(std::size_t setup, std::size_t valve) const {
        for (const hold::Held& held : plan_.hold.setups[setup].valves)
            if (held.valve == valve) return held.map.head<2>();
        return Vec2::Zero();
    }

    Vec2 zero_place(std::size_t setup, const std::vector<std::size_t>& seats) const {
        const auto among = [&](std::size_t valve) {
            return std::any_of(seats.begin(), seats.end(),
                               [&](std::size_t i) { return out_.seats[i].seat.valve == valve; });
        };
        for (const cut::Route& route : plan_.cut.routes) {
            if (route.setup != setup || route.stops.empty() || !among(route.stops.front().valve)) continue;
            if (known_.trimmed) return map_of(setup, route.stops.front().valve);
            if (route.zeros.empty()) continue;
            const shape::Zero& taken = route.zeros.front().taken;
            if (taken.valve) return map_of(setup, *taken.valve);
            return {taken.at.x() * job_.machine.x_sign, taken.at.y() * job_.machine.y_sign};
        }
        // Nothing is planned of this cutter: the seats it would be taken on.
        if (known_.trimmed && job_.cut.first)
            if (const auto first = job_.head.index_of(*job_.cut.first); first && among(*first))
                return map_of(setup, *first);
        if (job_.depth.from == job::DepthFrom::deck && job_.depth.deck_at) {
            const hold::Setup& held = plan_.hold.setups[setup];
            const Vec3 at(job_.depth.deck_at->x(), job_.depth.deck_at->y(), -job_.depth.deck_cut);
            return (held.rotation() * (at - job_.head.valves[held.datum].seat)).head<2>();
        }
        if (job_.depth.zero_on)
            if (const auto on = job_.head.index_of(*job_.depth.zero_on); on && among(*on))
                return map_of(setup, *on);
        std::vector<shape::ZeroSeat> row;
        for (const std::size_t i : seats) {
            shape::ZeroSeat one;
            one.valve = out_.seats[i].seat.valve;
            one.map = Vec3(out_.seats[i].map.x(), out_.seats[i].map.y(), 0);
            one.readout = out_.seats[i].map;
            one.planned = true;
            row.push_back(one);
        }
        const auto middle = shape::touched_by_default(row, job_.depth.to);
        return out_.seats[seats[middle.value_or(0)]].map;
    }

    // Planned heights; a kind without any is judged by spread alone, one that lacks some takes their mean.
    void heights() {
        for (const auto kind : job::both_kinds) {
            double sum = 0, known = 0;
            for (SeatFrame& frame : out_.seats) {
                if (frame.seat.kind != kind) continue;
                const shape::Seat* seat = shaped(frame.seat.valve);
                const auto& form = job_.seat[kind];
                if (seat && seat->stem_height_after && seat->decision == shape::Decision::cut)
                    frame.seat.planned_height = seat->stem_height_after;
                else if (form->finish && form->finish->stem_height)
                    frame.seat.planned_height = form->finish->stem_height;
                else
                    frame.seat.planned_height = form->stem_height;
                if (!frame.seat.planned_height) continue;
                sum += *frame.seat.planned_height;
                ++known;
            }
            for (SeatFrame& frame : out_.seats)
                if (frame.seat.kind == kind && !frame.seat.planned_height) {
                    frame.seat.height = {};
                    if (known > 0) frame.seat.planned_height = sum / known;
                }
        }
    }

    const job::Job& job_;
    const plan::Plan& plan_;
    const Known& known_;
    const std::vector<Recut>& recuts_;
    const std::vector<find::PilotChoice> choices_;
    Frame out_;
};

}  // namespace

double entering_stiffness(const job::Machine& machine) {
    const bool freed = machine.tool_float && machine.tool_float->kind == job::Float::Kind::commanded;
    return freed ? 0 : machine.float_stiffness.value_or(0);
}

void lead_by(const job::Job& job, std::size_t valve, const find::PilotChoice& choice, SeatFrame& frame) {
    Seat& seat = frame.seat;
    const auto& guide = job.guide[job.head.valves[valve].kind];
    frame.pilot = choice.pilot;
    frame.pilot_turns = false;
    seat.room = std::nullopt;
    seat.play = seat.bend = seat.bend_slope = 0;
    if (job.cut.pilot == job::PilotUse::none) {
        // The spindle alone gives the axis: the seat is where the spindle is.
        seat.bend = 1;
        frame.pilot_turns = true;
        return;
    }
    if (!choice.pilot) return;
    const job::Pilot& pilot = job.pilots[*choice.pilot];
    frame.pilot_turns = job.cut.pilot ? job.cut.pilot == job::PilotUse::live : pilot.turns_with_tool;
    if (job.cut.pilot != job::PilotUse::planted) seat.room = find::entry_clearance(job, choice);
    seat.play = pilot.style == job::PilotStyle::parallel || choice.play ? choice.play.value_or(0) : 0;
    const double stiffness = entering_stiffness(job.machine);
    std::optional<double> length = pilot.free_length;
    if (!length && guide) length = guide->to_seat;
    if (stiffness > 0 && length && *length > 0 && pilot.diameter > 0) {
        const double of_pilot = cut::bend(pilot.diameter, *length, 1, steel).stiffness;
        seat.bend = stiffness / (stiffness + of_pilot);
        seat.bend_slope = 1.5 / *length;
    }
}

Frame frame_of(const job::Job& job, const plan::Plan& plan, const Known& known,
               const std::vector<Recut>& recuts) {
    return Framer(job, plan, known, recuts).run();
}

MadeBatch batch_of(const job::Job& job, const Frame& frame, const Known& known) {
    MadeBatch out;
    Batch& b = out.batch;
    for (const SetupFrame& setup : frame.setups) {
        std::vector<GuidePlace> guides;
        guides.reserve(setup.seats.size());
        for (const std::size_t i : setup.seats) {
            const SeatFrame& one = frame.seats[i];
            const double ratio =
                one.seat.valve < known.casting_ratio.size() ? known.casting_ratio[one.seat.valve] : 1;
            guides.push_back({one.seat.from_posts, known.casting_sd * ratio, one.seat.room});
        }
        PlaceRules rules;
        rules.place_sd = known.place_sd();
        rules.turn_sd = known.turn_sd();
        rules.touch_sd = known.touch_sd;
        rules.positioning_sd = std::hypot(known.positioning_sd, known.resolution / std::sqrt(12.0));
        rules.enter_target = job.find.enter_target;
        if (!known.touches_planned) rules.touches = known.touches;
        rules.rezero = known.rezero;
        rules.datum = setup.datum      ? setup.datum
                      : guides.empty() ? std::nullopt
                                       : std::optional<std::size_t>(0);
        out.places.push_back(places_of(guides, rules));
        out.rules.push_back(rules);
        b.setups.push_back({out.places.back().pose, known.level_sd});
        out.guides.push_back(std::move(guides));
    }
    const double zero = known.trimmed ? std::hypot(known.depth_sd, known.trim_gauge_u) : known.zero_sd;
    b.zeros.assign(frame.zeros, zero);
    b.touch_sd = known.touch_sd;
    b.casting_sd = known.casting_sd;
    b.positioning_sd = std::hypot(known.positioning_sd, known.resolution / std::sqrt(12.0));
    b.share = known.share;
    b.guide_angle_sd = known.guide_angle_sd;
    b.height_sd = known.height_sd;
    b.depth_sd = known.depth_sd;
    b.depth_wear = known.depth_wear;
    b.width_sd = known.width_sd;
    b.width_wear = known.width_wear;
    b.stem_spread = frame.stem_spread;
    b.heads = known.heads;
    b.change_every = known.change_every;
    b.runout_u = known.runout_u;
    b.width_u = known.width_u;
    b.height_u = known.height_u;
    b.seats.reserve(frame.seats.size());
    for (const SeatFrame& one : frame.seats) {
        Seat seat = one.seat;
        const Places& places = out.places[seat.setup];
        seat.touched =
            std::find(places.touched.begin(), places.touched.end(), one.guide) != places.touched.end();
        seat.casting_sd = out.guides[seat.setup][one.guide].casting_sd;
        seat.play *= known.play_times;
        seat.residual *= known.residual_times;
        seat.pilot_runout = one.pilot_turns ? 0 : known.pilot_runout;
        b.seats.push_back(seat);
    }
    return out;
}

}  // namespace seatwright::forecast
