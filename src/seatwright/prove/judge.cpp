#include <algorithm>
#include <map>
#include <set>

#include "seatwright/cut/chatter.hpp"
#include "seatwright/cut/conditions.hpp"
#include "seatwright/job/doubts.hpp"
#include "seatwright/prove/batch.hpp"
#include "seatwright/prove/causes.hpp"
#include "seatwright/prove/components.hpp"
#include "seatwright/prove/gauges.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/prove/seat.hpp"
#include "seatwright/prove/verdict.hpp"
#include "seatwright/prove/whole_head.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

namespace {

void add(Notices& all, const Notices& more) {
    all.warnings.insert(all.warnings.end(), more.warnings.begin(), more.warnings.end());
}

// Said once for the whole job, not seat by seat.
void say_unstated(Proof& proof, const job::Job& job) {
    std::set<std::string> seats;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements)
            if (j.value && !j.u && !j.what.starts_with("vacuum"))
                seats.insert(seat.head + "/" + job.head.valves[seat.valve].id);
    if (seats.empty()) return;
    proof.warnings.push_back(
        {"prove", "uncertainty-not-stated", std::nullopt,
         sentence<"uncertainty-not-stated">("count"_is = seats.size(), "seats"_is = proof.seats.size(),
                                            "first"_is = *seats.begin()),
         Severity::note});
}

// What a vacuum reading does not say, beside any that was taken.
void tell_vacuum(Proof& proof) {
    const bool read = std::any_of(proof.seats.begin(), proof.seats.end(),
                                  [](const SeatProof& seat) { return seat.vacuum.has_value(); });
    if (!read) return;
    proof.assumptions.push_back(sentence<"vacuum-a-hint">());
}

// Speeds that the strongest chatter seen leaves quiet: the waves of each pass fall in step.
void calm(Proof& proof, const job::Job& job) {
    const Cause* strongest = nullptr;
    for (const auto& seat : proof.seats)
        for (const auto& cause : seat.causes)
            if (cause.frequency && (!strongest || cause.share > strongest->share)) strongest = &cause;
    if (!strongest) return;
    const double slowest = job.machine.rpm_min.value_or(cut::slowest_spindle);
    const double fastest = job.machine.rpm_max.value_or(60 * *strongest->frequency);
    const int blades = job.cutters.empty() ? 1 : job.cutters.front().blades;
    proof.calm_rpm = cut::calm_speeds(*strongest->frequency, blades, slowest, fastest);
}

void overall(Proof& proof, const job::Job& job) {
    if (proof.seats.empty()) {
        proof.warnings.push_back(
            {"prove", "no-readings", std::nullopt, sentence<"nothing-measured">(), Severity::note});
        return;
    }
    proof.verdict = Verdict::pass;
    for (const auto& seat : proof.seats) proof.verdict = worse(proof.verdict, seat.verdict);
    for (const auto& s : proof.stem_spreads) proof.verdict = worse(proof.verdict, s.judgement.verdict);
    if (proof.unmeasured.empty()) return;
    proof.verdict = worse(proof.verdict, Verdict::not_measured);
    std::map<std::string, std::vector<std::string>> by_head;
    for (const auto& u : proof.unmeasured) by_head[u.head].push_back(job.head.valves[u.valve].id);
    for (const auto& [head, ids] : by_head)
        proof.warnings.push_back(
            {"prove", "seats-not-measured", std::nullopt,
             sentence<"seats-not-measured">("head"_is = head,
                                            "seats"_is = List{Join::spaces, {ids.begin(), ids.end()}}),
             Severity::note});
}

// Of a job none of whose figures are in doubt.
Proof judged(const job::Job& job, const std::string& head, Measured& measured) {
    Proof proof;
    proof.asked_head = head;
    proof.assumptions = {sentence<"trace-square">(), sentence<"gauge-u">()};
    measured.take(job);
    const auto& heads = measured.heads();
    const ReadingIndex index(job, head);
    for (const auto& [h, result] : measured.seats(head)) {
        add(proof, result->notices);
        SeatProof& seat = proof.seats.emplace_back(result->proof);
        seat.causes = find_causes(job, seat, index.of(heads[h], job.head.valves[seat.valve].id));
    }
    proof.unmeasured = measured.unmeasured(job, head);
    proof.stem_spreads = stem_spreads(job, proof.seats);
    proof.not_judged = not_judged(job, proof.seats, proof.stem_spreads);
    say_spreads(proof, job, proof.stem_spreads);
    proof.batch = make_batch(job, measured.characteristics(), heads);
    proof.positions = positions_of(measured.characteristics(), heads);
    proof.components = components_of(job, measured.characteristics());
    if (!heads.empty()) proof.sampling = sampling_of(measured.counted());
    say_unstated(proof, job);
    add(proof, overdue_gauges(job));
    tell_vacuum(proof);
    calm(proof, job);
    overall(proof, job);
    return proof;
}

}  // namespace

Proof judge(const job::Job& job, const std::string& head, Before* before) {
    Before none;
    Before& kept = before == nullptr ? none : *before;
    const std::lock_guard<std::mutex> lock(kept.mutex);
    auto doubts = job::doubts_of(job, job::Stage::prove, head);
    if (job::doubts_of(job, job::Stage::prove, {}).empty()) return judged(job, head, kept.measured);
    Proof proof = judged(job::without_doubtful_proofs(job), head, kept.measured);
    job::ask_about(proof, std::move(doubts));
    return proof;
}

}  // namespace seatwright::prove
