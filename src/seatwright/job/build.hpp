// From checked entries to the structs of a job, and the faults that only show when keys are seen together.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/job/value.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::job {

// One file's entries with the name to blame.
struct Source {
    const Value* root = nullptr;
    std::string file;
    LengthUnit units = LengthUnit::mm;  // of the job: faults name lengths in it

    Fault fault(int line, std::string key, std::string text) const {
        return {file, line, std::move(key), std::move(text)};
    }
};

template <class T>
struct Built {
    T value{};
    Faults faults;
};

// Whether the valves of a head are not to be trusted after these faults, so that no id should be called
// unknown.
bool valves_in_doubt(const Faults& faults);

// The head of a job file: pattern expanded, explicit valves laid over it, mirrored, in head order.
// `known` are the faults already told of this file: what follows from them is not told again.
Built<Head> build_head(const Source& source, const Faults& known);

// Its valves' ids with commas between them, the first twelve: for faults that name what would be right.
std::string valves_of(const Head& head);
// "… is no valve of this head; its valves are …".
std::string no_valve(const Head& head, const std::string& id);

struct Forms {
    PerKind<std::optional<ValveForm>> valve;
    PerKind<std::optional<SeatForm>> seat;
    PerKind<std::optional<GuideForm>> guide;
};
// A [finish] table as it stands.
Finish read_finish(const Value& table);
// What is wrong with it, as a sentence part; empty if exactly one figure is given.
std::string fault_of(const Finish& finish);
// Each kind's table from the first source that has it.
Built<Forms> build_forms(const std::vector<Source>& sources);

struct Rules {
    DepthRules depth;
    FindRules find;
    CutRules cut;
    std::vector<Sure> sure;
    std::vector<Allowance> allow;
};
Built<Rules> build_rules(const std::vector<Source>& sources);
// The defaults those took, "assumes …", one sentence each.
std::vector<Sentence> assumed_of(const FindRules& find);

struct Shelf {
    std::optional<Machine> machine;
    std::optional<Fixture> fixture;
    std::vector<Fixture> fixtures;
    std::vector<Pilot> pilots;
    std::vector<Cutter> cutters;
    std::vector<Material> materials;
    std::optional<Rates> rates;
    Dialect dialect;
    std::vector<Sentence> assumptions;
};
// What the shop owns; `sources` are the job and, if there is one, its shop file.
Built<Shelf> build_shelf(const std::vector<Source>& sources);

// The first [forecast] among the sources, and the gauges of all of them.
Built<ForecastRules> build_forecast(const std::vector<Source>& sources);
Built<std::vector<Gauge>> build_gauges(const std::vector<Source>& sources);

// Readings of a job file; valves must be in the head (null: not known, so not checked). `trim`: where the
// machine trims, so that a first seat that does not say it was trimmed there.
Built<Readings> build_readings(const Source& source, const Head* head, TrimAt trim = TrimAt::file);

}  // namespace seatwright::job
