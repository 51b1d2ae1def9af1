#include "seatwright/prove/head_columns.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/prove/characteristic.hpp"

namespace seatwright::prove {

namespace {

std::size_t worst_valve(const HeadValues& head, std::optional<double> wanted) {
    std::size_t worst = 0;
    double most = 0;
    for (std::size_t i = 0; i < head.values.size(); ++i) {
        const double bad = wanted ? std::abs(head.values[i] - *wanted) : head.values[i];
        if (i > 0 && bad <= most) continue;
        most = bad;
        worst = head.valves[i];
    }
    return worst;
}

}  // namespace

void HeadColumns::renew(std::size_t from, const std::vector<HeadValues>& all,
                        const std::vector<std::string>& called, std::optional<double> wanted) {
    const auto first = std::lower_bound(heads.begin(), heads.end(), from);
    const auto row = static_cast<std::size_t>(first - heads.begin());
    const std::vector<std::size_t> before(first, heads.end());
    for (std::size_t i = row; i < worst_.size(); ++i)
        if (const auto at = worst_in.find(worst_[i]); --at->second == 0) worst_in.erase(at);
    heads.resize(row);
    means.resize(row);
    ranges.resize(row);
    sds.resize(row);
    sizes.resize(row);
    worst_.resize(row);
    fitted_.resize(row);
    while (!breaks.empty() && breaks.back() >= row) breaks.pop_back();
    for (std::size_t head = from; head < all.size(); ++head)
        if (!all[head].values.empty()) append(head, all[head], wanted);
    // A head that has other values is called as before: what shares the names goes on sharing them.
    const auto [other, now] = std::mismatch(before.begin(), before.end(),
                                            heads.begin() + static_cast<std::ptrdiff_t>(row), heads.end());
    names.resize(row + static_cast<std::size_t>(other - before.begin()));
    for (auto head = now; head != heads.end(); ++head) names.push_back(called[*head]);
}

void HeadColumns::append(std::size_t head, const HeadValues& values, std::optional<double> wanted) {
    const numerics::Moments moments = moments_of(values.values);
    const auto [low, high] = std::minmax_element(values.values.begin(), values.values.end());
    const std::string before = fitted_.empty() ? "" : fitted_.back();
    const std::string& cutter = values.cutter();
    if (!cutter.empty() && !before.empty() && cutter != before) breaks.push_back(heads.size());
    heads.push_back(head);
    means.push_back(moments.mean);
    ranges.push_back(*high - *low);
    sds.push_back(moments.sd());
    sizes.push_back(values.values.size());
    worst_.push_back(worst_valve(values, wanted));
    ++worst_in[worst_.back()];
    fitted_.push_back(cutter.empty() ? before : cutter);
}

}  // namespace seatwright::prove
