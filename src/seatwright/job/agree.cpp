#include "seatwright/job/agree.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string_view>

#include "seatwright/job/build.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::job {
namespace {

// Pilots are meant for guides within this of their size (mm); clearances of stems are at most 0.15 mm (trade,
// service data).
constexpr double of_this_guide = 0.3;

const char* word_of(PilotUse use) {
    switch (use) {
        case PilotUse::carried:
            return "carried";
        case PilotUse::planted:
            return "planted";
        case PilotUse::live:
            return "live";
        case PilotUse::none:
            break;
    }
    return "none";
}

const char* style_of(const Pilot& pilot) {
    if (pilot.style == PilotStyle::tapered) return "tapered";
    return pilot.turns_with_tool ? "live" : "parallel";
}

class Judge {
  public:
    explicit Judge(const Job& job) : job_(job) {}

    // Rules that name a valve name one of this head.
    void named_valves() {
        const auto check = [&](const std::optional<std::string>& valve, const std::string& key, int line) {
            if (valve && !job_.head.index_of(*valve)) blame(line, key, no_valve(job_.head, *valve));
        };
        check(job_.depth.zero_on, "depth.zero_on", line_of("depth.zero_on"));
        check(job_.cut.first, "cut.first", line_of("cut.first"));
        for (std::size_t i = 0; i < job_.depth.seats.size(); ++i)
            check(job_.depth.seats[i].valve, fmt::format("depth.seat[{}].valve", i),
                  job_.depth.seats[i].line);
    }

    // A lead's word that names nothing known would be followed by nobody.
    void allowances() {
        for (std::size_t i = 0; i < job_.allow.size(); ++i) {
            const Allowance& allowance = job_.allow[i];
            if (can_pass(allowance.what)) continue;
            blame(allowance.line, fmt::format("allow[{}].what", i),
                  fmt::format("\"{}\" is nothing that can be let pass; wanted: guide, below finish, plumb or "
                              "trim with a valve of this head ({}), or width intake, width exhaust",
                              allowance.what, valves_of(job_.head)));
        }
    }

    // Of the pilots near its guides' size one at least can be used so.
    void pilots() {
        const auto& use = job_.cut.pilot;
        if (!use || *use == PilotUse::none || *use == PilotUse::carried) return;
        const PilotStyle wanted = *use == PilotUse::live ? PilotStyle::parallel : PilotStyle::tapered;
        std::vector<double> bores;
        for (const Kind kind : both_kinds)
            if (job_.guide[kind] && job_.guide[kind]->bore) bores.push_back(*job_.guide[kind]->bore);
        for (const GuideBore& read : job_.readings.guides) bores.push_back(read.middle);
        const auto near = [&](const Pilot& pilot) {
            return bores.empty() || std::any_of(bores.begin(), bores.end(), [&](double bore) {
                       return std::abs(bore - pilot.diameter) <= of_this_guide;
                   });
        };
        const Pilot* other = nullptr;
        for (const Pilot& pilot : job_.pilots) {
            if (!near(pilot)) continue;
            if (pilot.style == wanted) return;
            if (other == nullptr) other = &pilot;
        }
        if (other == nullptr) return;
        blame(line_of("cut.pilot"), "cut.pilot",
              fmt::format("is \"{}\", but pilot \"{}\" has style = \"{}\", and so has every pilot for these "
                          "guides; {}; wanted: another [cut] pilot, or a pilot of the other style",
                          word_of(*use), other->name, style_of(*other),
                          *use == PilotUse::live ? "a live pilot turns in the guide, so it is parallel"
                                                 : "a planted pilot wedges in the guide, so it is tapered"));
    }

    // Where a name has eight letters and three.
    void short_names() {
        if (job_.dialect.names != Dialect::Names::eight_three) return;
        constexpr std::size_t ending = 3;
        if (job_.dialect.file_ending.size() > ending)
            blame(
                line_of("dialect.file_ending"), "dialect.file_ending",
                fmt::format("\"{}\" has more than three letters, and names = \"8.3\" leaves room for no more",
                            job_.dialect.file_ending));
        std::map<std::string, std::string> heads;
        for (const std::string& head : job_.heads()) {
            FileOf file;
            file.head = head;
            file.setup = "A";
            file.number = 1;
            const auto [at, fresh] = heads.try_emplace(without_case(short_name(file)), head);
            if (!fresh)
                blame(line_of("dialect.names"), "dialect.names",
                      fmt::format(
                          "is \"8.3\", and programs of the heads \"{}\" and \"{}\" would both be called "
                          "{}; wanted: another name for one of them, of up to three letters and digits, "
                          "or names = \"long\"",
                          at->second, head, at->first));
        }
    }

    Faults take() { return std::move(faults_); }

  private:
    bool can_pass(std::string_view what) const {
        constexpr std::array<std::string_view, 4> of_valves{"guide ", "below finish ", "plumb ", "trim "};
        return std::any_of(both_kinds.begin(), both_kinds.end(),
                           [&](Kind kind) { return what == std::string("width ") + kind_word(kind); }) ||
               std::any_of(of_valves.begin(), of_valves.end(), [&](std::string_view word) {
                   return what.substr(0, word.size()) == word &&
                          job_.head.index_of(std::string(what.substr(word.size()))).has_value();
               });
    }

    void blame(int line, std::string key, std::string text) {
        faults_.push_back({job_.file, line, std::move(key), std::move(text)});
    }
    int line_of(const char* key) const {
        const auto at = job_.lines.find(key);
        return at == job_.lines.end() ? 1 : at->second;
    }

    const Job& job_;
    Faults faults_;
};

}  // namespace

Faults disagreements(const Job& job, Valves valves) {
    Judge judge(job);
    if (valves == Valves::known) {
        judge.named_valves();
        judge.allowances();
    }
    judge.pilots();
    judge.short_names();
    return judge.take();
}

}  // namespace seatwright::job
