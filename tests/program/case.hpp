// A head, a shop and a person's readings as numbers, and the job text they come to. The simulated machine
// works on these numbers; the plan is made from the text. Invented data; mm, rad, s.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry.hpp"

namespace seatwright::sim {

enum class Way { carried, live, planted, none };
enum class ZeroBy { touch, ball, block };
enum class FloatBy { none, soft, words, hand, springs };

struct PilotSize {
    std::string name;
    double diameter = 8.71, longer = 0;  // than reach and gauge_at say
};
// A guide reamed for the second pilot is so much wider.
inline constexpr double reamed = 0.05;

struct KindData {
    double head_diameter = 44, width = 1.5, inset = 0.5, top_width = 1.0, throat_width = 1.2;
    double bore = 8.73, guide_length = 55, mouth = 9.6, to_seat = 40, below = 45;
    double below_deck = 1;  // drawing
};

struct Seat {
    std::string id;
    bool intake = true;
    int cylinder = 1;
    P3 at;                         // as drawn
    double incline = 0, cant = 0;  // rad
    P2 stray;                      // of the casting, across the spindle
    double recession = 0;          // ρ in truth
    std::optional<double> cleanup = 0.1;
    double outside_wider = 0, inside_wider = 0;  // old face beyond the new form, in radius
    double bore = 8.714;                         // in truth and as read
    // What the person wrote down.
    double recession_read = 0, bore_read = 8.714;
    bool read_height = true, read_face = true, read_guide = true;
    P2 touch_error;
    bool touched = true;
    bool large = false;              // its guide was reamed for the shop's second pilot
    std::optional<double> ring_top;  // a new ring: its flat top over the gauge circle as drawn
    double ring_inside = 37, ring_outside = 48;
};

struct Case {
    std::string name, head = "1";
    bool inch_programs = false;
    // Dialect.
    bool semicolon = false, numbered = false, milliseconds = false, ends_m30 = true, worded_top = true;
    int decimals = 4;
    // Machine.
    FloatBy floats = FloatBy::words;
    bool lock_to_cut = true, offsets = false;
    int x_sign = 1, y_sign = 1;
    std::optional<P2> load_at, measure_at;
    bool trim_at_control = false;
    double spin_up = 2, spin_down = 2;
    bool cutter_off = false;
    // Ways.
    Way way = Way::carried;
    ZeroBy zero = ZeroBy::touch;
    std::optional<std::string> zero_on;
    bool to_height = false;
    double recession_max = 2;
    double finish = 0.5;  // recession both kinds are cut to, where to_height
    bool first_stop = true;
    double feeler = 0;
    P2 deck_at;
    double ball = 3, block = 25, deck_cut = 0;
    double step = 0.01;
    // Shelf, from the holder's face down.
    double reach = 176, gauge_at = 124, slide = 30, above = 95, drop = 60, lowest = 3, body = 28,
           bore_depth = 110;
    double taper = 0.0005, tip = 8.4;
    std::vector<PilotSize> pilots = {{"one", 8.71, 0}};
    KindData intake, exhaust;
    std::vector<Seat> seats;
    P2 deck_low, deck_high;  // of the casting, head frame; its bolt holes stand 8 inside
    std::string datum;
    double yaw = 0;                  // of the head on the table, true
    std::vector<std::string> extra;  // further lines of the job, whole tables

    const KindData& of(const Seat& seat) const { return seat.intake ? intake : exhaust; }
    const Seat& seat(const std::string& id) const;
    const PilotSize* pilot(const std::string& named) const;
};

// κ of that old seat in truth: where the form comes to rest on it, above where a valve would; on a new ring
// above the gauge circle as drawn.
double true_rest(const Case& c, const Seat& seat);

// The job file without touches.
std::string job_text(const Case& c);

}  // namespace seatwright::sim
