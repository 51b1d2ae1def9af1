#include "seatwright/find/record.hpp"

#include <algorithm>
#include <utility>

#include "seatwright/find/pilots.hpp"
#include "seatwright/job/fields.hpp"

namespace seatwright::find {

Fingerprint Record::print_of(const HeadRecord& head) const {
    FingerprintOf print;
    print.add(head.head).add(head.touches);
    for (const std::size_t t : head.touches) print.add(std::as_const(touches_)[t]);
    for (const std::size_t guide : head.last_guide) {
        print.add(guide != unread);
        if (guide != unread) print.add(std::as_const(guides_)[guide]);
    }
    return print.end();
}

void Record::changed(std::size_t head) {
    if (changed_.empty() || changed_.back() != head) changed_.push_back(head);
}

void Record::note_touch(std::size_t touch) {
    const job::Touch& read = std::as_const(touches_)[touch];
    const auto valve = valves_.find(read.valve);
    touch_valve.push_back(valve == valves_.end() ? unread : valve->second);
    const auto [at, fresh] = places_.try_emplace(read.head, heads.size());
    if (fresh) {
        heads.push_back({read.head, {}, {}});
        if (const auto read_before = guides_of_.find(read.head); read_before != guides_of_.end())
            heads.back().last_guide = read_before->second;
    }
    heads[at->second].touches.push_back(touch);
    changed(at->second);
}

void Record::note_guide(std::size_t guide) {
    const job::GuideBore& read = std::as_const(guides_)[guide];
    const auto valve = valves_.find(read.valve);
    if (valve == valves_.end()) return;
    last_guide[valve->second] = guide;
    GuidesRead& own = guides_of_[read.head];
    if (own.empty()) own.assign(last_guide.size(), unread);
    own[valve->second] = guide;
    const auto at = places_.find(read.head);
    if (at == places_.end()) return;
    heads[at->second].last_guide = own;
    changed(at->second);
}

std::size_t Record::take(const job::Job& job) {
    const auto& readings = job.readings;
    const std::size_t known_guides = guides_.size();
    const bool more =
        !nothing_touched_ && readings.touches.grown_from(touches_) && readings.guides.grown_from(guides_);
    touches_ = readings.touches;
    guides_ = readings.guides;
    changed_.clear();
    std::size_t first = heads.size();
    std::vector<HeadRecord> old;
    if (!more) {
        first = 0;
        old = std::move(heads);
        heads.clear();
        touch_valve.clear();
        valves_.clear();
        places_.clear();
        guides_of_.clear();
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) valves_.emplace(job.head.valves[v].id, v);
        last_guide.assign(job.head.valves.size(), unread);
    }
    for (std::size_t t = touch_valve.size(); t < touches_.size(); ++t) note_touch(t);
    nothing_touched_ = heads.empty();
    if (nothing_touched_) {
        heads.push_back({job.heads().front(), {}, {}});
        places_.emplace(heads.front().head, 0);
        changed(0);
    }
    for (std::size_t g = more ? known_guides : 0; g < guides_.size(); ++g) note_guide(g);
    for (const std::size_t head : changed_) heads[head].print = print_of(heads[head]);
    if (more) {
        for (const std::size_t head : changed_) first = std::min(first, head);
        return first;
    }
    while (first < std::min(old.size(), heads.size()) && old[first].print == heads[first].print) ++first;
    return first;
}

std::vector<SetupInput> inputs_of(const job::Job& job, const hold::Hold& hold, const Record& record,
                                  const HeadRecord& head, const std::vector<PilotChoice>& pilots) {
    struct Slot {
        std::size_t setup = unread, guide = 0;
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
        if (valve == unread || slots[valve].setup == unread) continue;
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
        if (record.touch_valve[t] == unread)
            all.push_back({t, touch.at, touch.sd.value_or(job.find.touch_sd), touch.keep});
    }
    return all;
}

}  // namespace seatwright::find
