#include "seatwright/hold/cover_bound.hpp"

#include <CoinPackedMatrix.hpp>
#include <algorithm>

namespace seatwright::hold {

namespace {

// Sets added a round: enough that few rounds are needed, few enough that the programs stay small.
constexpr std::size_t most_added = 24;
// Weights are at most 1; sums of 128 of them are exact to 1e-13.
constexpr double sure_at = 1e-6;
constexpr double nothing_missing = 1e-7;

}  // namespace

CoverBound::CoverBound(std::size_t n, const std::vector<SetKind>& kinds) : n_(n), kinds_(kinds) {
    for (const auto& kind : kinds_) {
        auto& lists = lists_.emplace_back();
        for (const auto& set : kind.sets) lists.push_back(set.list());
        column_.emplace_back(kind.sets.size(), -1);
        used_.emplace_back(kind.sets.size(), 0.0);
    }
    model_.setLogLevel(0);
    const int rows = static_cast<int>(n_ + kinds_.size());
    model_.resize(rows, 0);
    for (int r = 0; r < rows; ++r) {
        const bool cover = r < static_cast<int>(n_);
        model_.setRowBounds(r, cover ? 1 : -COIN_DBL_MAX, cover ? COIN_DBL_MAX : 0);
    }
    const double one = 1;
    for (int i = 0; i < static_cast<int>(n_); ++i) model_.addColumn(1, &i, &one, 0, COIN_DBL_MAX, 1);
}

void CoverBound::add(std::size_t kind, std::size_t set) {
    std::vector<int> rows;
    for (const auto i : lists_[kind][set]) rows.push_back(static_cast<int>(i));
    rows.push_back(static_cast<int>(n_ + kind));
    const std::vector<double> ones(rows.size(), 1.0);
    column_[kind][set] = model_.numberColumns();
    model_.addColumn(static_cast<int>(rows.size()), rows.data(), ones.data(), 0, COIN_DBL_MAX, 0);
}

std::vector<double> CoverBound::weights(const Members& open) const {
    std::vector<double> weight(n_, 0.0);
    const double* price = model_.getRowPrice();
    for (const auto i : open.list()) weight[i] = std::max(0.0, price[i]);
    return weight;
}

void CoverBound::note_used() {
    const double* value = model_.getColSolution();
    for (std::size_t a = 0; a < kinds_.size(); ++a)
        for (std::size_t s = 0; s < column_[a].size(); ++s)
            used_[a][s] = column_[a][s] < 0 ? 0 : value[column_[a][s]];
}

bool CoverBound::impossible(const Members& open, const std::vector<std::size_t>& left, long& work) {
    for (std::size_t i = 0; i < n_; ++i) model_.setRowLower(static_cast<int>(i), open.has(i) ? 1 : 0);
    for (std::size_t a = 0; a < kinds_.size(); ++a)
        model_.setRowUpper(static_cast<int>(n_ + a), static_cast<double>(left[a]));
    for (bool first = true; work > 0; first = false) {
        --work;
        if (first)
            model_.dual();
        else
            model_.primal();
        if (model_.status() != 0) return false;  // proves nothing
        if (model_.objectiveValue() < sure_at) break;
        const auto weight = weights(open);
        double bound = 0;
        for (const double w : weight) bound += w;
        bool grown = false;
        for (std::size_t a = 0; a < kinds_.size(); ++a) {
            if (left[a] == 0) continue;
            const double known = -model_.getRowPrice()[n_ + a];
            double most = 0;
            std::vector<Priced> missing;
            for (std::size_t s = 0; s < lists_[a].size(); ++s) {
                double sum = 0;
                for (const auto i : lists_[a][s]) sum += weight[i];
                most = std::max(most, sum);
                if (column_[a][s] < 0 && sum > known + nothing_missing) missing.push_back({sum, s});
            }
            bound -= static_cast<double>(left[a]) * most;
            const auto by_weight = [](const Priced& x, const Priced& y) {
                return x.weight != y.weight ? x.weight > y.weight : x.set < y.set;
            };
            const std::size_t count = std::min(most_added, missing.size());
            std::partial_sort(missing.begin(), missing.begin() + static_cast<std::ptrdiff_t>(count),
                              missing.end(), by_weight);
            for (std::size_t k = 0; k < count; ++k) add(a, missing[k].set);
            grown = grown || count > 0;
        }
        if (bound > sure_at) return true;
        if (!grown) break;
    }
    note_used();
    return false;
}

}  // namespace seatwright::hold
