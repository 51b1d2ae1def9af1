#include "seatwright/forecast/at_leans.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/forecast/vectors.hpp"

namespace seatwright::forecast {
namespace {

// A sum of four rows after the other, so many numbers each.
SEATWRIGHT_VECTORS
void add_four(std::size_t n, const float* rows, std::size_t apart, const std::array<float, 4>& by,
              float* to) {
    const float *a = rows, *b = rows + apart, *c = rows + 2 * apart, *d = rows + 3 * apart;
    const float u = by[0], v = by[1], w = by[2], x = by[3];
    SEATWRIGHT_APART
    for (std::size_t k = 0; k < n; ++k) to[k] += (u * a[k] + v * b[k]) + (w * c[k] + x * d[k]);
}

SEATWRIGHT_VECTORS
void add_one(std::size_t n, const float* row, float by, float* to) {
    SEATWRIGHT_APART
    for (std::size_t k = 0; k < n; ++k) to[k] += by * row[k];
}

SEATWRIGHT_VECTORS
void times_chance(std::size_t n, const float* chance, double* to) {
    SEATWRIGHT_APART
    for (std::size_t k = 0; k < n; ++k) {
        const float above = chance[k] > 0 ? chance[k] : 0.0F;
        to[k] *= static_cast<double>(above < 1 ? above : 1.0F);
    }
}

SEATWRIGHT_VECTORS
void add_all(std::size_t n, double weight, const double* of, double* to) {
    SEATWRIGHT_APART
    for (std::size_t k = 0; k < n; ++k) to[k] += weight * of[k];
}

}  // namespace

AtLeans::AtLeans(const ChanceTable& table, const std::vector<Vec2>& leans)
    : miss_(table.miss_),
      misses_(table.misses_),
      parts_(2 * table.turns_ - 1),
      padded_((leans.size() + 15) / 16 * 16),
      of_(misses_ * parts_ * padded_, 0.0F) {
    const std::size_t turns = table.turns_;
    std::vector<ChanceTable::Lean> at;
    std::vector<double> way;  // of each lean cos nφ and sin nφ
    for (const Vec2& lean : leans) {
        at.push_back(table.at_lean(lean));
        double cosine = 1, sine = 0;
        for (std::size_t n = 0; n < turns; ++n) {
            way.push_back(cosine);
            way.push_back(sine);
            const double x = at.back().way.x() * cosine - at.back().way.y() * sine;
            sine = at.back().way.x() * sine + at.back().way.y() * cosine;
            cosine = x;
        }
    }
    std::array<double, ChanceTable::most_turns> value{};
    for (std::size_t i = 0; i < misses_; ++i)
        for (std::size_t k = 0; k < leans.size(); ++k) {
            const double* from = table.of_.data() + (i * table.leans_ + at[k].first) * turns;
            for (std::size_t n = 0; n < turns; ++n) value[n] = at[k].weight[0] * from[n];
            for (std::size_t j = 1; j < at[k].many; ++j)
                for (std::size_t n = 0; n < turns; ++n) value[n] += at[k].weight[j] * from[j * turns + n];
            float* to = of_.data() + i * parts_ * padded_ + k;
            const double* by = way.data() + 2 * turns * k;
            *to = static_cast<float>(value[0]);
            for (std::size_t n = 1; n < turns; ++n) {
                to[(2 * n - 1) * padded_] = static_cast<float>(value[n] * by[2 * n]);
                to[2 * n * padded_] = static_cast<float>(value[n] * by[2 * n + 1]);
            }
        }
}

void AtLeans::multiply(const Vec2& miss, double* out, float* work) const {
    const double m = miss.norm();
    const Four four = neighbours(m, miss_, misses_);
    const Vec2 way = m > 0 ? Vec2(miss / m) : Vec2(Vec2::Zero());
    std::fill_n(work, padded_, 0.0F);
    const std::size_t row = parts_ * padded_;
    const float* rows = of_.data() + four.first * row;
    const auto add = [&](std::size_t part, double by) {
        if (four.many == 1) {
            add_one(padded_, rows + part * padded_, static_cast<float>(by), work);
            return;
        }
        std::array<float, 4> weight{};
        for (std::size_t i = 0; i < 4; ++i) weight[i] = static_cast<float>(by * four.weight[i]);
        add_four(padded_, rows + part * padded_, row, weight, work);
    };
    double cosine = 1, sine = 0;
    add(0, 1);
    for (std::size_t part = 1; part < parts_; part += 2) {
        const double x = way.x() * cosine - way.y() * sine;
        sine = way.x() * sine + way.y() * cosine;
        cosine = x;
        add(part, cosine);
        add(part + 1, sine);
    }
    times_chance(padded_, work, out);
}

void add_weighed(std::size_t n, double weight, const double* of, double* to) {
    add_all(n, weight, of, to);
}

}  // namespace seatwright::forecast
