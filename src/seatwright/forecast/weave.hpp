// The chance of good heads where setups share only that the stem heights of a kind must lie close together:
// over the attitudes of each setup goes an even sum, Z zeros are integrated in closed form, and a kind that
// lies in several setups is put together over where its highest seat is: with U_s(x) the chance that all of
// its seats in setup s lie within the spread below x and D_s(x) the density of their highest there,
//   P = ∫ Σ_s D_s(x)·Π_{t≠s} U_t(x) dx,
// for both kinds at once a double integral of the same form.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "seatwright/forecast/attitudes.hpp"
#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/row_cache.hpp"
#include "seatwright/forecast/stems.hpp"

namespace seatwright::forecast {

// Which limits of a kind's heights are judged.
enum class Ends { both, upper, lower, neither };

struct WeaveTask {
    const Batch& batch;                // one part: setups that belong together
    const std::vector<double>& nodes;  // heads since the blade was new
    double sd = 0;                     // of each height
    double narrower = 0;               // limits by so much, the spread by √2 times
    double fineness = 1;
    RowCache* rows = nullptr;
    // Other than both only where the spread judged is narrower than the window.
    std::array<Ends, 2> ends{Ends::both, Ends::both};  // intake, exhaust
};

class Weave {
  public:
    // Null where the batch is not of that form or something in it is a step.
    static std::unique_ptr<Weave> of(const WeaveTask& task);

    // What of an attitude the heights of a setup hang on, 1/rad, and where most.
    double sharpness(std::size_t setup, const Vec2& direction) const;
    Vec2 along(std::size_t setup) const;

    // To be called once, before what follows: the attitudes of each setup of the batch (unused ones empty).
    void take(std::vector<Attitudes> attitudes);
    const Attitudes& attitudes(std::size_t setup) const { return attitudes_[setup]; }

    struct Sum {
        double all = 0, even = 0;  // of every attitude, and of every other one
    };
    // At each node; `seats[setup][i]`: the chance of what else must be good at that attitude.
    std::vector<Sum> chance(const std::vector<std::vector<double>>& seats) const;

  private:
    struct Cell {  // a kind in a setup
        std::size_t setup = 0, kind = 0;
        Stems stems;
        double zero_sd = 0;
        double cut = 1;  // seats of its cutter on a head
        // An attitude after the other: chances at each node, or, of a kind in several setups, `within` and
        // `highest` on its places.
        std::shared_ptr<const std::vector<double>> values;
    };
    struct KindPlaces {
        bool joint = false;  // in several setups
        double first = 0, step = 1;
        std::size_t n = 1;
        std::optional<double> limit;  // of the highest
        bool turned = false;          // upside down
        double cut = 1;
    };
    explicit Weave(const WeaveTask& task);
    bool build();
    bool build_kind(std::size_t kind);
    void place(std::size_t kind);
    std::vector<double> values_of(const Cell& cell) const;
    using Table = std::array<std::vector<double>, 4>;  // uu, du, ud, dd on [intake place][exhaust place]
    void add_setup(std::size_t setup, std::size_t node, const std::vector<double>& seats, bool odd,
                   Table& out) const;
    double together(const std::vector<Table>& setups, std::size_t node) const;
    std::vector<double> cut_weights(std::size_t kind, std::size_t node) const;
    const Cell* cell(std::size_t setup, std::size_t kind) const;

    const Batch& batch_;
    WeaveTask task_;
    std::vector<Cell> cells_;
    std::array<KindPlaces, 2> kinds_;
    std::vector<Attitudes> attitudes_;
    bool by_node_ = false;  // whether what a cutter is worn changes more than a limit
};

// Weaves whose chances, each times its weight, add to the one asked for; none where there are no such. A kind
// in several setups is woven with one limit at a time: where the spread is kept only one end of a window that
// is wider can be missed, so that both together are the one and the other less neither. A Z zero that serves
// several kinds or setups is summed over evenly spaced places, at each of which it stands still.
struct WeaveTerm {
    double weight = 1;
    std::shared_ptr<const Batch> of;  // that the weave is of, where that is not the task's
    std::unique_ptr<Weave> weave;
};
std::vector<WeaveTerm> woven_of(const WeaveTask& task);

}  // namespace seatwright::forecast
