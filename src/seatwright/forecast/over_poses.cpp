#include "seatwright/forecast/over_poses.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/sharing.hpp"

namespace seatwright::forecast {

OverPoses::OverPoses(const Batch& batch, const std::vector<std::size_t>& seats,
                     const std::vector<Vec2>& attitudes)
    : batch_(batch),
      seats_(seats),
      attitudes_(attitudes),
      work_((attitudes.size() + 15) / 16 * 16),
      out_(work_.size()) {}

void OverPoses::prepare(const std::vector<SeatChance>& chances,
                        const std::vector<std::shared_ptr<const ChanceTable>>& tables, std::size_t poses) {
    constexpr std::size_t few = 40;  // chances
    all_.clear();
    for (std::size_t s = 0; s < seats_.size(); ++s) {
        const std::size_t i = seats_[s];
        const Seat& seat = batch_.seats[i];
        One one{batch_.gain(seat), seat.from_posts, &chances[i], nullptr, {}};
        one.leans.reserve(attitudes_.size());
        for (const Vec2& attitude : attitudes_) one.leans.push_back(chances[i].lean_of(attitude));
        // Seats of one form with guides of one direction share their rows.
        for (std::size_t t = 0; t < s && !one.rows; ++t)
            if (tables[seats_[t]] == tables[i] && all_[t].leans == one.leans) one.rows = all_[t].rows;
        if (tables[i] && !one.rows && poses * attitudes_.size() > few)
            one.rows = std::make_shared<AtLeans>(*tables[i], one.leans);
        all_.push_back(std::move(one));
    }
}

const std::vector<double>& OverPoses::at(const Vec3& pose) {
    std::fill(out_.begin(), out_.end(), 1.0);
    for (const One& one : all_) {
        const Vec2 miss = one.gain * moved(pose, one.from_posts);
        if (one.rows) {
            one.rows->multiply(miss, out_.data(), work_.data());
            continue;
        }
        for (std::size_t k = 0; k < one.leans.size(); ++k) out_[k] *= (*one.chance)(miss, one.leans[k]);
    }
    return out_;
}

SmoothOver::SmoothOver(const std::vector<Vec2>& attitudes, double sharpness, double fineness)
    : attitudes_(attitudes) {
    Vec2 low = attitudes.front(), high = low;
    for (const Vec2& at : attitudes) {
        low = low.cwiseMin(at);
        high = high.cwiseMax(at);
    }
    middle_ = (low + high) / 2;
    half_ = (high - low) / 2;
    const double wide = half_.maxCoeff() * sharpness;
    const double wanted = fineness > 1 ? 4 + 3 * wide : 6 + 4.5 * wide;
    if (attitudes.size() < 2 || !(wanted * wanted < static_cast<double>(attitudes.size()))) {
        wanted_ = attitudes;
        return;
    }
    n_ = static_cast<std::size_t>(wanted);
    for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = 0; j < n_; ++j) {
            const auto node = [&](std::size_t k) {
                return std::cos(pi * (static_cast<double>(k) + 0.5) / static_cast<double>(n_));
            };
            wanted_.push_back(middle_ + Vec2(half_.x() * node(i), half_.y() * node(j)));
        }
}

std::vector<double> SmoothOver::all(const std::vector<double>& at_wanted) const {
    if (n_ == 0) return at_wanted;
    // Barycentric weights of Chebyshev's points of the first kind.
    std::vector<double> node(n_), weight(n_);
    for (std::size_t k = 0; k < n_; ++k) {
        const double angle = pi * (static_cast<double>(k) + 0.5) / static_cast<double>(n_);
        node[k] = std::cos(angle);
        weight[k] = std::sin(angle) * (k % 2 == 0 ? 1 : -1);
    }
    const auto weights = [&](double x, std::vector<double>& out) {
        double sum = 0;
        for (std::size_t k = 0; k < n_; ++k) {
            if (std::abs(x - node[k]) < 1e-13) {
                std::fill(out.begin(), out.end(), 0.0);
                out[k] = 1;
                return;
            }
            out[k] = weight[k] / (x - node[k]);
            sum += out[k];
        }
        for (double& w : out) w /= sum;
    };
    std::vector<double> out, by_x(n_), by_y(n_);
    out.reserve(attitudes_.size());
    for (const Vec2& at : attitudes_) {
        weights(half_.x() > 0 ? (at.x() - middle_.x()) / half_.x() : 0, by_x);
        weights(half_.y() > 0 ? (at.y() - middle_.y()) / half_.y() : 0, by_y);
        double sum = 0;
        for (std::size_t i = 0; i < n_; ++i) {
            double row = 0;
            for (std::size_t j = 0; j < n_; ++j) row += by_y[j] * at_wanted[i * n_ + j];
            sum += by_x[i] * row;
        }
        out.push_back(std::clamp(sum, 0.0, 1.0));
    }
    return out;
}

}  // namespace seatwright::forecast
