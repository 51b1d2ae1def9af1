#include "server/jobs/finished_heads.hpp"

namespace seatwright::server {

std::size_t FinishedHeads::take(const job::Job& job) {
    const auto& proofs = job.readings.proofs;
    std::set<std::string> valves;
    for (const job::Valve& valve : job.head.valves) valves.insert(valve.id);
    if (!proofs.grown_from(proofs_) || valves != valves_) {
        proofs_.clear();
        measured_.clear();
        finished_ = 0;
        valves_ = std::move(valves);
    }
    for (std::size_t p = proofs_.size(); p < proofs.size(); ++p) {
        if (!valves_.contains(proofs[p].valve)) continue;
        auto& measured = measured_[proofs[p].head];
        if (measured.insert(proofs[p].valve).second && measured.size() == valves_.size()) ++finished_;
    }
    proofs_ = proofs;
    return finished_;
}

}  // namespace seatwright::server
