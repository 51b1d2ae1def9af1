// Setups of a head that share nothing with the others: the chances of their seats, heights included, given
// the wear of the blade, integrated over what they share.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/chance_table.hpp"
#include "seatwright/forecast/heights.hpp"
#include "seatwright/forecast/sharing.hpp"

namespace seatwright::forecast {

inline constexpr std::array<Judged, 5> ways{Judged::good, Judged::passed, Judged::not_failed,
                                            Judged::good_passed, Judged::good_not_failed};

// Chances at one node of the blade's wear. `together`: of each way, true heights drawn where spreads are
// judged, so that what is good and what is told of it stay together.
struct NodeChances {
    double good = 0, pass = 0, not_failed = 0;
    std::array<double, ways.size()> together{};
};

class Group {
  public:
    // Everything of `batch` but widths; `nodes`: heads since the blade was new.
    Group(Batch batch, const std::vector<double>& nodes, bool judged, std::uint64_t seed, Tables& tables);

    // Of one scramble, `points` of it, at each node.
    void good(int scramble, std::size_t points, std::vector<NodeChances>& out) const;
    void verdicts(int scramble, std::size_t points, std::vector<NodeChances>& out) const;

    // Whether points are needed at all, for the chance of good heads and for what is told of them.
    bool varies() const { return sharing_.dimensions() > 0 || (apart_ && poses_); }
    bool risk_varies() const { return varies() || batch_.stem_spread.has_value(); }
    // Where chances are 0 or 1 given what is shared, points that all say the same prove no more than this.
    double least_error(std::size_t points) const;

  private:
    using Chances = std::array<std::vector<SeatChance>, ways.size()>;
    Chances chances_of(Tables& tables) const;
    std::pair<double, double> furthest(std::size_t way, std::size_t i) const;
    double worn(const Seat& seat, double head) const { return head * seat.seats_of_cutter + seat.place; }
    double mean_height(const Seat& seat, const Shared& shared, double head) const;
    void set_means(const Shared& shared, double head) const;
    double heights(double sd, double by) const;
    double each_height(Judged way) const;
    double seats_chance(std::size_t way, const Shared& shared) const;
    void make_enters();
    double all_enter(int scramble) const;
    std::size_t enter_points() const;

    Batch batch_;
    std::vector<double> nodes_;
    std::uint64_t seed_;
    bool judged_, has_heights_, poses_;
    Chances chances_;
    bool apart_;  // the float is free: entering hangs on the pose alone, runout on the attitude alone
    Sharing sharing_;
    bool sharp_ = false;
    double own_height_ = 0;
    std::array<std::vector<std::shared_ptr<const ChanceTable>>, ways.size()> tables_;  // null: ask the chance
    std::vector<EnterTable> enters_;     // where the float is free
    std::vector<std::size_t> enter_of_;  // which of them, a seat
    mutable std::vector<double> means_;
    mutable std::vector<Stem> stems_;
    mutable std::vector<double> enter_;  // by scramble, once asked for; below 0: not yet
};

}  // namespace seatwright::forecast
