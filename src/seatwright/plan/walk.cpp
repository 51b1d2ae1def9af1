#include "seatwright/plan/walk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "seatwright/base/sha256.hpp"
#include "seatwright/find/found_head.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_plan.hpp"

namespace seatwright::plan {

namespace {

using StepKind = WalkStep::Kind;

Sentence turn_of(const hold::Setup& setup) {
    const Figure tilt = as_angle(setup.tilt);
    if (shows_in_degrees(setup.swing))
        return sentence<"turn-both">("tilt"_is = tilt, "swing"_is = as_angle(setup.swing));
    return sentence<"turn">("tilt"_is = tilt);
}

// What the machine is told, without what is only said beside it: in brackets, or behind a semicolon.
std::string print_of_moves(std::string_view program) {
    std::string moves;
    moves.reserve(program.size());
    char until = 0;
    for (const char c : program) {
        if (until == 0 && (c == '(' || c == ';')) until = c == '(' ? ')' : '\n';
        if (until == 0 || c == '\n') moves += c;
        if (c == until || c == '\n') until = 0;
    }
    constexpr std::size_t digits = 8;
    return sha256(moves).substr(0, digits);
}

class Walk {
  public:
    Walk(const job::Job& job, const Plan& plan, const std::string& head)
        : job_(job), plan_(plan), head_(head) {
        for (const auto& proof : job::of_head(job.readings.proofs, head_)) measured_.insert(proof.valve);
        for (const auto& first : job::of_head(job.readings.firsts, head_)) first_read_.insert(first.valve);
        found_ = find::found_head(plan.find, head_);
    }

    std::vector<WalkStep> steps() {
        const auto& setups = plan_.hold.setups;
        for (std::size_t i = 0; i < setups.size(); ++i) {
            begin(i);
            cutters(i);
        }
        WalkStep measure{.kind = StepKind::measure,
                         .id = "measure",
                         .words = sentence<"measure">(),
                         .mark = sentence<"mark-measure">()};
        for (std::size_t v = 0; v < job_.head.valves.size(); ++v) measure.valves.push_back(v);
        measure.done = all_measured(measure.valves);
        out_.push_back(std::move(measure));
        out_.push_back({.kind = StepKind::finished,
                        .id = "finished",
                        .words = sentence<"finished">("head"_is = head_),
                        .against = sentence<"finished-against">("head"_is = head_),
                        .mark = sentence<"mark-finished">()});
        return std::move(out_);
    }

  private:
    const std::string& id_of(std::size_t valve) const { return job_.head.valves.at(valve).id; }
    bool is_in(const std::set<std::string>& ids, std::size_t valve) const {
        return ids.count(id_of(valve)) > 0;
    }
    bool all_measured(const std::vector<std::size_t>& valves) const {
        return std::all_of(valves.begin(), valves.end(), [&](std::size_t v) { return is_in(measured_, v); });
    }

    // Loaded and touched.
    void begin(std::size_t i) {
        const auto& setups = plan_.hold.setups;
        const hold::Setup& setup = setups[i];
        const bool several = setups.size() > 1;
        std::vector<std::size_t> valves;
        valves.reserve(setup.valves.size());
        for (const auto& held : setup.valves) valves.push_back(held.valve);
        const find::FoundSetup* found = found_in(setup.id);
        const bool touched = is_touched(i);
        const bool over = all_measured(valves);
        // All setups may be touched before the first is cut: then the fixture comes back to it.
        bool left = false, before_it = false;
        for (std::size_t other = 0; other < setups.size(); ++other) {
            left = left || (other > i && first_file_waits(i) && is_touched(other));
            before_it = before_it || (other < i && first_file_waits(other));
        }
        WalkStep load{.kind = StepKind::load, .id = "load " + setup.id, .setup = setup.id};
        const Sentence turn = turn_of(setup);
        if (i > 0)
            load.words =
                sentence<"turn-to">("before"_is = setups[i - 1].id, "setup"_is = setup.id, "turn"_is = turn);
        else if (several)
            load.words = sentence<"load-setup">("head"_is = head_, "setup"_is = setup.id, "turn"_is = turn);
        else
            load.words = sentence<"load">("head"_is = head_, "turn"_is = turn);
        load.mark = several ? sentence<"mark-load-setup">("setup"_is = setup.id) : sentence<"mark-load">();
        load.begins = true;
        load.done = over || (touched && !before_it);
        out_.push_back(std::move(load));
        WalkStep touch{.kind = StepKind::touch, .id = "touch " + setup.id, .setup = setup.id};
        touch.words = several ? sentence<"touch-setup">("setup"_is = setup.id) : sentence<"touch">();
        touch.mark = sentence<"mark-touch">();
        touch.valves = valves;
        touch.done = over || (touched && !wants_touch(*found));
        out_.push_back(std::move(touch));
        if (!left) return;
        WalkStep back{.kind = StepKind::load, .id = "back " + setup.id, .setup = setup.id};
        back.words = sentence<"turn-back">("head"_is = head_, "setup"_is = setup.id, "turn"_is = turn);
        back.mark = sentence<"mark-back">("setup"_is = setup.id);
        out_.push_back(std::move(back));
    }

