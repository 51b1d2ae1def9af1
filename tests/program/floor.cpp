#include "floor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/reader.hpp"

namespace seatwright::sim {

namespace {

constexpr int rounds = 2;

tl::expected<job::Job, Faults> read(const std::string& text) {
    const job::Fetch nothing = [](const std::string&) -> tl::expected<std::string, std::string> {
        return tl::unexpected(std::string("no such file"));
    };
    return job::read_job(text, "simulated.toml", nothing);
}

SetupAsHeld as_held(const plan::Plan& plan, const job::Job& job, std::size_t setup) {
    const hold::Setup& held = plan.hold.setups.at(setup);
    SetupAsHeld out{held.id, {held.tilt, held.swing}, job.head.valves.at(held.datum).id, {}};
    for (const hold::Held& valve : held.valves) out.valves.push_back(job.head.valves.at(valve.valve).id);
    return out;
}

bool plan_text(Work& work) {
    auto job = read(work.text);
    if (!job) {
        for (const auto& fault : job.error()) work.wrong.push_back(to_line(fault));
        return false;
    }
    work.plan = plan::make_plan(*job, work.c.head, work.selection);
    return true;
}

struct Due {
    std::size_t work = 0;
    const cut::Program* program = nullptr;
    std::string text;
};

std::vector<Due> files_due(std::vector<Work>& works, int round) {
    std::vector<Due> due;
    for (std::size_t w = 0; w < works.size(); ++w)
        for (const cut::Program& program : works[w].plan.cut.programs) {
            const bool first = program.route.part == cut::FilePart::first;
            if (round > 0 && (first || works[w].measured.empty())) continue;
            if (std::find(works[w].run.begin(), works[w].run.end(), program.file) != works[w].run.end())
                continue;
            std::string text = program.text;
            if (works[w].spoil) works[w].spoil(text);
            due.push_back({w, &program, std::move(text)});
        }
    return due;
}

// A depth gauge before and after, typed; without a reading of the old seat how far a valve as drawn lies
// below the deck there is.
void measure(Work& work, const std::string& id) {
    const auto& now = work.left.seats[id].cut;
    if (!now) return;
    const Seat& seat = work.c.seat(id);
    const double depth = -seat.recession - *now + work.gauge_error;
    const double square = 1 / std::hypot(1.0, std::tan(seat.incline), std::tan(seat.cant));
    const double below = work.c.of(seat).below_deck - work.c.deck_cut - (*now - work.gauge_error) * square;
    work.measured[id] = depth;
    work.text +=
        fmt::format("[[reading.first]]\nhead = \"{}\"\nvalve = \"{}\"\n{} = \"{:.4f} mm\"\n{}", work.c.head,
                    id, seat.read_height ? "depth" : "below_deck", seat.read_height ? depth : below,
                    work.c.trim_at_control ? "trimmed = \"control\"\n" : "");
}

void run_one(Work& work, const Due& due, const CanonProgram& canon, const job::Job& job) {
    const SetupAsHeld setup = as_held(work.plan, job, due.program->route.setup);
    Machine machine(work.c, setup, work.left, work.person);
    std::vector<std::string> planted;
    if (due.program->route.pilot == job::PilotUse::planted)
        for (const cut::Stop& stop : due.program->route.stops) planted.push_back(stop.id);
    const Ran ran = machine.run(canon, planted);
    for (const std::string& wrong : ran.wrong) work.wrong.push_back(due.program->file + ": " + wrong);
    work.moves += ran.moves;
    work.halts += ran.halts;
    work.run.push_back(due.program->file);
    if (due.program->route.part != cut::FilePart::first) return;
    if (work.c.measure_at && length(ran.ended_at - *work.c.measure_at) > 1e-3)
        work.wrong.push_back(due.program->file + ": does not end where the first seat is measured");
    for (const cut::Stop& stop : due.program->route.stops) measure(work, stop.id);
}

}  // namespace

void plan_first(Work& work) {
    work.text = job_text(work.c);
    if (!plan_text(work)) return;
    const auto job = read(work.text);
    for (std::size_t s = 0; s < work.plan.hold.setups.size(); ++s) {
        const SetupAsHeld setup = as_held(work.plan, *job, s);
        const Machine machine(work.c, setup, work.left, work.person);
        for (const std::string& id : setup.valves) {
            const Seat& seat = work.c.seat(id);
            if (!seat.touched) continue;
            const P2 at = machine.place(id) + seat.touch_error;
            work.text += fmt::format(
                "[[reading.touch]]\nhead = \"{}\"\nvalve = \"{}\"\nx = \"{:.3f} mm\"\ny = \"{:.3f} mm\"\n",
                work.c.head, id, at.x, at.y);
        }
    }
    plan_text(work);
}

void run_all(std::vector<Work>& works, const std::string& folder) {
    for (int round = 0; round < rounds; ++round) {
        const std::vector<Due> due = files_due(works, round);
        std::vector<std::string> texts;
        for (const Due& d : due) texts.push_back(d.text);
        const auto canon = read_programs(folder, texts);
        for (std::size_t i = 0; i < due.size(); ++i) {
            Work& work = works[due[i].work];
            const auto job = read(work.text);
            run_one(work, due[i], canon[i], *job);
        }
        for (Work& work : works)
            if (round == 0 && !work.measured.empty()) plan_text(work);
    }
}

std::optional<double> planned_height(const Work& work, const std::string& id) {
    if (work.c.to_height) return -work.c.finish;
    for (const shape::Seat& seat : work.plan.shape.seats) {
        const auto job = read(work.text);
        if (job->head.valves.at(seat.valve).id == id && seat.depth)
            return -work.c.seat(id).recession_read - *seat.depth;
    }
    return std::nullopt;
}

}  // namespace seatwright::sim
