// A seat's chance over the sizes of μ and κ and the angle between them, made once and read many times. Made
// as Chebyshev polynomials in the two lengths and cosines in the angle, then laid out on an even grid so fine
// that four neighbours each way do. Where the float is free it is a product, and only entering is kept.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "seatwright/forecast/row_cache.hpp"
#include "seatwright/forecast/runout.hpp"

namespace seatwright::forecast {

// Weights of the four neighbours of a place on an even grid of n places from 0 to `reach`.
struct Four {
    std::size_t first = 0, many = 1;
    std::array<double, 4> weight{1, 0, 0, 0};
};
Four neighbours(double at, double reach, std::size_t n);

class ChanceTable {
  public:
    static constexpr std::size_t most_turns = 16;
    // For |μ| up to `miss` and |κ| up to `lean` (mm); further out the edge stands.
    ChanceTable(const SeatChance& chance, double miss, double lean, bool tried = true);
    // Whether it came within 2e-5 of the chance itself where it was tried.
    bool good() const { return good_; }
    double operator()(const Vec2& miss, const Vec2& lean) const;

    // Where a lean lies among the places.
    struct Lean {
        std::size_t first = 0, many = 1;
        std::array<double, 4> weight{};
        Vec2 way = Vec2::Zero();
    };

  private:
    friend class AtLeans;
    Lean at_lean(const Vec2& lean) const;
    void slice_of(const Vec2& miss, std::size_t first, std::size_t many, double* out) const;
    double read(const double* slice, std::size_t first, const Vec2& miss, const Lean& at) const;
    void keep_turns(std::vector<double>& of, std::size_t places);
    void lay_out(std::vector<double>& coefficients, std::size_t misses, std::size_t leans);
    void try_out(const SeatChance& chance);

    double miss_, lean_;
    std::size_t misses_ = 1, leans_ = 1, turns_ = 1;  // of the grid
    std::vector<double> of_;                          // cosine coefficients: [miss][lean][turn]
    bool good_ = false;
};

// The chance of entering over |μ| alone, up to `miss`; 1e-7.
class EnterTable {
  public:
    EnterTable(const SeatChance& chance, double miss);
    double operator()(double miss) const;

  private:
    double miss_;
    std::vector<double> at_;
};

// Tables that were made, for whoever asks again: seats of one form share one, and so do forecasts that differ
// in other things.
class ChanceTables {
  public:
    // Null where a table is not good enough and the chance itself must be asked.
    // `tried`: false where another way of judging the same seat came good, since none is sharper.
    std::shared_ptr<const ChanceTable> of(const SeatChance& chance, double miss, double lean,
                                          bool tried = true);

  private:
    struct Made {
        SeatChance chance;
        double miss, lean;
        std::shared_ptr<const ChanceTable> table;
    };
    std::vector<Made> made_;
};

// All that is kept between forecasts of one job.
struct Tables {
    CountTables counts;
    ChanceTables chances;
    RowCache rows;
};

}  // namespace seatwright::forecast
