#include "seatwright/prove/characteristic.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace seatwright::prove {

namespace {

using numerics::Moments;

template <class Key>
void add(std::map<Key, Moments>& into, const std::map<Key, Moments>& more) {
    for (const auto& [key, moments] : more) {
        const auto [at, fresh] = into.try_emplace(key, moments);
        if (!fresh) at->second = at->second + moments;
    }
}

SeriesSums sums_of(const HeadValues& head) {
    SeriesSums out;
    if (head.values.empty()) return out;
    out.values = moments_of(head.values);
    for (const double value : head.values)
        out.drift = out.drift + numerics::PairMoments{1, head.number, value, 0, 0, 0};
    out.heads = 1;
    out.least = out.most = head.values.size();
    const auto [low, high] = std::minmax_element(head.values.begin(), head.values.end());
    out.ranges = *high - *low;
    out.sds = out.values.sd();
    out.squares = out.values.squares;
    out.spare = out.values.n - 1;
    return out;
}

ByValve by_valve_of(const HeadValues& head) {
    ByValve out;
    for (std::size_t i = 0; i < head.valves.size(); ++i) out.of[head.valves[i]] = {1, head.values[i], 0};
    return out;
}

}  // namespace

Moments moments_of(const std::vector<double>& values) {
    Moments all;
    for (const double value : values) all = all + Moments{1, value, 0};
    return all;
}

const std::string& HeadValues::cutter() const {
    static const std::string none;
    const auto last =
        std::find_if(cutters.rbegin(), cutters.rend(), [](const auto& of) { return !of.empty(); });
    return last == cutters.rend() ? none : *last;
}

SeriesSums operator+(const SeriesSums& a, const SeriesSums& b) {
    return {a.values + b.values,      a.drift + b.drift,   a.heads + b.heads, std::min(a.least, b.least),
            std::max(a.most, b.most), a.ranges + b.ranges, a.sds + b.sds,     a.squares + b.squares,
            a.spare + b.spare};
}

RowSums operator+(RowSums a, const RowSums& b) {
    a.heads = a.heads + b.heads;
    add(a.by_cutter, b.by_cutter);
    add(a.rest, b.rest);
    add(a.by_pilot, b.by_pilot);
    return a;
}

ByValve operator+(ByValve a, const ByValve& b) {
    add(a.of, b.of);
    return a;
}

RowSums Characteristic::row_of(std::size_t head) const {
    RowSums out;
    const HeadValues& own = by_head_[head];
    if (own.values.empty() || own.values.size() != values_at_.size()) return out;
    const double mean = moments_of(own.values).mean;
    out.heads = {1, mean, 0};
    if (!own.cutters.back().empty()) out.by_cutter[own.cutters.back()] = out.heads;
    for (std::size_t i = 0; i < own.values.size(); ++i) {
        const Moments rest{1, own.values[i] - mean, 0};
        out.rest[own.valves[i]] = rest;
        if (!own.pilots[i].empty()) out.by_pilot[{own.pilots[i], own.valves[i]}] = rest;
    }
    return out;
}

void Characteristic::settle() {
    if (changed_.empty()) return;
    std::sort(changed_.begin(), changed_.end());
    const std::size_t heads = by_head_.size();
    series_.renew(changed_, heads, [&](std::size_t head) { return sums_of(by_head_[head]); });
    if (parted_) {
        by_valve_.renew(changed_, heads, [&](std::size_t head) { return by_valve_of(by_head_[head]); });
        // With another position which heads have them all may change for every one.
        if (std::exchange(other_positions_, false)) {
            rows_ = {};
            changed_.resize(heads);
            std::iota(changed_.begin(), changed_.end(), std::size_t{0});
        }
        rows_.renew(changed_, heads, [&](std::size_t head) { return row_of(head); });
    }
    changed_.clear();
}

SeriesSums Characteristic::sums() {
    settle();
    return series_.total();
}

SeriesSums Characteristic::sums_from(std::size_t head) {
    settle();
    return series_.from(head, by_head_.size(), [&](std::size_t h) { return sums_of(by_head_[h]); });
}

const HeadColumns& Characteristic::columns(const std::vector<std::string>& called) {
    if (columns_to_ < by_head_.size()) columns_.renew(columns_to_, by_head_, called, wanted_);
    columns_to_ = by_head_.size();
    return columns_;
}

RowSums Characteristic::rows() {
    settle();
    return rows_.total();
}

ByValve Characteristic::by_valve() {
    settle();
    return by_valve_.total();
}

void Characteristic::set(std::size_t head, HeadValues values) {
    if (head == by_head_.size())
        by_head_.emplace_back();
    else if (by_head_[head] == values)
        return;
    HeadValues& own = by_head_[head];
    for (const std::size_t valve : own.valves)
        if (--values_at_[valve] == 0) {
            values_at_.erase(valve);
            other_positions_ = true;
        }
    own = std::move(values);
    for (const std::size_t valve : own.valves)
        other_positions_ = ++values_at_[valve] == 1 || other_positions_;
    changed_.push_back(head);
    columns_to_ = std::min(columns_to_, head);
    series.reset();
    positions.reset();
    components.reset();
}

}  // namespace seatwright::prove
