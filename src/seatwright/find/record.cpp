#include "seatwright/find/record.hpp"

#include <unordered_map>

#include "seatwright/find/pilots.hpp"

namespace seatwright::find {

Record record_of(const job::Job& job) {
    std::unordered_map<std::string, std::size_t> valves, heads;
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) valves.emplace(job.head.valves[v].id, v);
    Record record;
    for (std::size_t t = 0; t < job.readings.touches.size(); ++t) {
        const job::Touch& touch = job.readings.touches[t];
        const auto [it, fresh] = heads.try_emplace(touch.head, record.heads.size());
        if (fresh) record.heads.push_back({touch.head, {}, {}});
        record.heads[it->second].touches.push_back(t);
        const auto valve = valves.find(touch.valve);
        record.touch_valve.push_back(valve == valves.end() ? Record::npos : valve->second);
    }
    if (record.heads.empty()) {
        record.heads.push_back({job.heads().front(), {}, {}});
        heads.emplace(record.heads.front().head, 0);
    }
    record.last_guide.assign(job.head.valves.size(), nullptr);
    for (const job::GuideBore& read : job.readings.guides) {
        const auto valve = valves.find(read.valve);
        if (valve == valves.end()) continue;
        record.last_guide[valve->second] = &read;
        const auto head = heads.find(read.head);
        if (head == heads.end()) continue;
        auto& own = record.heads[head->second].last_guide;
        if (own.empty()) own.assign(job.head.valves.size(), nullptr);
        own[valve->second] = &read;
    }
    return record;
}

std::vector<SetupInput> inputs_of(const job::Job& job, const hold::Hold& hold, const Record& record,
                                  const HeadRecord& head, const std::vector<PilotChoice>& pilots) {
    struct Slot {
        std::size_t setup = Record::npos, guide = 0;
    };
    std::vector<Slot> slots(job.head.valves.size());
    std::vector<SetupInput> inputs;
    for (std::size_t s = 0; s < hold.setups.size(); ++s) {
        SetupInput& input = inputs.emplace_back();
        input.setup = &hold.setups[s];
        input.head = head.head;
        input.prior = prior_of(job.find);
        for (const hold::Held& held : hold.setups[s].valves) {
            slots[held.valve] = {s, input.guides.size()};
            input.guides.push_back({held.readout, job.find.casting_sd});
            input.clearance.push_back(entry_clearance(job, pilots[held.valve]));
        }
    }
    for (const std::size_t t : head.touches) {
        const std::size_t valve = record.touch_valve[t];
        if (valve == Record::npos || slots[valve].setup == Record::npos) continue;
        const job::Touch& touch = job.readings.touches[t];
        inputs[slots[valve].setup].readings.push_back(
            {slots[valve].guide, touch.at, touch.sd.value_or(job.find.touch_sd), t, touch.keep});
    }
    return inputs;
}

std::vector<Unlabelled> unlabelled_of(const job::Job& job, const Record& record, const HeadRecord& head) {
    std::vector<Unlabelled> all;
    for (const std::size_t t : head.touches) {
        const job::Touch& touch = job.readings.touches[t];
        if (record.touch_valve[t] == Record::npos)
            all.push_back({t, touch.at, touch.sd.value_or(job.find.touch_sd), touch.keep});
    }
    return all;
}

}  // namespace seatwright::find
