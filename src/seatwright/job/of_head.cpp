#include "seatwright/job/of_head.hpp"

#include <algorithm>
#include <list>
#include <mutex>
#include <unordered_map>

namespace seatwright::job {

namespace {

// Where the readings of a list stand, by what they are of.
template <class Reading>
class Index {
  public:
    // Of this list, or of one that has more behind it.
    bool is_of(const GrowingList<Reading>& all) const {
        return !of_.empty() && (all.grown_from(of_) || of_.grown_from(all));
    }
    void take(const GrowingList<Reading>& all) {
        for (std::size_t i = of_.size(); i < all.size(); ++i) {
            const auto place = static_cast<std::uint32_t>(i);
            of_head_[all[i].head].push_back(place);
        }
        if (all.size() > of_.size()) of_ = all;
    }
    std::vector<std::uint32_t> of_head(const std::string& head, std::size_t size) const {
        const auto own = of_head_.find(head);
        if (own == of_head_.end()) return {};
        const auto& places = own->second;
        return {places.begin(),
                std::lower_bound(places.begin(), places.end(), static_cast<std::uint32_t>(size))};
    }

  private:
    GrowingList<Reading> of_;
    std::unordered_map<std::string, std::vector<std::uint32_t>> of_head_;
};

template <class Reading, class Use>
auto with_index(const GrowingList<Reading>& all, const Use& use) {
    constexpr std::size_t most = 8;
    static std::mutex mutex;
    static std::list<Index<Reading>> remembered;  // the last asked about first
    const std::lock_guard<std::mutex> lock(mutex);
    const auto at = std::find_if(remembered.begin(), remembered.end(),
                                 [&](const Index<Reading>& index) { return index.is_of(all); });
    if (at != remembered.end()) {
        remembered.splice(remembered.begin(), remembered, at);
    } else {
        remembered.emplace_front();
        if (remembered.size() > most) remembered.pop_back();
    }
    remembered.front().take(all);
    return use(std::as_const(remembered.front()));
}

}  // namespace

template <class Reading>
OfHead<Reading> of_head(const GrowingList<Reading>& all, const std::string& head) {
    if (all.empty()) return {nullptr, {}};
    return {all.data(),
            with_index(all, [&](const Index<Reading>& index) { return index.of_head(head, all.size()); })};
}

template OfHead<Touch> of_head(const GrowingList<Touch>&, const std::string&);
template OfHead<Level> of_head(const GrowingList<Level>&, const std::string&);
template OfHead<GuideBore> of_head(const GrowingList<GuideBore>&, const std::string&);
template OfHead<SeatBefore> of_head(const GrowingList<SeatBefore>&, const std::string&);
template OfHead<SeatAfter> of_head(const GrowingList<SeatAfter>&, const std::string&);
template OfHead<FirstSeat> of_head(const GrowingList<FirstSeat>&, const std::string&);

}  // namespace seatwright::job
