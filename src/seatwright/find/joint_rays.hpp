// The chance that all guides are hit when they share one offset, for edges sharp against the offset's spread.
//
// ∫ Π_v F_v(|p_v + t|) dN(t) over a round normal t, in polar coordinates about the middle of the guides'
// discs: along each ray only the edges of F are integrated by quadrature, an edge however sharp taking ten
// points of its own; what lies between them, where all F are 1, is closed.
#pragma once

#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/find/hit_table.hpp"

namespace seatwright::find {

class Rays {
  public:
    // One table a guide; they must outlive this. `sd` > 0 of the offset per axis, `rays` a turn at
    // least: the more, the further the discs' middle lies from the offset's.
    Rays(std::vector<const HitTable*> tables, double sd, int rays)
        : tables_(std::move(tables)), sd_(sd), rays_(rays) {}

    // The chance of a hit, guide v being `at[v]` off for no offset.
    double chance(const std::vector<Vec2>& at);

  private:
    struct Guide {
        const HitTable* table = nullptr;
        double b = 0, p2 = 0;  // distance² at r is r² + 2br + p2
    };

    double along(const Vec2& way, const Vec2& middle, const std::vector<Vec2>& at);
    double closed(double r, double offset) const;
    double edge(double from, double to, double offset, double apart2) const;

    std::vector<const HitTable*> tables_;
    double sd_;
    int rays_;
    std::vector<Guide> guides_;
};

}  // namespace seatwright::find
