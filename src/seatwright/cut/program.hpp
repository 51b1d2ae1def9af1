// A route written as a program in RS-274/NGC, in the shop's dialect (working.md, "Float and spindle").
//
// Shape of a file, blocks in this order; float words and halts only as the machine asks for them:
//   comments: job, head, setup, cutter, date and digest in the first; what is held back; trim; how Z0 is
//   taken and with which pilot (draft: M0, program end)
//   one line with plane, units, distance and feed mode, offset, no length offset; M5
//   TOP, that is the dialect's `top` on a line of its own, else M0 "tool above everything, by hand"
//   M0 "Z0 of cutter 1 taken on 1E of head 6?", with the pilot that stood there
//   for each stop:
//     where it needs another pilot than the one that stands, the first one too, or planted ones after Z0:
//     ASIDE; M0 "Put pilot … in cutter 1" or "Planted now: …" where its cutter is not the one in the spindle
//     (offsets): TOP or its halt; T and the change first stop of a cutter: (G43 H) M0 "Bring the tool by hand
//     to Z 121, there the tip stands …: look", so that nothing goes down on a Z0 that nobody looked at; where
//     something was halted for or changed: G1 Z clear at the slow feed, straight up (G43 H) comment "valve
//     3I, seat 1 of 8"; again straight up after a halt CENTRED: centre and lock words, or one M0 that asks
//     for what is done by hand (only where they are not so) G0 X Y; G1 Z over_mouth; FREE; G1 Z approach at
//     the slow feed; LOCKED; S M3; G4 spin_up G1 Z finish_from; G1 Z z; G4 dwell; G1 Z z + slow_lift; M5; G4
//     spin_down; FREE G1 Z z + slow_lift + break_loose at break_loose_feed; G1 Z over_mouth at the slow feed;
//     CENTRED; G0 Z clear after the stop that is measured: TOP or nothing, G0 X Y to measure_at, and M0 or
//     the end
//   TOP or nothing; G0 X Y to load_at; program end
// ASIDE, never over the head: TOP where the dialect has words, else the clear height; CENTRED; G0 X Y to
// beside_head(). Where there is no such place, or no length yet to go up by, the halt asks for it by hand.
// A halt of the float (hand words) leaves the tool where it is; at every other halt it may be moved, so Z
// counts as unknown till the feed to the clear height. Z words are machine.z_sign times the route's heights.
#pragma once

#include <string>

#include "seatwright/cut/route.hpp"
#include "seatwright/hold/hold.hpp"

namespace seatwright::cut {

// The program as text, lines ended by "\n". Not yet checked: see readback.hpp.
std::string write_program(const job::Job& job, const hold::Setup& setup, const Route& route);

// The same, made fit for looking only: its first block is a halt, its second the program's end.
std::string as_draft(const job::Job& job, const std::string& program);

// How often a person is asked for something while it runs.
int halts_of(const std::string& program);

// Words safe inside a comment of either style: letters, digits and . , : + - = / ' ? alone, the rest as "-".
std::string plain_words(std::string_view words);
// The same, not too long for one.
std::string comment_words(std::string_view words);

// How far a number written with the dialect's decimals may be from the one meant, mm.
double written_tolerance(const job::Job& job);

}  // namespace seatwright::cut
