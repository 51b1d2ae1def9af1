// What a plan knows of each seat, gathered from its stages for one line of the setup sheet.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::papers {

struct SeatLine {
    std::size_t valve = 0;
    std::string id;
    bool datum = false, suspect = false;
    Vec2 at = Vec2::Zero();        // readout; as found where guides of the setup were touched, else the map
    double z = 0;                  // map
    std::optional<double> enters;  // chance that the pilot enters
    find::PilotChoice pilot;
    const shape::Seat* seat = nullptr;
    const cut::SeatCut* cut = nullptr;  // none: it is not cut
};

// The line of one valve of that setup; it points into `plan`.
SeatLine seat_line(const job::Job& job, const plan::Plan& plan, const hold::Setup& setup,
                   const hold::Held& held);
// The lines of a setup, head order.
std::vector<SeatLine> seat_lines(const job::Job& job, const plan::Plan& plan, const hold::Setup& setup);

// Where those positions come from: "as found on head 1", "from the drawing, no guide touched"; of all setups
// "as found on head 1 (setups A, B), from the drawing, no guide touched (setup C)".
std::string map_source(const plan::Plan& plan, const hold::Setup& setup);
std::string map_source(const plan::Plan& plan);

// Its guide is to be repaired first, and no lead let it pass.
bool to_repair(const SeatLine& line);
// The pilot its program asks for: "F 8.00", "REPAIR GUIDE", "–".
std::string pilot_words(const job::Job& job, const SeatLine& line);
std::string depth_words(const SeatLine& line, LengthUnit unit);  // "0.120", "INSERT", "do not cut"
// Z of the seat at depth as the job counts it: "Z from deck" and "Z at depth" along its guide; with Z0 on a
// seat "program Z", the stop the card and the file have, where the cutter's rest is in it.
std::string z_heading(job::DepthFrom from);
std::string z_words(const SeatLine& line, job::DepthFrom from, LengthUnit unit);

}  // namespace seatwright::papers
