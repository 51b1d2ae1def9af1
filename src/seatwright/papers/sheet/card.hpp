// The work card: what a person needs at the machine, a block for each cutter in each setup (for each pilot of
// it where changing one takes the cutter off), its seats in the order they are cut.
//
// Lengths mm; positions as the readout shows them, Z of the cutter's gauge plane in its own program.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::papers {

// What the seat shall come to, as a person can gauge it.
struct CardTarget {
    std::string what;  // "stem", "below deck", "deeper": the last where neither height is known
    double value = 0;
    std::optional<double> low, high;  // its window
};

struct CardRow {
    int number = 0;  // in the order of the whole head, from 1
    std::size_t valve = 0;
    std::string id;
    std::string pilot;
    std::optional<CardTarget> target;
    double width = 0;
    std::optional<double> width_tol, runout_max;
    Vec2 at = Vec2::Zero();
    std::optional<double> z;
    bool first = false;  // cut first, short where the cut allows it, and measured
    // Of a short first cut its stop; of every first cut what a gauge shall then show.
    std::optional<double> first_z;
    cut::ShallRead first_reads;
    bool touched = false;  // Z0 is taken on it, so it is cut last
    double rpm = 0, feed = 0;
};

struct CardBlock {
    std::string setup;
    int cutter = 1;    // its number
    std::string name;  // of the cutter
    double blade_setting = 0;
    std::optional<std::size_t> pilot;  // the only one of its seats, index into job.pilots; none: of several
    std::vector<std::string> files;    // in the order they are taken
    std::vector<Sentence> zeros;       // how Z0 is taken, a sentence each
    std::optional<double> trim;        // in the last of the files
    // The first file ends after its first seat; the second is made from what is read there.
    bool measures_first = false, second_is_there = false;
    bool trims_at_control = false;  // one file, with a halt after the first seat for Z0 to be moved
    std::vector<CardRow> rows;
};

// Seats that are held back are in no block.
std::vector<CardBlock> card_blocks(const job::Job& job, const plan::Plan& plan);

}  // namespace seatwright::papers
