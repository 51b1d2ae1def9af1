#include "seatwright/prove/measured.hpp"

#include "seatwright/find/pilots.hpp"
#include "seatwright/job/fields.hpp"
#include "seatwright/prove/batch.hpp"

namespace seatwright::prove {

namespace {

bool same(const job::SeatAfter& a, const job::SeatAfter& b) {
    bool out = true;
    fields(a, [&](const auto&... of_a) {
        fields(b, [&](const auto&... of_b) { out = ((of_a == of_b) && ...); });
    });
    return out;
}

Counted counted_in(const SeatProof& seat) {
    Counted out;
    for (const Judgement& j : seat.judgements) {
        if (j.what != "runout" || j.verdict == Verdict::not_measured) continue;
        out.measured += 1;
        out.passed += j.verdict == Verdict::pass ? 1 : 0;
    }
    return out;
}

}  // namespace

void Measured::note(std::size_t reading) {
    const job::SeatAfter& read = std::as_const(proofs_)[reading];
    const auto valve = valves_.find(read.valve);
    if (valve == valves_.end()) return;  // the reader has said so
    const auto [at, fresh] = places_.try_emplace(read.head, heads_.size());
    if (fresh) {
        heads_.push_back(read.head);
        by_head_.emplace_back();
    }
    Seat& seat = by_head_[at->second][valve->second];
    seat.readings.push_back(reading);
    seat.result.reset();
    changed_.emplace_back(at->second, valve->second);
}

// What seats with the same readings as before gave.
void Measured::take_over(const std::vector<std::string>& heads, const std::vector<Seats>& by_head,
                         const GrowingList<job::SeatAfter>& proofs) {
    const auto same_readings = [&](const Seat& a, const Seat& b) {
        return a.result && a.readings.size() == b.readings.size() &&
               std::equal(a.readings.begin(), a.readings.end(), b.readings.begin(),
                          [&](std::size_t of_a, std::size_t of_b) {
                              return same(proofs[of_a], std::as_const(proofs_)[of_b]);
                          });
    };
    for (std::size_t h = 0; h < heads.size(); ++h) {
        const auto at = places_.find(heads[h]);
        if (at == places_.end()) continue;
        for (auto& [valve, seat] : by_head_[at->second]) {
            const auto old = by_head[h].find(valve);
            if (old != by_head[h].end() && same_readings(old->second, seat)) seat.result = old->second.result;
        }
    }
}

void Measured::take_guides(const job::Job& job) {
    const auto& guides = job.readings.guides;
    if (!guides.grown_from(guides_)) {
        guides_.clear();
        pilots_.clear();
        for (std::size_t h = 0; h < heads_.size(); ++h) other_values_.insert(h);
    }
    for (std::size_t g = guides_.size(); g < guides.size(); ++g) {
        const auto valve = valves_.find(guides[g].valve);
        if (valve == valves_.end()) continue;
        auto& own = pilots_[guides[g].head];
        own.resize(job.head.valves.size());
        const auto choice = find::choose_pilot(job, valve->second, &guides[g]);
        own[valve->second] = choice.pilot ? job.pilots[*choice.pilot].name : "";
        if (const auto place = places_.find(guides[g].head); place != places_.end())
            other_values_.insert(place->second);
    }
    guides_ = guides;
}

void Measured::take(const job::Job& job) {
    if (valves_.empty())
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
            valves_.emplace(job.head.valves[v].id, v);
            kinds_.push_back(job.head.valves[v].kind);
        }
    const auto& proofs = job.readings.proofs;
    if (proofs.grown_from(proofs_)) {
        const std::size_t known = proofs_.size();
        proofs_ = proofs;
        for (std::size_t p = known; p < proofs.size(); ++p) note(p);
    } else {
        const auto before = std::exchange(proofs_, proofs);
        const auto heads = std::exchange(heads_, {});
        const auto by_head = std::exchange(by_head_, {});
        places_.clear();
        changed_.clear();
        numbers_.clear();
        other_values_.clear();
        characteristics_.clear();
        counted_ = {};
        for (std::size_t p = 0; p < proofs.size(); ++p) note(p);
        take_over(heads, by_head, before);
    }
    judge_changed(job);
    take_guides(job);
    take_numbers();
    take_values(job);
}

void Measured::judge_changed(const job::Job& job) {
    for (const auto& [head, valve] : changed_) {
        Seat& seat = by_head_[head][valve];
        if (!seat.result) {
            std::vector<const job::SeatAfter*> readings;
            readings.reserve(seat.readings.size());
            for (const std::size_t p : seat.readings) readings.push_back(&std::as_const(proofs_)[p]);
            seat.result = std::make_shared<const SeatResult>(prove_seat(job, valve, readings));
        }
        const Counted now = counted_in(seat.result->proof);
        counted_.measured += now.measured - seat.counted.measured;
        counted_.passed += now.passed - seat.counted.passed;
        seat.counted = now;
        other_values_.insert(head);
    }
    changed_.clear();
}

// Heads called by ascending numbers have these, and all of them others as soon as one is not.
void Measured::take_numbers() {
    if (numbers_.size() == heads_.size()) return;
    auto numbers = head_numbers(heads_);
    if (!std::equal(numbers_.begin(), numbers_.end(), numbers.begin()))
        for (std::size_t h = 0; h < heads_.size(); ++h) other_values_.insert(h);
    numbers_ = std::move(numbers);
}

void Measured::take_values(const job::Job& job) {
    if (characteristics_.empty()) characteristics_ = prove::characteristics(job);
    for (const std::size_t head : other_values_)
        for (Characteristic& of : characteristics_) {
            HeadValues values;
            values.number = numbers_[head];
            for (const auto& [valve, seat] : by_head_[head])
                if (kinds_[valve] == of.kind())
                    prove::note(values, of, seat.result->proof, pilot(head, valve));
            of.set(head, std::move(values));
        }
    other_values_.clear();
}

std::pair<std::size_t, std::size_t> Measured::range_of(const std::string& head) const {
    if (head.empty()) return {0, heads_.size()};
    const auto at = places_.find(head);
    return at == places_.end() ? std::pair<std::size_t, std::size_t>{}
                               : std::pair{at->second, at->second + 1};
}

std::vector<MeasuredSeat> Measured::seats(const std::string& head) const {
    std::vector<MeasuredSeat> all;
    const auto [from, to] = range_of(head);
    for (std::size_t h = from; h < to; ++h)
        for (const auto& [valve, seat] : by_head_[h]) all.push_back({h, seat.result.get()});
    return all;
}

std::vector<Unmeasured> Measured::unmeasured(const job::Job& job, const std::string& head) const {
    std::vector<Unmeasured> all;
    const auto [from, to] = range_of(head);
    for (std::size_t h = from; h < to; ++h)
        for (std::size_t v = 0; v < job.head.valves.size(); ++v)
            if (!by_head_[h].contains(v)) all.push_back({heads_[h], v});
    return all;
}

const std::string& Measured::pilot(std::size_t head, std::size_t valve) const {
    static const std::string none;
    const auto own = pilots_.find(heads_[head]);
    return own == pilots_.end() ? none : own->second[valve];
}

}  // namespace seatwright::prove