    bool is_touched(std::size_t setup) const {
        const find::FoundSetup* found = found_in(plan_.hold.setups[setup].id);
        return found != nullptr && std::any_of(found->guides.begin(), found->guides.end(),
                                               [](const auto& g) { return g.touched; });
    }
    // Its first file is still to be run: nothing of it is read yet that was cut.
    bool first_file_waits(std::size_t setup) const {
        const hold::Setup& here = plan_.hold.setups[setup];
        return std::none_of(here.valves.begin(), here.valves.end(),
                            [&](const hold::Held& held) {
                                return is_in(first_read_, held.valve) || is_in(measured_, held.valve);
                            }) &&
               std::any_of(plan_.cut.programs.begin(), plan_.cut.programs.end(),
                           [&](const cut::Program& program) {
                               return program.route.head == head_ && program.setup == here.id &&
                                      program.route.part == cut::FilePart::first && !program.route.draft;
                           });
    }

    const find::FoundSetup* found_in(const std::string& setup) const {
        if (found_ == nullptr) return nullptr;
        for (const auto& found : found_->setups)
            if (found.id == setup) return &found;
        return nullptr;
    }

    // One more helps, or what was touched does not agree.
    static bool wants_touch(const find::FoundSetup& found) {
        return (found.next_touch && found.touches_to_target.value_or(0) > 0) || !found.set_aside.empty() ||
               std::any_of(found.guides.begin(), found.guides.end(), [](const auto& g) { return g.suspect; });
    }

    // One cutter in one setup: its files, with lengths kept in the control those of all cutters.
    struct Cutting {
        std::string id{};          // "A 1"
        Sentence name{}, where{};  // "cutter 1"; "head 7, setup A"
        std::string setup{};
        bool all = false;    // every cutter of the setup
        bool first = false;  // of the setup
        bool over = false;   // every seat of it is measured
        bool begun = false;  // a seat of it is measured, or its first one is
        std::vector<std::size_t> seats{};
        const cut::Program* program = nullptr;  // that is to be run next; null: none is written
        const cut::Route* route = nullptr;      // of all its seats
        cut::FilePart part = cut::FilePart::whole;
    };

    // Those of the routes, and of cutters that have none by now (their Z0 seat is cut, or they are held back)
    // by the seats they are planned for.
    void cutters(std::size_t setup) {
        const std::string& name = plan_.hold.setups[setup].id;
        std::map<std::string, int> turns;
        std::vector<std::pair<int, Cutting>> all;  // under the cutter's number
        for (const cut::Route& route : plan_.cut.routes) {
            if (route.setup != setup || route.stops.empty() || route.zeros.empty()) continue;
            const int number = route.zeros.front().cutter;
            Cutting run = cutting(name, cutter_word(number), turns[cutter_word(number)]++, valves_of(route));
            run.route = &route;
            run.program = program_of(route, run.seats);
            if (run.program != nullptr) run.part = run.program->route.part;
            all.emplace_back(number, std::move(run));
        }
        const std::size_t of_routes = all.size();
        for (auto& [number, valves] : seats_by_tool(setup))
            if (turns.count(cutter_word(number)) == 0) {
                all.emplace_back(number, cutting(name, cutter_word(number), 0, std::move(valves)));
                turns[cutter_word(number)] = 1;
            }
        if (of_routes < all.size())
            std::stable_sort(all.begin(), all.end(),
                             [](const auto& a, const auto& b) { return a.first < b.first; });
        if (of_routes == 0 &&
            std::none_of(all.begin(), all.end(), [](const auto& run) { return run.second.begun; })) {
            held_setup(setup);
            return;
        }
        if (!all.empty()) all.front().second.first = true;
        for (const auto& [number, run] : all) add(run);
    }

    // With lengths kept in the control all under the first.
    std::map<int, std::vector<std::size_t>> seats_by_tool(std::size_t setup) const {
        std::map<int, std::vector<std::size_t>> seats;
        for (const auto& valve : plan_.hold.setups[setup].valves)
            if (const auto number = tool_number(valve.valve))
                seats[job_.machine.zero == job::ZeroKept::offsets ? 1 : *number].push_back(valve.valve);
        return seats;
    }

