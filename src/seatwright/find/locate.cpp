#include <algorithm>
#include <unordered_map>

#include "seatwright/find/blind_run.hpp"
#include "seatwright/find/find.hpp"
#include "seatwright/find/label.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/find/setup.hpp"

#include <fmt/format.h>

namespace seatwright::find {
namespace {

// Where each valve is held: setup and place within it.
struct Slot {
    std::size_t setup = 0, guide = 0;
    bool held = false;
};

std::vector<Slot> slots_of(const job::Job& job, const hold::Hold& hold) {
    std::vector<Slot> slots(job.head.valves.size());
    for (std::size_t s = 0; s < hold.setups.size(); ++s)
        for (std::size_t g = 0; g < hold.setups[s].valves.size(); ++g)
            slots[hold.setups[s].valves[g].valve] = {s, g, true};
    return slots;
}

// Heads with touches, in order of first appearance, and their touches; all else is one head without.
struct Record {
    std::vector<std::string> heads;
    std::vector<std::vector<std::size_t>> touches;  // indices into job.readings.touches, by head
};

Record record_of(const job::Job& job) {
    Record record;
    std::unordered_map<std::string, std::size_t> known;
    for (std::size_t t = 0; t < job.readings.touches.size(); ++t) {
        const auto [it, fresh] = known.try_emplace(job.readings.touches[t].head, record.heads.size());
        if (fresh) {
            record.heads.push_back(it->first);
            record.touches.emplace_back();
        }
        record.touches[it->second].push_back(t);
    }
    if (record.heads.empty()) {
        record.heads.push_back(job.heads().front());
        record.touches.emplace_back();
    }
    return record;
}

// One valve's choice by the last head that read its guide.
std::vector<PilotChoice> latest_pilots(const job::Job& job) {
    std::vector<const job::GuideBore*> last(job.head.valves.size(), nullptr);
    for (const job::GuideBore& read : job.readings.guides)
        if (const auto valve = job.head.index_of(read.valve)) last[*valve] = &read;
    std::vector<PilotChoice> choices;
    for (std::size_t v = 0; v < last.size(); ++v) choices.push_back(choose_pilot(job, v, last[v]));
    return choices;
}

void say_guides(Find& result, const job::Job& job) {
    for (const job::GuideBore& read : job.readings.guides) {
        const auto valve = job.head.index_of(read.valve);
        if (!valve) continue;
        const PilotChoice choice = choose_pilot(job, *valve, &read);
        if (choice.repair)
            result.warnings.push_back(
                {"find", "guide-repair", read.valve,
                 fmt::format("head {}: {}. Repair the guide before its seat is cut: the seat "
                             "follows the guide.",
                             read.head, choice.reason),
                 Weight::blocking});
        else if (!choice.pilot && !job.pilots.empty())
            result.warnings.push_back({"find", "no-pilot", read.valve,
                                       fmt::format("head {}: {} ({:.3f}, {:.3f}, {:.3f} mm).", read.head,
                                                   choice.reason, read.top, read.middle, read.bottom),
                                       Weight::blocking});
    }
}

std::vector<SetupInput> inputs_of(const job::Job& job, const hold::Hold& hold, const std::vector<Slot>& slots,
                                  const FoundHead& head, const std::vector<std::size_t>& touches) {
    std::vector<SetupInput> inputs;
    for (const hold::Setup& setup : hold.setups) {
        SetupInput& input = inputs.emplace_back();
        input.setup = &setup;
        input.head = head.head;
        input.prior = prior_of(job.find);
        for (const hold::Held& held : setup.valves) {
            input.guides.push_back({held.readout, job.find.casting_sd});
            input.clearance.push_back(entry_clearance(job, head.pilots[held.valve]));
        }
    }
    for (const std::size_t t : touches) {
        const job::Touch& touch = job.readings.touches[t];
        const auto valve = job.head.index_of(touch.valve);
        if (!valve || !slots[*valve].held) continue;
        inputs[slots[*valve].setup].readings.push_back(
            {slots[*valve].guide, touch.at, touch.sd.value_or(job.find.touch_sd), t});
    }
    return inputs;
}

std::vector<Unlabelled> unlabelled_of(const job::Job& job, const std::vector<std::size_t>& touches) {
    std::vector<Unlabelled> all;
    for (const std::size_t t : touches) {
        const job::Touch& touch = job.readings.touches[t];
        if (touch.valve == "?") all.push_back({t, touch.at, touch.sd.value_or(job.find.touch_sd)});
    }
    return all;
}

// Said once, however many heads it holds for.
void take_notices(Find& result, Notices from) {
    std::move(from.warnings.begin(), from.warnings.end(), std::back_inserter(result.warnings));
    for (std::string& line : from.assumptions)
        if (std::find(result.assumptions.begin(), result.assumptions.end(), line) == result.assumptions.end())
            result.assumptions.push_back(std::move(line));
}

}  // namespace

Find locate(const job::Job& job, const hold::Hold& hold) {
    Find result;
    const std::vector<Slot> slots = slots_of(job, hold);
    const Record record = record_of(job);
    result.pilots = latest_pilots(job);
    say_guides(result, job);
    for (std::size_t h = 0; h < record.heads.size(); ++h) {
        FoundHead head;
        head.head = record.heads[h];
        head.pilots = choose_pilots(job, head.head);
        Labelled labelled = label_touches(job, inputs_of(job, hold, slots, head, record.touches[h]),
                                          unlabelled_of(job, record.touches[h]));
        for (const SetupInput& input : labelled.inputs) {
            SetupOutcome outcome = locate_setup(job, hold, input);
            head.setups.push_back(std::move(outcome.found));
            take_notices(result, std::move(outcome));
        }
        take_notices(result, std::move(labelled));
        result.heads.push_back(std::move(head));
    }
    std::vector<std::vector<Expected>> next(hold.setups.size());
    for (std::size_t s = 0; s < hold.setups.size(); ++s)
        for (const hold::Held& held : hold.setups[s].valves)
            next[s].push_back({held.readout, job.find.casting_sd});
    result.blind_run = blind_run(job, hold, result.heads, result.pilots, next);
    if (result.blind_run && !job.find.carry)
        result.assumptions.push_back(
            "assumes for the blind run that the next head lies where the last one did, within what the posts "
            "allow, "
            "its yaw turning about each setup's datum guide (a little pessimistic at the far end).");
    return result;
}

}  // namespace seatwright::find
