#include "seatwright/forecast/chance_table.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/chebyshev.hpp"

namespace seatwright::forecast {
namespace {

constexpr std::size_t most_nodes = 36;
constexpr std::size_t turn_angles = ChanceTable::most_turns;

using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using MapRows = Eigen::Map<Rows>;

Eigen::Index index(std::size_t n) {
    return static_cast<Eigen::Index>(n);
}

// Values at Chebyshev's points to coefficients.
Rows to_coefficients(std::size_t n) {
    Rows out(index(n), index(n));
    for (Eigen::Index k = 0; k < out.rows(); ++k)
        for (Eigen::Index i = 0; i < out.cols(); ++i)
            out(k, i) = std::cos(pi * static_cast<double>(k) * (static_cast<double>(i) + 0.5) /
                                 static_cast<double>(n)) *
                        (k == 0 ? 1.0 : 2.0) / static_cast<double>(n);
    return out;
}

double point(std::size_t i, std::size_t n, double reach) {
    return n == 1 ? 0
                  : reach / 2 * (1 - std::cos(pi * (static_cast<double>(i) + 0.5) / static_cast<double>(n)));
}

// Grid points a Chebyshev point: cubics through four neighbours are then good to 1e-5.
constexpr std::size_t finer = 4;

// T_0 … T_(n−1) at each place of an even grid of lengths 0 … reach; the points run from 0 up, so that the
// cosine is turned about.
Rows polynomials(std::size_t places, std::size_t n) {
    Rows out(index(places), index(n));
    for (Eigen::Index i = 0; i < out.rows(); ++i) {
        const double x = n == 1 ? 0 : 1 - 2 * static_cast<double>(i) / static_cast<double>(out.rows() - 1);
        out(i, 0) = 1;
        if (n > 1) out(i, 1) = x;
        for (Eigen::Index k = 2; k < out.cols(); ++k) out(i, k) = 2 * x * out(i, k - 1) - out(i, k - 2);
    }
    return out;
}

std::size_t nodes_for(double reach, double width) {
    if (reach <= 0) return 1;
    const double wanted = 8 + 2.2 * (width > 0 ? reach / width : 1e9);
    return static_cast<std::size_t>(std::min(wanted, static_cast<double>(most_nodes)));
}

}  // namespace

Four neighbours(double at, double reach, std::size_t n) {
    Four out;
    if (n < 4 || reach <= 0) return out;
    const double x = std::min(at / reach, 1.0) * static_cast<double>(n - 1);
    out.first = std::min(n - 4, static_cast<std::size_t>(std::max(0.0, x - 1)));
    out.many = 4;
    const double t = x - static_cast<double>(out.first);
    out.weight = {-(t - 1) * (t - 2) * (t - 3) / 6, t * (t - 2) * (t - 3) / 2, -t * (t - 1) * (t - 3) / 2,
                  t * (t - 1) * (t - 2) / 6};
    return out;
}

ChanceTable::ChanceTable(const SeatChance& chance, double miss, double lean, bool tried)
    : miss_(miss), lean_(lean) {
    const std::size_t misses = nodes_for(miss, chance.softness()),
                      leans = nodes_for(lean, chance.lean_softness());
    turns_ = miss > 0 && lean > 0 ? turn_angles : 1;
    std::vector<double> of, at_misses, at_leans;
    for (std::size_t i = 0; i < misses; ++i) at_misses.push_back(point(i, misses, miss));
    for (std::size_t j = 0; j < leans; ++j) at_leans.push_back(point(j, leans, lean));
    if (!chance.cosines(at_misses, at_leans, turns_, of)) {
        of.resize(misses * leans * turns_);
        for (std::size_t i = 0; i < misses; ++i)
            for (std::size_t j = 0; j < leans; ++j) {
                for (std::size_t k = 0; k < turns_; ++k) {
                    const double turn = turns_ == 1 ? 0 : pi * (static_cast<double>(k) + 0.5) / turn_angles;
                    of[(i * leans + j) * turns_ + k] =
                        chance({at_misses[i], 0}, at_leans[j] * Vec2(std::cos(turn), std::sin(turn)));
                }
            }
        MapRows all(of.data(), index(misses * leans), index(turns_));
        all = (all * to_coefficients(turns_).transpose()).eval();
    }
    keep_turns(of, misses * leans);
    const Rows along = to_coefficients(leans);
    for (std::size_t i = 0; i < misses; ++i) {
        MapRows one(of.data() + i * leans * turns_, index(leans), index(turns_));
        one = (along * one).eval();
    }
    MapRows all(of.data(), index(misses), index(leans * turns_));
    all = (to_coefficients(misses) * all).eval();
    lay_out(of, misses, leans);
    if (tried)
        try_out(chance);
    else
        good_ = true;
}

// Only as many cosines as count for anything.
void ChanceTable::keep_turns(std::vector<double>& of, std::size_t places) {
    constexpr double nothing = 2e-6;
    std::size_t wanted = 1;
    for (std::size_t k = 1; k < turns_; ++k)
        for (std::size_t i = 0; i < places; ++i)
            if (std::abs(of[i * turns_ + k]) > nothing) wanted = k + 1;
    for (std::size_t i = 0; i < places; ++i)
        for (std::size_t k = 0; k < wanted; ++k) of[i * wanted + k] = of[i * turns_ + k];
    turns_ = wanted;
    of.resize(places * wanted);
}

// First along the misses, then along the leans.
void ChanceTable::lay_out(std::vector<double>& coefficients, std::size_t misses, std::size_t leans) {
    misses_ = misses == 1 ? 1 : finer * misses;
    leans_ = leans == 1 ? 1 : finer * leans;
    const MapRows all(coefficients.data(), index(misses), index(leans * turns_));
    Rows half = polynomials(misses_, misses) * all;
    const Rows along = polynomials(leans_, leans);
    of_.assign(misses_ * leans_ * turns_, 0);
    for (std::size_t i = 0; i < misses_; ++i) {
        const MapRows from(half.data() + i * leans * turns_, index(leans), index(turns_));
        MapRows(of_.data() + i * leans_ * turns_, index(leans_), index(turns_)).noalias() = along * from;
    }
}

void ChanceTable::try_out(const SeatChance& chance) {
    constexpr int tried = 6;
    constexpr double enough = 2e-5;
    double worst = 0;
    for (int n = 0; n < tried; ++n) {
        // Places between the points, spread by the golden ratio.
        const double a = std::fmod(0.6180339887498949 * (n + 1), 1.0),
                     b = std::fmod(0.7548776662466927 * (n + 1), 1.0);
        const double turn = 2 * pi * n / tried;
        const Vec2 m(miss_ * a, 0), k = lean_ * b * Vec2(std::cos(turn), std::sin(turn));
        worst = std::max(worst, std::abs((*this)(m, k) - chance(m, k)));
    }
    good_ = worst < enough;
}

double ChanceTable::operator()(const Vec2& miss, const Vec2& lean) const {
    std::array<double, 4 * turn_angles> slice{};
    const Lean at = at_lean(lean);
    slice_of(miss, at.first, at.many, slice.data());
    return read(slice.data(), at.first, miss, at);
}

ChanceTable::Lean ChanceTable::at_lean(const Vec2& lean) const {
    const double k = lean.norm();
    const Four by = neighbours(k, lean_, leans_);
    return {by.first, by.many, by.weight, k > 0 ? Vec2(lean / k) : Vec2(Vec2::Zero())};
}

void ChanceTable::slice_of(const Vec2& miss, std::size_t first, std::size_t many, double* out) const {
    const Four by = neighbours(miss.norm(), miss_, misses_);
    const std::size_t n = many * turns_;
    std::fill_n(out, n, 0.0);
    for (std::size_t i = 0; i < by.many; ++i) {
        const double* of = of_.data() + ((by.first + i) * leans_ + first) * turns_;
        for (std::size_t k = 0; k < n; ++k) out[k] += by.weight[i] * of[k];
    }
}

double ChanceTable::read(const double* slice, std::size_t first, const Vec2& miss, const Lean& at) const {
    std::array<double, turn_angles> by_turn{1};
    if (turns_ > 1) {
        const double m = miss.norm(), cosine = m > 0 ? miss.dot(at.way) / m : 0;
        by_turn[1] = cosine;
        for (std::size_t n = 2; n < turns_; ++n) by_turn[n] = 2 * cosine * by_turn[n - 1] - by_turn[n - 2];
    }
    const double* of = slice + (at.first - first) * turns_;
    double sum = 0;
    for (std::size_t j = 0; j < at.many; ++j) {
        double turned = 0;
        for (std::size_t n = 0; n < turns_; ++n) turned += *of++ * by_turn[n];
        sum += turned * at.weight[j];
    }
    return std::clamp(sum, 0.0, 1.0);
}

EnterTable::EnterTable(const SeatChance& chance, double miss) : miss_(miss) {
    // A step is asked itself: it has no grid.
    const std::size_t n =
        miss > 0 && chance.softness() > 0
            ? std::min<std::size_t>(2000, static_cast<std::size_t>(40 + 30 * miss / chance.softness()))
            : 1;
    at_.reserve(n);
    const auto place = [&](std::size_t i) {
        return n == 1 ? 0 : miss * static_cast<double>(i) / static_cast<double>(n - 1);
    };
    // A smooth curve: known at few places.
    const auto known = n == 1 ? n : static_cast<std::size_t>(20 + 6 * miss / chance.softness());
    if (2 * known > n) {
        for (std::size_t i = 0; i < n; ++i) at_.push_back(chance.entering(place(i)));
        return;
    }
    std::vector<double> values;
    for (const double at : Chebyshev::places(0, miss, known)) values.push_back(chance.entering(at));
    const Chebyshev curve(0, miss, values);
    for (std::size_t i = 0; i < n; ++i) at_.push_back(std::clamp(curve(place(i)), 0.0, 1.0));
}

double EnterTable::operator()(double miss) const {
    const Four by = neighbours(miss, miss_, at_.size());
    double sum = 0;
    for (std::size_t i = 0; i < by.many; ++i) sum += by.weight[i] * at_[by.first + i];
    return std::clamp(sum, 0.0, 1.0);
}

std::shared_ptr<const ChanceTable> ChanceTables::of(const SeatChance& chance, double miss, double lean,
                                                    bool tried) {
    constexpr double larger = 1.15, most = 1.6;
    constexpr std::size_t kept = 256;
    const auto reaches = [](double made, double wanted) { return made >= wanted && made <= most * wanted; };
    for (const Made& made : made_)
        if (reaches(made.miss, miss) && reaches(made.lean, lean) && made.chance.same(chance))
            return made.table->good() ? made.table : nullptr;
    if (made_.size() >= kept) made_.clear();
    miss *= larger;
    lean *= larger;
    made_.push_back({chance, miss, lean, std::make_shared<ChanceTable>(chance, miss, lean, tried)});
    const auto& table = made_.back().table;
    return table->good() ? table : nullptr;
}

}  // namespace seatwright::forecast