    void held_setup(std::size_t setup) {
        const std::string& name = plan_.hold.setups[setup].id;
        WalkStep held{.kind = StepKind::held, .id = "held " + name, .setup = name};
        for (const auto& valve : plan_.hold.setups[setup].valves) held.valves.push_back(valve.valve);
        if (all_measured(held.valves)) return;
        held.words = sentence<"no-file">("setup"_is = name);
        held.mark = sentence<"mark-held">();
        out_.push_back(std::move(held));
    }

    Cutting cutting(const std::string& setup, const std::string& cutter, int turn,
                    std::vector<std::size_t> seats) const {
        Cutting run{.id = setup + " " + cutter + (turn == 0 ? "" : fmt::format(".{}", turn + 1)),
                    .setup = setup};
        run.all = cutter == "all";
        run.name = run.all ? sentence<"all-cutters">() : sentence<"cutter">("cutter"_is = cutter);
        run.where = plan_.hold.setups.size() > 1
                        ? sentence<"of-head-setup">("head"_is = head_, "setup"_is = setup)
                        : sentence<"of-head">("head"_is = head_);
        run.over = all_measured(seats);
        const bool read =
            std::any_of(seats.begin(), seats.end(), [&](std::size_t v) { return is_in(first_read_, v); });
        run.begun = read || std::any_of(seats.begin(), seats.end(),
                                        [&](std::size_t v) { return is_in(measured_, v); });
        run.part = read ? cut::FilePart::rest : cut::FilePart::whole;
        run.seats = std::move(seats);
        return run;
    }

    std::string cutter_word(int number) const {
        return job_.machine.zero == job::ZeroKept::offsets ? "all" : std::to_string(number);
    }

    std::optional<int> tool_number(std::size_t valve) const {
        if (valve >= plan_.shape.seats.size()) return std::nullopt;
        const shape::Seat& seat = plan_.shape.seats[valve];
        for (const cut::Tool& tool : plan_.cut.tools)
            if (seat.cutter == tool.cutter && seat.blade_setting.value_or(0) == tool.blade_setting)
                return tool.number;
        return std::nullopt;
    }

    void add(const Cutting& run) {
        const std::size_t began = out_.size();
        if (run.program == nullptr && !run.over && !run.begun && !waits_for_first(run.route)) {
            WalkStep& held = step(run, StepKind::held, "held", sentence<"mark-held">());
            held.words = sentence<"no-file-of">("cutter"_is = run.name, "setup"_is = run.setup);
            held.valves = run.seats;
        } else if (run.part == cut::FilePart::whole) {
            take(run, Of::one, false);
            zero(run, false);
            if (run.program != nullptr && run.program->route.measure_after) first(run);
            cut(run);
        } else {
            const bool read = run.part == cut::FilePart::rest;
            take(run, Of::first, read);
            zero(run, read);
            first(run);
            take(run, Of::second, false);
            cut(run);
        }
        out_[began].begins = true;
        if (run.program != nullptr || run.over)
            out_[began].mark = run.all ? sentence<"mark-file">() : run.name;
    }

    WalkStep& step(const Cutting& run, StepKind kind, const std::string& what, Sentence mark) {
        WalkStep step{.kind = kind, .id = what + " " + run.id, .run = run.id, .setup = run.setup};
        step.mark = std::move(mark);
        step.done = run.over;
        return out_.emplace_back(std::move(step));
    }

    enum class Of { one, first, second };  // of how many files

    // Nothing is taken where a person types the positions.
    void take(const Cutting& run, Of which, bool done) {
        if (job_.machine.runs == job::Runs::hand) return;
        const bool change = !run.first && !run.all && which != Of::second;
        WalkStep& take = step(run, StepKind::take, "take", sentence<"mark-file">());
        if (which == Of::first) take.id += " first";
        take.done = take.done || done;
        take.words = take_words(run, which, change);
        take.valves = run.seats;
        const bool here =
            run.program != nullptr && (which == Of::first) == (run.part == cut::FilePart::first);
        if (!here || done) return;
        take.file = run.program->file;
        take.moves = print_of_moves(run.program->text);
        take.valves = valves_of(run.program->route);
    }

    static Sentence take_words(const Cutting& run, Of which, bool change) {
        const auto cutter = "cutter"_is = run.name;
        const auto where = "where"_is = run.where;
        if (which == Of::second) return sentence<"take-second">(cutter, where);
        if (which == Of::first)
            return change ? sentence<"change-take-first">(cutter, where)
                          : sentence<"take-first">(cutter, where);
        return change ? sentence<"change-take">(cutter, where) : sentence<"take">(cutter, where);
    }

