#include "seatwright/job/heads.hpp"

#include <algorithm>
#include <array>
#include <list>
#include <mutex>
#include <unordered_map>
#include <utility>
#include <vector>

namespace seatwright::job {

namespace {

// Heads stand in order of the first list of readings they are in, then of their place in it.
class Heads {
  public:
    bool has_grown_to(const Readings& now) const {
        return now.touches.grown_from(of_.touches) && now.levels.grown_from(of_.levels) &&
               now.guides.grown_from(of_.guides) && now.seats.grown_from(of_.seats) &&
               now.firsts.grown_from(of_.firsts) && now.proofs.grown_from(of_.proofs);
    }
    const GrowingList<std::string>& take(const Readings& now) {
        std::size_t rank = 0;
        const auto note_new = [&](const auto& list, const auto& known) {
            for (std::size_t i = known.size(); i < list.size(); ++i) note(list[i].head, rank);
            ++rank;
        };
        note_new(now.touches, of_.touches);
        note_new(now.levels, of_.levels);
        note_new(now.guides, of_.guides);
        note_new(now.seats, of_.seats);
        note_new(now.firsts, of_.firsts);
        note_new(now.proofs, of_.proofs);
        of_ = now;
        return names_;
    }

  private:
    void note(const std::string& head, std::size_t rank) {
        const auto [at, fresh] = rank_of_.try_emplace(head, rank);
        if (!fresh && at->second <= rank) return;
        if (!fresh) {  // it was further back
            --count_[at->second];
            names_.erase(std::find(names_.begin(), names_.end(), head));
            at->second = rank;
        }
        std::size_t place = 0;
        for (std::size_t r = 0; r <= rank; ++r) place += count_[r];
        ++count_[rank];
        if (place == names_.size()) {
            names_.push_back(head);
            return;
        }
        std::vector<std::string> all(std::as_const(names_).begin(), std::as_const(names_).end());
        all.insert(all.begin() + static_cast<std::ptrdiff_t>(place), head);
        names_ = std::move(all);
    }

    Readings of_;
    GrowingList<std::string> names_;
    std::unordered_map<std::string, std::size_t> rank_of_;
    std::array<std::size_t, 6> count_{};  // of names, by rank
};

}  // namespace

GrowingList<std::string> known_heads(const Job& job) {
    constexpr std::size_t most = 8;
    static std::mutex mutex;
    static std::list<Heads> remembered;  // the last asked about first
    static const GrowingList<std::string> none{"1"};
    const std::lock_guard<std::mutex> lock(mutex);
    auto at = std::find_if(remembered.begin(), remembered.end(),
                           [&](const Heads& heads) { return heads.has_grown_to(job.readings); });
    if (at == remembered.end()) {
        remembered.emplace_front();
        if (remembered.size() > most) remembered.pop_back();
    } else {
        remembered.splice(remembered.begin(), remembered, at);
    }
    const auto& names = remembered.front().take(job.readings);
    return names.empty() ? none : names;
}

}  // namespace seatwright::job
