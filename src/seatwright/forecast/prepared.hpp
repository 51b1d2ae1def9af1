// A job's batch made ready once: what is known of it, its frame, and the pilots that could lead its guides.
// Forecasts of it, and of what somebody tries, then go through neither record nor plan again.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/forecast/gauges.hpp"
#include "seatwright/forecast/seats.hpp"

namespace seatwright::forecast {

// A pilot of the shelf that suits every guide of a kind.
struct PilotOffer {
    job::Kind kind = job::Kind::intake;
    std::size_t pilot = 0;                                 // index into job.pilots
    std::string from;                                      // names of those that lead these guides now
    bool same = false;                                     // it leads all of them now
    std::vector<std::pair<std::size_t, SeatFrame>> seats;  // of the frame, as it would lead them
};

// Another cutter of the shelf that makes the form of a kind within its tolerances.
struct CutterOffer {
    Recut recut;
    std::string from;  // the one that cuts these seats now
    Frame frame;       // with it
};

struct Prepared {
    Collected collected;
    Frame frame;
    std::vector<PilotOffer> offers;
    std::vector<CutterOffer> cutters;
    std::size_t most_touches = 0;  // guides of the setup that has most
};

// What somebody tries, in place of what is known.
struct Tried {
    std::optional<double> post_clearance;  // mm; without effect where find.carry gives the head's place
    std::optional<int> touches;            // on every head, in each setup
    std::optional<int> heads;              // of the batch
    std::optional<int> change_every;       // heads between changes of the blade; 0: never
    // Indices into job.pilots, job.cutters and job.gauges; what is not on offer changes nothing.
    std::map<job::Kind, std::size_t> pilot, cutter;
    std::map<prove::Quantity, std::size_t> gauge;  // what seats are read with after cutting
};

// The job has passed job/needs.hpp for hold, find and shape. `plan` may lack cut.
Prepared prepared(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof);

// The figures of its inputs are then what is tried.
Prepared with(const job::Job& job, const plan::Plan& plan, const Prepared& as_it_is, const Tried& tried);

// How a question is to be answered.
struct Manner {
    bool drag = false;                 // the pass rate to 0.05 %, no verdicts and risks: it follows a hand
    std::function<void()> check = {};  // now and then between two pieces of work; what it throws ends it
};

// The forecast of a batch made ready; `asked.heads` is nothing here. `tables` (chance_table.hpp) keep what
// the next question of the same job need not work out again; nobody else uses them meanwhile.
struct Tables;
Forecast forecast(const job::Job& job, const plan::Plan& plan, const Prepared& as, Tables& tables,
                  const Asked& asked = {}, const Manner& manner = {});

// A frame led by that pilot.
Frame led_by(const Frame& frame, const PilotOffer& offer);

}  // namespace seatwright::forecast
