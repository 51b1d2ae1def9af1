#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "seatwright/cut/charts.hpp"
#include "seatwright/cut/cut.hpp"
#include "seatwright/cut/draft.hpp"
#include "seatwright/cut/estimate.hpp"
#include "seatwright/cut/files.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/cut/readback_route.hpp"
#include "seatwright/cut/times.hpp"
#include "seatwright/cut/travel.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

// The shop's file ending, unless it would make another path of the name.
std::string ending_of(const job::Dialect& dialect) {
    const std::string& ending = dialect.file_ending;
    const bool plain = !ending.empty() && std::all_of(ending.begin(), ending.end(),
                                                      [](unsigned char c) { return std::isalnum(c) != 0; });
    return plain ? ending : "ngc";
}

// Told, and held back: nobody is left without a file and without a reason.
void refuse(Cut& cut, Gate& gate, const hold::Setup& setup, const Route& route, const ProgramFault& fault,
            const job::Job& job) {
    const Sentence cutter = route.zeros.size() == 1
                                ? sentence<"of-cutter">("cutter"_is = route.zeros.front().cutter)
                                : Sentence();
    const Sentence line = fault.line ? sentence<"its-line">("line"_is = fault.line) : Sentence();
    const Sentence text = sentence<"program-refused">("setup"_is = setup.id, "cutter"_is = cutter,
                                                      "fault"_is = fault.text, "line"_is = line);
    if (const auto beyond = beyond_travel(job, route))
        gate.hold({route.head, setup.id, std::nullopt, HeldCode::travel, beyond->reason, beyond->frees});
    else
        gate.hold({route.head, setup.id, std::nullopt, HeldCode::safety, text, sentence<"figures-behind">()});
    cut.warnings.push_back({"cut", "program-refused", std::nullopt, text, Severity::blocking});
}

// What was made is withdrawn.
void hold_all(const Cut& cut, Gate& gate, const Sentence& reason, const Sentence& frees) {
    for (const Program& program : cut.programs)
        gate.hold({program.route.head, program.setup, std::nullopt, HeldCode::safety, reason, frees});
}

bool holds_any_of(const Gate& gate, const Route& route) {
    return std::any_of(route.stops.begin(), route.stops.end(),
                       [&](const Stop& stop) { return gate.holds(stop.valve); });
}

// A form that the machine cannot turn is cut nowhere.
void hold_overloads(const Known& known, const SeatPlan& plan, Gate& gate) {
    for (const WorkedForm& form : plan.forms)
        for (const Warning& warning : form.conditions.warnings) {
            if (warning.severity != Severity::blocking) continue;
            for (const std::size_t shaped : plan.shaped) {
                const shape::Seat& seat = known.shape.seats.at(shaped);
                const job::Valve& valve = known.job.head.valves.at(seat.valve);
                if (valve.kind != form.kind || seat.cutter != form.cutter) continue;
                gate.hold({known.shape.head,
                           {},
                           valve.id,
                           HeldCode::safety,
                           warning.text,
                           sentence<"machine-that-bears">()});
            }
        }
}

// A STOP of shape or cut that nothing was held back for holds what it is about, one that names no seat the
// whole head, whatever else is held there; of seats that lack a cutter each is held by itself. Hold and find
// hold back what they stop themselves, unless a lead lets it pass, and may speak of another head.
void hold_stops(const Known& known, const Cut& cut, Gate& gate) {
    const auto covered = [&](const Warning& warning) {
        if (!warning.valve) return warning.code == word_of(HeldCode::no_cutter) || gate.gives(warning.text);
        const auto valve = known.job.head.index_of(*warning.valve);
        return !valve || gate.holds(*valve);
    };
    for (const Notices* stage :
         {static_cast<const Notices*>(&known.shape), static_cast<const Notices*>(&cut)})
        for (const Warning& warning : stage->warnings)
            if (warning.severity == Severity::blocking && !covered(warning))
                gate.hold({known.shape.head,
                           {},
                           warning.valve,
                           HeldCode::safety,
                           warning.text,
                           sentence<"what-it-says">()});
}

// A program that fails its read-back is never handed out but as a draft; the reason is. A draft with what is
// held back is not read back: nothing of it is to be run.
void write_programs(Cut& cut, Gate& gate, const Known& known, const PlannedFiles& files) {
    for (const PlannedFile& file : files.files) {
        const hold::Setup& setup = known.hold.setups[file.route.setup];
        Program program;
        program.text = write_program(known.job, setup, file.route);
        program.halts = halts_of(program.text);
        if (!file.route.draft || !holds_any_of(gate, file.route))
            if (const auto fault =
                    read_back(program.text, known.job, file.route, expected_in(known, setup))) {
                refuse(cut, gate, setup, file.route, *fault, known.job);
                if (!file.route.draft) continue;
            }
        if (file.route.draft) {
            program.text = as_draft(known.job, program.text);
            program.checked = false;
        }
        program.setup = setup.id;
        program.file = fmt::format("{}.{}", file.name, ending_of(known.job.dialect));
        program.lines = static_cast<std::size_t>(std::count(program.text.begin(), program.text.end(), '\n'));
        program.route = file.route;
        cut.programs.push_back(std::move(program));
    }
}

