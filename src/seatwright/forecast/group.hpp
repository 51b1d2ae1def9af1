// Setups of a head that share nothing with the others: the chances of their seats, heights included, given
// the wear of the blade, integrated over what they share. Where heights are of the form of weave.hpp
// attitudes go by an even sum and only poses by scrambled points; else all of it by points.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/chance_table.hpp"
#include "seatwright/forecast/heights.hpp"
#include "seatwright/forecast/sharing.hpp"
#include "seatwright/forecast/weave.hpp"

namespace seatwright::forecast {

inline constexpr std::array<Judged, 5> ways{Judged::good, Judged::passed, Judged::not_failed,
                                            Judged::good_passed, Judged::good_not_failed};

// Chances at one node of the blade's wear, in each of the ways; without verdicts only the first.
struct NodeChances {
    std::array<double, ways.size()> of{};
};

class Group {
  public:
    // `nodes`: heads since the blade was new; `fineness`: 1, larger where less will do.
    struct Task {
        Batch batch;  // everything of it but widths counts
        const std::vector<double>& nodes;
        bool judged = false;
        std::uint64_t seed = 0;
        double fineness = 1;
        Tables& tables;
    };
    explicit Group(Task task);
    // What it weaves refers to it.
    Group(const Group&) = delete;
    Group& operator=(const Group&) = delete;

    // Of one scramble, `points` of it, at each node.
    void good(int scramble, std::size_t points, std::vector<NodeChances>& out) const;
    void verdicts(int scramble, std::size_t lines, std::vector<NodeChances>& out) const;

    // Whether points are needed at all, for the chance of good heads and for what is told of them.
    bool varies() const;
    bool risk_varies() const { return varies() || has_heights_; }
    // What points cannot show: chances that are 0 or 1 given what is shared, and sums over attitudes.
    double least_error(std::size_t points) const;

  private:
    using Chances = std::array<std::vector<SeatChance>, ways.size()>;
    using BySetup = std::vector<std::vector<double>>;  // setup, attitude
    Chances chances_of(Tables& tables) const;
    std::pair<double, double> furthest(std::size_t way, std::size_t i) const;
    double worn(const Seat& seat, double head) const { return head * seat.seats_of_cutter + seat.place; }
    double mean_height(const Seat& seat, const Shared& shared, double head) const;
    void set_means(const Shared& shared, double head) const;
    double heights(double sd, double by) const;
    double seat_chance(std::size_t way, std::size_t i, const Vec3& pose, const Vec2& attitude) const;
    double seats_chance(std::size_t way, const Shared& shared) const;
    void make_enters();
    double all_enter(int scramble, std::size_t points) const;
    std::vector<double> enter_of_setup(std::size_t setup, std::size_t points) const;
    std::size_t enter_points(std::size_t points) const;
    void make_poses(double fineness);
    void make_weaves(double fineness);
    std::vector<Vec3> points_of(std::size_t setup, int scramble, std::size_t points) const;
    std::vector<BySetup> running(std::size_t first, std::size_t many) const;
    std::vector<BySetup> over_poses(std::size_t first, std::size_t many, int scramble,
                                    std::size_t points) const;
    // Of ways 0 … many − 1, at each node.
    std::vector<std::vector<double>> woven(std::size_t many, int scramble, std::size_t points) const;
    void by_points(int scramble, std::size_t points, std::size_t many,
                   std::vector<std::vector<double>>& out) const;
    struct AtOdds {
        double bad_passed = 0, good_failed = 0;
    };
    // Density of how far a point of several standard normals lies from their middle, either way on a line.
    class Distance {
      public:
        explicit Distance(int dimensions);
        double operator()(double r) const;
        double most(double from, double to) const;  // its largest between
        double furthest() const { return furthest_; }

      private:
        double power_, scale_ = 0, furthest_;
    };
    std::vector<AtOdds> odds(int scramble, std::size_t lines) const;
    AtOdds at_odds(const double* normal, const Distance& density, double head) const;
    AtOdds along_line(const Shared& shared, const std::vector<double>& moves, const Distance& density,
                      double head) const;

    Batch batch_;
    const std::vector<double>& nodes_;
    std::uint64_t seed_;
    bool judged_, has_heights_, poses_;
    Tables& kept_;
    Chances chances_;
    bool apart_;  // the float is free: entering hangs on the pose alone, runout on the attitude alone
    Sharing sharing_;
    double fineness_ = 1;
    bool sharp_ = false;
    double own_height_ = 0;
    std::array<std::vector<std::shared_ptr<const ChanceTable>>, ways.size()> tables_;  // null: ask the chance
    std::vector<EnterTable> enters_;                  // where the float is free
    std::vector<std::size_t> enter_of_;               // which of them, a seat
    std::vector<std::vector<WeaveTerm>> weaves_;      // of the first ways; none: by points
    std::vector<std::vector<std::size_t>> seats_of_;  // a setup
    std::vector<Poses> even_poses_;                   // a setup; none: poses go by points
    bool pose_points_ = false;
    mutable double weave_error_ = 0, enter_error_ = 0;
    mutable std::vector<std::vector<double>> woven_;  // where no point is in it: once for all scrambles
    mutable std::vector<double> means_;
    mutable std::vector<Stem> stems_;
};

}  // namespace seatwright::forecast
