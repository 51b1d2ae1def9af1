// The seats of one head, worked out one after the other: forms, cutters, depths, stops and what follows from
// them.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/cutter.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "seatwright/shape/plan_anew.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

class Designer {
  public:
    Designer(const job::Job& job, const hold::Hold& hold, const find::Find& find, const std::string& head);

    // Once. `asked`: depths by valve id that stand instead of the planned ones.
    Shape run(const std::map<std::string, double>& asked = {});

  private:
    void append(const Notices& more);
    void warn(const char* code, std::optional<std::string> valve, Sentence text, Severity severity);
    const job::Valve& valve_of(const Seat& seat) const { return job_.head.valves[seat.valve]; }
    bool used(job::Kind kind) const;

    // What all seats of a kind share.
    void start_kind(job::Kind kind);
    void start_cutter(job::Kind kind);
    void start_seat(std::size_t v);
    void wall(const job::Insert& insert, const job::Valve& valve, Seat& seat);
    void not_allowed(const job::Valve& valve, const Before& before);
    void plan();
    // What is cut stands where it was measured, and where the plan does not bear that, both ways are shown.
    void after_first(DepthOutcome& outcome);
    void take_since_first(const DepthProblem& problem, const std::vector<double>& since_first);

    // The seats that are held back anyway count in the total and in what cannot be kept, in no spread.
    void add_alone(const DepthOutcome& alone);
    void cut_to(const std::map<std::string, double>& asked);
    void finish_seat(Seat& seat);
    // A lead may let the seat be cut all the same; it is said then too.
    void guide_first(const std::string& valve);
    void order_of_work();
    void assume();

    const job::Job& job_;
    const hold::Hold& hold_;
    const find::Find& find_;
    HeadBefore before_;
    job::PerKind<CutterChoice> choice_;
    std::vector<double> since_first_;  // per valve
    std::optional<PlanAnew> anew_;
    Shape out_;
};

}  // namespace seatwright::shape
