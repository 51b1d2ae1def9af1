#include "seatwright/shape/clash.hpp"

#include "seatwright/shape/bridge.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

class Judge {
  public:
    Judge(const job::Job& job, const job::PerKind<CutterChoice>& choice, std::vector<Seat>& seats)
        : job_(job), choice_(choice), seats_(seats), around_(bores_of(job.head)) {}

    Notices run() {
        for (const auto& seat : seats_)
            if (!seat.section.points.empty())
                around_.push_back({Neighbour::What::seat, id_of(seat), solids(seat, seat.section)});
        for (auto& seat : seats_) {
            if (seat.section.points.empty()) continue;
            const auto edge = bore_edge_of(job_.head, valve_of(seat));
            if (edge) around_.push_back(*edge);
            bridge_of(seat);
            if (seat.cutter) clearance_of(seat);
            if (edge) around_.pop_back();
        }
        return std::move(out_);
    }

  private:
    const job::Valve& valve_of(const Seat& seat) const { return job_.head.valves[seat.valve]; }
    const std::string& id_of(const Seat& seat) const { return valve_of(seat).id; }

    // A seat cut to a finished height whose old height nobody read has no depth, but an end.
    static double sunk(const Seat& seat) { return seat.depth.value_or(seat.finished_recession.value_or(0)); }

    SeatSolids solids(const Seat& seat, const Section& section) const {
        const job::Valve& valve = valve_of(seat);
        return solids_of(valve, section, sunk(seat), ring_of(valve, *job_.seat[valve.kind], seat.section));
    }

    void hold_back(const char* code, const Seat& seat, const Sentence& text, const Sentence& frees) {
        out_.warnings.push_back({"shape", code, id_of(seat), text, Severity::blocking});
        out_.held_back.push_back({"", "", id_of(seat), HeldCode::clash, text, frees});
    }

    void bridge_of(Seat& seat) {
        const auto near = nearest(solids(seat, seat.section), around_, id_of(seat));
        if (!near) return;
        seat.bridge = near->bridge;
        seat.bridge_to = near->to;
        if (near->bridge < 0)
            hold_back("clash", seat,
                      sentence<"runs-into">(
                          "valve"_is = id_of(seat),
                          "what"_is = near->by_ring ? sentence<"its-ring">() : sentence<"its-form">(),
                          "by"_is = as_length(-near->bridge), "other"_is = near->to),
                      sentence<"runs-into-frees">());
        else if (job_.depth.bridge_min && near->bridge < *job_.depth.bridge_min)
            out_.warnings.push_back(
                {"shape", "bridge", id_of(seat),
                 sentence<"bridge">("valve"_is = id_of(seat), "bridge"_is = as_length(near->bridge),
                                    "other"_is = near->to, "wanted"_is = as_length(*job_.depth.bridge_min)),
                 Severity::note});
    }

    // Of the blade, longer than the form, and of what stands above it.
    void clearance_of(Seat& seat) {
        const job::Valve& valve = valve_of(seat);
        const job::Cutter& cutter = job_.cutters[*seat.cutter];
        const Section& blade = choice_[valve.kind].blade;
        SeatSolids cut = solids(seat, blade);
        cut.ring.reset();
        auto near = nearest(cut, around_, valve.id);
        const Vec2& top = blade.points.back();
        bool by_body = false;
        if (cutter.body && *cutter.body / 2 > top.x()) {
            const auto body = nearest_to_body(rising_from(valve, top.y() - sunk(seat), *cutter.body / 2),
                                              around_, valve.id);
            by_body = body && (!near || body->bridge < near->bridge);
            if (by_body) near = body;
        }
        if (!near) return;
        seat.cutter_clearance = near->bridge;
        seat.cutter_clearance_to = near->to;
        // A form that runs into something has been said already.
        if (near->bridge >= 0 || (!by_body && seat.bridge.value_or(0) < 0)) return;
        hold_back("cutter-clash", seat,
                  by_body
                      ? sentence<"body-strikes">("valve"_is = valve.id, "cutter"_is = cutter.name,
                                                 "other"_is = near->to, "by"_is = as_length(-near->bridge))
                      : sentence<"blade-strikes">("valve"_is = valve.id, "cutter"_is = cutter.name,
                                                  "other"_is = near->to, "by"_is = as_length(-near->bridge)),
                  by_body ? sentence<"slimmer-body">() : sentence<"shorter-blade">());
    }

    const job::Job& job_;
    const job::PerKind<CutterChoice>& choice_;
    std::vector<Seat>& seats_;
    std::vector<Neighbour> around_;
    Notices out_;
};

}  // namespace

Notices judge_clashes(const job::Job& job, const job::PerKind<CutterChoice>& choice,
                      std::vector<Seat>& seats) {
    return Judge(job, choice, seats).run();
}

}  // namespace seatwright::shape