// Files that are right one by one may still do one seat twice between them.
void each_seat_once(Cut& cut, Gate& gate, const Known& known) {
    std::vector<const Route*> routes;
    for (const Program& program : cut.programs)
        if (!program.route.draft) routes.push_back(&program.route);
    const std::string fault = fault_of_files(known.job, routes);
    if (fault.empty()) return;
    const Sentence said = sentence<"none-handed-out">("fault"_is = fault);
    cut.warnings.push_back({"cut", "program-refused", std::nullopt, said, Severity::blocking});
    hold_all(cut, gate, said, sentence<"seats-apart">());
    cut.programs.clear();
}

// On many machines case is no difference, and "6/1" and "6-1" are written alike.
void names_alike(Cut& cut, Gate& gate) {
    using job::without_case;
    for (std::size_t i = 0; i < cut.programs.size(); ++i)
        for (std::size_t j = i + 1; j < cut.programs.size(); ++j)
            if (without_case(cut.programs[i].file) == without_case(cut.programs[j].file)) {
                const Sentence reason = sentence<"names-alike">("file"_is = cut.programs[i].file);
                const Sentence frees = sentence<"names-alike-frees">();
                cut.warnings.push_back(
                    {"cut", "names-alike", std::nullopt,
                     sentence<"names-alike-give">("reason"_is = reason, "frees"_is = frees),
                     Severity::blocking});
                for (const Program* of : {&cut.programs[i], &cut.programs[j]})
                    gate.hold({of->route.head, of->setup, std::nullopt, HeldCode::safety, reason, frees});
                std::erase_if(cut.programs, [name = without_case(cut.programs[i].file)](const Program& p) {
                    return without_case(p.file) == name;
                });
                return names_alike(cut, gate);
            }
}

// Said once the files are known: a shift that no file carries, since its seats are held back for another
// reason, is in no file to be told of.
void tell_trims(Cut& cut, const Known& known, const PlannedFiles& files) {
    const auto carried = [&](const ReadyForm& form, const std::string& setup) {
        return std::any_of(cut.programs.begin(), cut.programs.end(), [&](const Program& program) {
            const std::vector<CutterZero>& zeros = program.route.zeros;
            return program.setup == setup &&
                   std::any_of(zeros.begin(), zeros.end(), [&](const CutterZero& zero) {
                       return zero.cutter == form.form.tool.number && zero.trim != 0;
                   });
        });
    };
    for (const ReadyForm& form : files.forms)
        if (form.first.trim && (shift_of(form) == 0 || carried(form, known.hold.setups[form.form.setup].id)))
            cut.warnings.push_back({"cut", "trim", known.job.head.valves.at(form.seats.front().valve).id,
                                    form.first.trim->words, Severity::note});
}

void take_pilots(Cut& cut, const PlannedFiles& files) {
    for (std::size_t i = 0; i < cut.seats.size(); ++i) cut.seats[i].program_z = files.program_z[i];
    for (const ReadyForm& form : files.forms)
        for (const ReadySeat& seat : form.seats) cut.seats[seat.seat].pilot = seat.pilot;
}

// The first seat first, the touched one last; what is held back is not machined.
std::vector<std::size_t> as_machined(const std::vector<Route>& routes) {
    std::vector<std::size_t> order;
    for (const Route& route : routes)
        for (const Stop& stop : route.stops)
            if (std::find(order.begin(), order.end(), stop.valve) == order.end()) order.push_back(stop.valve);
    return order;
}

}  // namespace

Cut plan(const job::Job& job, const hold::Hold& hold, const find::Find& find, const shape::Shape& shape,
         const job::Selection& selection) {
    Cut cut;
    const Known as_planned{job, hold, find, shape};
    Gate gate(as_planned);
    // A draft goes by what the drawing says where nothing else is known.
    const bool draft = selection.writes == job::Writes::draft;
    const shape::Shape with_the_blocked = draft ? drafted(job, shape) : shape::Shape{};
    const Known known{job, hold, find, draft ? with_the_blocked : shape};
    const SeatPlan seats = plan_seats(job, find, known.shape);
    const Sequence sequence = sequence_seats(job, hold, known.shape, seats);
    cut.seats = seats.seats;
    cut.warnings = seats.warnings;
    cut.warnings.insert(cut.warnings.end(), sequence.warnings.begin(), sequence.warnings.end());
    cut.tools = sequence.tools;
    cut.cutter_changes = sequence.changes;
    cut.path = sequence.path;
    cut.path_bound = sequence.path_bound;
    hold_overloads(known, seats, gate);
    hold_stops(known, cut, gate);
    const PlannedFiles files = plan_files(known, seats, sequence, selection, gate);
    cut.warnings.insert(cut.warnings.end(), files.warnings.begin(), files.warnings.end());
    take_pilots(cut, files);
    cut.routes = files.routes;
    cut.order = as_machined(files.routes);
    write_programs(cut, gate, known, files);
    each_seat_once(cut, gate, known);
    names_alike(cut, gate);
    tell_trims(cut, known, files);
    cut.held_back = gate.entries(selection);
    add_times(cut, known, sequence, files);
    cut.estimate = estimate_of(job, find, shape);
    add_calm(cut, job, seats);
    add_charts(cut, job, seats);
    add_assumptions(cut, job, shape);
    return cut;
}

}  // namespace seatwright::cut
