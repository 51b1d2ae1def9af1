// Routes filled from ready forms: head, setup and what is left out; each cutter's Z0 with its pilot; the
// stops; the clear height and what is to be seen there.
#pragma once

#include "seatwright/cut/batches.hpp"

namespace seatwright::cut {

class RouteMaker {
  public:
    RouteMaker(const Known& known, const SeatPlan& plan, const job::Selection& selection, const Gate& gate)
        : known_(known), job_(known.job), plan_(plan), selection_(selection), gate_(gate) {}

    // Without stops.
    Route begin(std::size_t setup, job::PilotUse use) const;

    // All seats of the portion; the first one short; what is left after it was measured in a file before; and
    // after a halt in this one.
    void all_of(Route& route, const Portion& portion) const;
    void short_first(Route& route, const Portion& portion) const;
    void rest_of(Route& route, const Portion& portion) const;
    void after_first(Route& route, const Portion& portion) const;

    // Once all stops are in: clear height, pilots in the tool at the start, what is to be seen. `whole`: the
    // route with all seats of these portions, since all files of a cutter have one clear height; itself or
    // another.
    void finish(Route& route, const Route& whole, const std::vector<Portion>& portions) const;

  private:
    const std::string& id(std::size_t valve) const { return job_.head.valves.at(valve).id; }
    Vec2 place_of(std::size_t setup, std::size_t valve) const;
    Stop stop_of(const ReadyForm& form, const ReadySeat& seat, double less) const;
    double clear_of(const Route& route, const std::vector<Portion>& portions) const;
    void pilots_at_start(Route& route, const std::vector<Portion>& portions) const;
    std::string look_of(const Route& route, const CutterZero& zero) const;

    const Known& known_;
    const job::Job& job_;
    const SeatPlan& plan_;
    const job::Selection& selection_;
    const Gate& gate_;
};

}  // namespace seatwright::cut