    void zero(const Cutting& run, bool done) {
        const bool change = job_.machine.runs == job::Runs::hand && !run.first && !run.all;
        WalkStep& zero = step(run, StepKind::zero, "zero", sentence<"mark-zero">());
        zero.done = zero.done || done;
        zero.words = change ? sentence<"change-zero">("cutter"_is = run.name)
                            : sentence<"zero-taken">("cutter"_is = run.name);
        const cut::Route* route = run.program != nullptr ? &run.program->route : run.route;
        if (route == nullptr) return;
        for (const cut::CutterZero& of : route->zeros) {
            if (!of.taken.words.empty()) zero.ways.push_back(of.taken.words);
            if (!zero.on) zero.on = of.taken.valve;
        }
    }

    void first(const Cutting& run) {
        WalkStep& first = step(run, StepKind::first, "first", sentence<"mark-first">());
        if (run.program != nullptr && run.program->route.measure_after) {
            const auto& stops = run.program->route.stops;
            for (std::size_t i = 0; i <= *run.program->route.measure_after && i < stops.size(); ++i)
                first.valves.push_back(stops[i].valve);
        } else {
            std::copy_if(run.seats.begin(), run.seats.end(), std::back_inserter(first.valves),
                         [&](std::size_t v) { return is_in(first_read_, v); });
        }
        const auto unread = std::find_if(first.valves.begin(), first.valves.end(),
                                         [&](std::size_t v) { return !is_in(first_read_, v); });
        first.done = first.done || unread == first.valves.end();
        first.words = unread == first.valves.end() ? sentence<"first">()
                                                   : sentence<"first-of">("valve"_is = id_of(*unread));
    }

    void cut(const Cutting& run) {
        WalkStep& cut = step(run, StepKind::cut, "cut", sentence<"mark-cut">());
        std::vector<std::string> ids;
        ids.reserve(run.seats.size());
        for (const std::size_t v : run.seats) ids.push_back(id_of(v));
        cut.words = sentence<"cut">("cutter"_is = run.name, "seats"_is = list_of(ids, Join::commas));
        cut.valves = run.seats;
    }

    static std::vector<std::size_t> valves_of(const cut::Route& route) {
        std::vector<std::size_t> valves;
        valves.reserve(route.stops.size());
        for (const cut::Stop& stop : route.stops)
            if (std::find(valves.begin(), valves.end(), stop.valve) == valves.end())
                valves.push_back(stop.valve);
        return valves;
    }

    // Of the same cutters, with a seat in common.
    const cut::Program* program_of(const cut::Route& route, const std::vector<std::size_t>& seats) const {
        const std::string& setup = plan_.hold.setups[route.setup].id;
        for (const cut::Program& program : plan_.cut.programs) {
            if (program.setup != setup || program.route.draft) continue;
            for (const cut::Stop& stop : program.route.stops)
                if (std::find(seats.begin(), seats.end(), stop.valve) != seats.end()) return &program;
        }
        return nullptr;
    }

    // A later turn of a cutter whose first seat is cut in an earlier one.
    bool waits_for_first(const cut::Route* whole) const {
        if (whole == nullptr) return false;
        const cut::Route& route = *whole;
        const std::string& setup = plan_.hold.setups[route.setup].id;
        return std::any_of(plan_.cut.programs.begin(), plan_.cut.programs.end(), [&](const auto& program) {
            return program.setup == setup && program.route.part == cut::FilePart::first &&
                   program.route.zeros.front().cutter == route.zeros.front().cutter;
        });
    }

    const job::Job& job_;
    const Plan& plan_;
    const std::string head_;
    const find::FoundHead* found_ = nullptr;
    std::set<std::string> measured_, first_read_;
    std::vector<WalkStep> out_;
};

}  // namespace

std::string word_of(WalkStep::Kind kind) {
    switch (kind) {
        case StepKind::load:
            return "load";
        case StepKind::touch:
            return "touch";
        case StepKind::held:
            return "held";
        case StepKind::take:
            return "take";
        case StepKind::zero:
            return "zero";
        case StepKind::first:
            return "first";
        case StepKind::cut:
            return "cut";
        case StepKind::measure:
            return "measure";
        case StepKind::finished:
            break;
    }
    return "finished";
}

std::vector<WalkStep> walk_of(const job::Job& job, const Plan& plan, const std::string& head) {
    return Walk(job, plan, head).steps();
}

}  // namespace seatwright::plan
