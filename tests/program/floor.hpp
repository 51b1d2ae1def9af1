// Cases taken round the shop floor: job text to plan, programs to the outside interpreter, to the simulated
// machine, the first seat measured and typed, planned again, run again.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "machine.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::sim {

struct Work {
    Case c;
    Person person;
    std::optional<Case> typed;  // what was written down, where it is not what is true
    std::map<std::string, std::function<P2(P2)>> touch_typed;  // a touch as it was written down
    std::function<double(double)> first_typed;                 // a first-seat reading as written down
    bool levels = false;                                       // guides are levelled in the fixture
    double gauge_error = 0;                                    // of the first-seat reading
    job::Selection selection;
    std::function<void(std::string&)> spoil;  // changes a program's text before it is run
    // What came of it.
    std::string text;  // job as planned last
    std::shared_ptr<const plan::Plan> plan = std::make_shared<const plan::Plan>(plan::Plan({}, {}, {}, {}));
    Left left;
    bool digests = false;            // the plan is given a digest of what was typed, as the command line does
    bool stopped = false;            // by the person looking at the tool
    bool refused = false;            // the job as typed is at fault
    std::vector<std::string> wrong;  // faults of the job; what the machine saw, behind the file's name
    std::vector<std::string> run;    // names of the files that ran, in order
    std::map<std::string, double> measured;  // first seats: depth as read
    int moves = 0, halts = 0, pilots_put = 0;
};

// The job typed, or what is wrong with it.
tl::expected<job::Job, Faults> read(const std::string& text);

// Plans each case with its touches in; a job that is at fault says so in `wrong`.
void plan_first(Work& work);
// Runs the files handed out one by one; after one that asks for a first-seat reading the head is planned
// again. All cases together, since the interpreter is started once a round.
void run_all(std::vector<Work>& works, const std::string& folder);

// Planned height of that seat over its drawing: by the depth the plan names and the true recession, or the
// finished height; none where the plan does not cut it.
std::optional<double> planned_height(const Work& work, const std::string& id);

}  // namespace seatwright::sim
