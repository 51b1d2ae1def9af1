// Z0 of one cutter in one setup: what it is taken on, where that is, what the control's zero then means, and
// what it cannot be taken on.
//
// Frames and letters as zero.hpp.
//
// Touch: the seat named, else of the seats of this cutter's form in this setup the one nearest the middle of
// the row; one height for all asks for the touched seat's own height, so seats read go before those not read.
// A seat already cut is no old seat any more. Finished: the seat named if it is finished, else the one
// finished last. Deck: with lengths from one reference a ball; with a program of each cutter's own a block,
// if the deck stands square.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/shape/zero.hpp"
#include "seatwright/words/held_back.hpp"

namespace seatwright::shape {

// One seat of the cutter's form in the setup.
struct ZeroSeat {
    std::size_t valve = 0;  // index into job.head.valves
    std::string id;
    Vec3 map = Vec3::Zero();  // m_v
    Vec2 readout = Vec2::Zero();
    std::optional<double> recession;  // ρ_v; none: not read (0 by definition of a plan of differences)
    std::optional<double> rest;       // κ_v; none: not known, 0 is used
    std::optional<double> height_u;   // standard uncertainty of ρ_v; none: ZeroSds::height
    double angle = rad(45);           // of the face
    bool planned = false;             // the program cuts it
    bool has_old_seat = true;         // false: a new ring
    bool already_cut = false;         // on this head, by this or another file
    std::optional<double> finished;   // s as measured after its cut, found good
    int finished_rank = 0;            // the larger, the later it was finished
};

// A round opening in the deck, head frame.
struct DeckHole {
    Sentence name;
    Vec2 centre = Vec2::Zero();
    double diameter = 0;
};

// What is known of the deck for a zero on it.
struct ZeroDeck {
    std::optional<Vec2> at;  // depth.deck_at
    double deck_cut = 0;
    Mat3 rotation = Mat3::Identity();
    Vec3 datum = Vec3::Zero();  // P_datum
    int x_sign = 1, y_sign = 1;
    std::vector<DeckHole> holes;
    std::optional<double> ball;    // machine.ball
    std::optional<double> block;   // depth.block
    std::optional<double> lowest;  // cutter.lowest
};

struct ZeroTask {
    std::string head, setup;
    std::string cutter;  // its name
    int number = 1;      // on the card
    job::DepthFrom from = job::DepthFrom::touch;
    job::DepthTo to = job::DepthTo::cleanup;
    job::ZeroKept kept = job::ZeroKept::program;
    std::optional<std::size_t> named;  // valve: zero_on, or the datum for from = "datum"
    std::string pilot;                 // that stands in the guide it is taken in; empty: one that fits
    bool without_pilot = false;        // no pilot leads this job's cutters
    double feeler = 0;
    std::vector<ZeroSeat> seats;  // head order
    ZeroDeck deck;
    ZeroSds sds;
};

struct Zero {
    ZeroOn on = ZeroOn::old_seat;
    std::optional<std::size_t> valve;
    Vec2 at = Vec2::Zero();      // readout
    double zeta = 0;             // z of the cutter's gauge plane there, m's frame
    std::optional<double> rest;  // κ; 0 on a finished seat, none on the deck or where not known
    double feeler = 0;
    std::vector<double> u;  // U (k = 2) of Z at each seat of the task
    double u_worst = 0;     // of the seats planned; of all where none is
    Sentence words;
};

// Held back with code `missing` (a figure the way needs; `frees` names the key), `zero-void` (it cannot be
// taken so) or `not-measured` (the touched seat's height).
tl::expected<Zero, HeldBack> take_zero(const ZeroTask& task);

// The seat touched by default, index into `seats`: nearest the middle of the row of those not yet cut that
// have an old seat. Those planned and read go first; then for one height those read, for as little as each
// needs those planned. None if there is no such seat.
std::optional<std::size_t> touched_by_default(const std::vector<ZeroSeat>& seats, job::DepthTo to);

}  // namespace seatwright::shape
