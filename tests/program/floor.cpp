#include "floor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace seatwright::sim {

namespace {

constexpr int most_files = 60;  // of one head

}  // namespace

tl::expected<job::Job, Faults> read(const std::string& text) {
    const job::Fetch nothing = [](const std::string&) -> tl::expected<std::string, std::string> {
        return tl::unexpected(std::string("no such file"));
    };
    return job::read_job(text, "simulated.toml", nothing);
}

namespace {

SetupAsHeld as_held(const Work& work, const job::Job& job, std::size_t setup) {
    const hold::Setup& held = work.plan->hold.setups.at(setup);
    const Attitude& off = work.person.off;
    SetupAsHeld out{
        held.id, {held.tilt + off.tilt, held.swing + off.swing}, job.head.valves.at(held.datum).id, {}};
    for (const hold::Held& valve : held.valves) out.valves.push_back(job.head.valves.at(valve.valve).id);
    return out;
}

bool plan_text(Work& work) {
    auto job = read(work.text);
    if (!job) {
        for (const auto& fault : job.error()) work.wrong.push_back(to_line(fault));
        work.refused = true;
        return false;
    }
    // Any eight characters that differ with the text do here.
    if (work.digests)
        work.selection.digest = fmt::format("{:08x}", std::hash<std::string>{}(work.text) & 0xffffffffU);
    work.plan = std::make_shared<const plan::Plan>(plan::make_plan(*job, work.c.head, work.selection));
    return true;
}

struct Due {
    std::size_t work = 0;
    const cut::Program* program = nullptr;
    std::string text;
};

// The next file of each: one after the other, in the order of the plan, whose second file stands where its
// first one stood.
std::vector<Due> files_due(std::vector<Work>& works) {
    std::vector<Due> due;
    for (std::size_t w = 0; w < works.size(); ++w)
        for (const cut::Program& program : works[w].plan->cut.programs) {
            if (std::find(works[w].run.begin(), works[w].run.end(), program.file) != works[w].run.end())
                continue;
            std::string text = program.text;
            if (works[w].spoil) works[w].spoil(text);
            due.push_back({w, &program, std::move(text)});
            break;
        }
    return due;
}

// A depth gauge before and after, typed; without a reading of the old seat how far a valve as drawn lies
// below the deck there is.
void measure(Work& work, const std::string& id) {
    const auto& now = work.left.seats[id].cut;
    if (!now) return;
    const Seat& seat = work.c.seat(id);
    const auto typed = [&](double mm) { return work.first_typed ? work.first_typed(mm) : mm; };
    const double depth = typed(-seat.recession - *now + work.gauge_error);
    const double square = 1 / std::hypot(1.0, std::tan(seat.incline), std::tan(seat.cant));
    const double below =
        typed(work.c.of(seat).below_deck - work.c.deck_cut - (*now - work.gauge_error) * square);
    work.measured[id] = depth;
    work.text +=
        fmt::format("[[reading.first]]\nhead = \"{}\"\nvalve = \"{}\"\n{} = \"{:.4f} mm\"\n{}", work.c.head,
                    id, seat.read_height ? "depth" : "below_deck", seat.read_height ? depth : below,
                    work.c.trim_at_control ? "trimmed = \"control\"\n" : "");
}

void run_one(Work& work, const Due& due, const CanonProgram& canon, const job::Job& job) {
    const SetupAsHeld setup = as_held(work, job, due.program->route.setup);
    Machine machine(work.c, setup, work.left, work.person);
    std::map<std::string, std::string> wanted;
    for (const cut::SeatCut& seat : work.plan->cut.seats)
        if (seat.pilot) wanted[job.head.valves.at(seat.valve).id] = job.pilots.at(*seat.pilot).name;
    const Ran ran = machine.run(canon, wanted);
    for (const std::string& wrong : ran.wrong) work.wrong.push_back(due.program->file + ": " + wrong);
    work.stopped = work.stopped || ran.stopped;
    work.moves += ran.moves;
    work.halts += ran.halts;
    work.pilots_put += ran.pilots_put;
    work.run.push_back(due.program->file);
    if (due.program->route.part != cut::FilePart::first || ran.stopped) return;
    if (work.c.measure_at && length(ran.ended_at - *work.c.measure_at) > 1e-3)
        work.wrong.push_back(due.program->file + ": does not end where the first seat is measured");
    for (const cut::Stop& stop : due.program->route.stops) measure(work, stop.id);
}

// The first and last guide of a setup levelled in the fixture.
void level(Work& work, const SetupAsHeld& setup) {
    for (const std::string& id : {setup.valves.front(), setup.valves.back()}) {
        const Seat& seat = work.c.seat(id);
        const P3 axis = setup.attitude.apply({std::tan(seat.cant), std::tan(seat.incline), 1});
        for (const bool incline : {true, false})
            work.text += fmt::format(
                "[[reading.level]]\nhead = \"{}\"\nvalve = \"{}\"\nacross = \"{}\"\nfirst = {:.2f}\n",
                work.c.head, id, incline ? "incline" : "cant",
                std::atan((incline ? axis.y : axis.x) / axis.z) / radians(1));
        if (setup.valves.size() == 1) return;
    }
}

}  // namespace

void plan_first(Work& work) {
    const Case& typed = work.typed ? *work.typed : work.c;
    work.text = job_text(typed);
    if (!plan_text(work)) return;
    const auto job = read(work.text);
    for (std::size_t s = 0; s < work.plan->hold.setups.size(); ++s) {
        const SetupAsHeld setup = as_held(work, *job, s);
        const Machine machine(work.c, setup, work.left, work.person);
        for (const std::string& id : setup.valves) {
            const Seat& seat = work.c.seat(id);
            if (!typed.seat(id).touched) continue;
            P2 at = machine.place(id) + seat.touch_error;
            if (const auto slip = work.touch_typed.find(id); slip != work.touch_typed.end())
                at = slip->second(at);
            work.text += fmt::format(
                "[[reading.touch]]\nhead = \"{}\"\nvalve = \"{}\"\nx = \"{:.3f} mm\"\ny = \"{:.3f} mm\"\n",
                work.c.head, id, at.x, at.y);
        }
        if (work.levels) level(work, setup);
    }
    plan_text(work);
}

void run_all(std::vector<Work>& works, const std::string& folder) {
    for (int round = 0; round < most_files; ++round) {
        const std::vector<Due> due = files_due(works);
        if (due.empty()) return;
        std::vector<std::string> texts;
        for (const Due& d : due) texts.push_back(d.text);
        const auto canon = read_programs(folder, texts);
        for (std::size_t i = 0; i < due.size(); ++i) {
            Work& work = works[due[i].work];
            const auto job = read(work.text);
            const std::size_t measured = work.measured.size();
            run_one(work, due[i], canon[i], *job);
            if (work.measured.size() > measured) plan_text(work);
        }
    }
}

std::optional<double> planned_height(const Work& work, const std::string& id) {
    if (work.c.to_height) return -work.c.finish;
    for (const shape::Seat& seat : work.plan->shape.seats) {
        const auto job = read(work.text);
        if (job->head.valves.at(seat.valve).id == id && seat.depth)
            return -work.c.seat(id).recession_read - *seat.depth;
    }
    return std::nullopt;
}

}  // namespace seatwright::sim
