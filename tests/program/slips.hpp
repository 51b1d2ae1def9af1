// What people do wrong at a head, one slip at a time.
#pragma once

#include <random>

#include "shop.hpp"

namespace seatwright::sim {

enum class Act { height, cleanup, bore, touch, drawing, load, post, pilot, zero, program, first };
const char* word(Act act);

struct Slipped {
    Slip slip = Slip::unit;
    Act act = Act::height;
    std::size_t seat = 0, other = 0;
    double amount = 0;  // what it needs of chance, in its own measure
    unsigned seed = 0;  // of the other head
};

// Draws a slip that fits the act, for that seat.
Slipped drawn_slip(std::mt19937& random, const Case& c, Act act, std::size_t seat);
// Puts it into the head as it lies, what is typed or what the person does. Not for a stale program.
void put_in(Work& work, const Slipped& slipped);

// A casting as it truly is: strays, recessions, bores; what is read of it follows.
void draw_casting(Case& c, std::mt19937& random);
void read_casting(Case& c, std::mt19937& random);

}  // namespace seatwright::sim
