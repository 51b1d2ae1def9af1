#include "seatwright/papers/sheet/seat_lines.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "seatwright/find/pilots.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

const find::FoundHead* found_head(const plan::Plan& plan) {
    const auto& heads = plan.find.heads;
    const auto at =
        std::find_if(heads.begin(), heads.end(), [&](const auto& h) { return h.head == plan.shape.head; });
    if (at != heads.end()) return &*at;
    return heads.empty() ? nullptr : &heads.back();
}

template <class T>
const T* of_valve(const std::vector<T>& all, std::size_t valve) {
    const auto at = std::find_if(all.begin(), all.end(), [&](const T& t) { return t.valve == valve; });
    return at == all.end() ? nullptr : &*at;
}

const find::FoundSetup* found_setup(const find::FoundHead* head, const std::string& id) {
    if (!head) return nullptr;
    const auto at =
        std::find_if(head->setups.begin(), head->setups.end(), [&](const auto& s) { return s.id == id; });
    return at == head->setups.end() ? nullptr : &*at;
}

bool any_touched(const find::FoundSetup* found) {
    return found &&
           std::any_of(found->guides.begin(), found->guides.end(), [](const auto& g) { return g.touched; });
}

}  // namespace

SeatLine seat_line(const job::Job& job, const plan::Plan& plan, const hold::Setup& setup,
                   const hold::Held& held) {
    const auto* head = found_head(plan);
    const auto* found = found_setup(head, setup.id);
    const auto* guide = found ? of_valve(found->guides, held.valve) : nullptr;
    SeatLine line;
    line.valve = held.valve;
    line.id = job.head.valves[held.valve].id;
    line.datum = held.valve == setup.datum;
    line.suspect = guide && guide->suspect;
    line.at = guide && any_touched(found) ? guide->programmed : held.readout;
    line.z = held.map.z();
    if (guide) line.enters = guide->enter_probability;
    line.pilot = find::pilot_of(job, plan.find, plan.shape.head, held.valve);
    line.seat = of_valve(plan.shape.seats, held.valve);
    line.cut = of_valve(plan.cut.seats, held.valve);
    return line;
}

std::vector<SeatLine> seat_lines(const job::Job& job, const plan::Plan& plan, const hold::Setup& setup) {
    std::vector<SeatLine> out;
    out.reserve(setup.valves.size());
    for (const auto& held : setup.valves) out.push_back(seat_line(job, plan, setup, held));
    return out;
}

std::string map_source(const plan::Plan& plan, const hold::Setup& setup) {
    const auto* head = found_head(plan);
    return any_touched(found_setup(head, setup.id)) ? "as found on head " + head->head
                                                    : "from the drawing, no guide touched";
}

std::string map_source(const plan::Plan& plan) {
    std::vector<std::string> sources;
    std::vector<std::vector<std::string>> setups;
    for (const auto& setup : plan.hold.setups) {
        const std::string source = map_source(plan, setup);
        const auto at = std::find(sources.begin(), sources.end(), source);
        if (at == sources.end()) {
            sources.push_back(source);
            setups.push_back({setup.id});
        } else {
            setups[static_cast<std::size_t>(at - sources.begin())].push_back(setup.id);
        }
    }
    if (sources.size() == 1) return sources.front();
    std::string out;
    for (std::size_t k = 0; k < sources.size(); ++k)
        out += fmt::format("{}{} (setup{} {})", out.empty() ? "" : ", ", sources[k],
                           setups[k].size() > 1 ? "s" : "", fmt::join(setups[k], ", "));
    return out;
}

bool to_repair(const SeatLine& line) {
    return line.pilot.repair && !(line.cut && line.cut->pilot);
}

std::string pilot_words(const job::Job& job, const SeatLine& line) {
    if (to_repair(line)) return "REPAIR GUIDE";
    // What the programs ask for: the fewest sizes that serve all guides, not the best for each.
    if (line.cut) return line.cut->pilot ? job.pilots[*line.cut->pilot].name : "–";
    return line.pilot.pilot ? job.pilots[*line.pilot.pilot].name : "–";
}

std::string depth_words(const SeatLine& line, LengthUnit unit) {
    if (!line.seat) return "–";
    if (line.seat->decision == shape::Decision::insert) return "INSERT";
    if (line.seat->decision == shape::Decision::not_allowed) return "do not cut";
    if (line.seat->decision != shape::Decision::cut) return shape::word_of(line.seat->decision);
    return length(line.seat->depth, unit);
}

std::string z_heading(job::DepthFrom from) {
    switch (from) {
        case job::DepthFrom::deck:
            return "Z from deck";
        case job::DepthFrom::datum:
            return "Z at depth";
        case job::DepthFrom::finished:
        case job::DepthFrom::touch:
            break;
    }
    return "program Z";
}

std::string z_words(const SeatLine& line, job::DepthFrom from, LengthUnit unit) {
    if (!line.seat || line.seat->decision != shape::Decision::cut) return "–";
    const bool along = from == job::DepthFrom::deck || from == job::DepthFrom::datum;
    return length(along ? line.seat->z : line.seat->program_z, unit);
}

}  // namespace seatwright::papers
