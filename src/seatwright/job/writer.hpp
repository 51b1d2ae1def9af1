// Job text from values: readings as they are entered, and a whole new job from six answers.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/job/job.hpp"

namespace seatwright::job {

// A reading as its [[reading.…]] table, lengths as bare numbers in `units`, all else with its unit. Read back
// it is the same reading (to 1e-11 of its value).
std::string to_toml(const Touch& reading, LengthUnit units);
std::string to_toml(const Level& reading, LengthUnit units);
std::string to_toml(const GuideBore& reading, LengthUnit units);
std::string to_toml(const SeatBefore& reading, LengthUnit units);
std::string to_toml(const SeatAfter& reading, LengthUnit units);
std::string to_toml(const FirstSeat& reading, LengthUnit units);

// A text as a TOML string, quotes and controls escaped; bytes that are not UTF-8 become U+FFFD.
std::string toml_string(std::string_view text);
// A length (mm) as a bare number in `units`.
std::string toml_length(double mm, LengthUnit units);

// In which order the valves of one cylinder stand along the head.
enum class Order {
    intake_first,   // I E, I E, …
    exhaust_first,  // E I, E I, …
    mirrored        // I E, E I, I E, …: every second cylinder the other way round
};

// The six answers of a new job, what was left open empty. Lengths mm, angles rad.
struct Answers {
    std::string title = "new job";
    LengthUnit units = LengthUnit::mm;
    int cylinders = 4;
    double bore_spacing = 100;
    int valves_per_cylinder = 2;  // 2, 3 (two intakes), 4 or 5 (three intakes)
    Order order = Order::exhaust_first;
    PerKind<std::optional<double>> incline;        // open: upright; of opposite sign for two rows
    PerKind<std::optional<double>> cant;           // lean along the head; open: none
    PerKind<std::optional<double>> head_diameter;  // open: 0.42 and 0.36 of the bore spacing for one valve
                                                   // of a kind, 0.34 and 0.30 for several
    PerKind<std::optional<double>> stem_diameter;  // open: the other kind's, else 8, less for a small head
    PerKind<std::optional<double>> seat_angle, seat_width;
    std::string shop;  // path of the shop file; empty = none
};

// A complete job file that reads without faults: the answers where they were given, and for the rest values
// of common practice, to be replaced by the drawing's. Every figure in it that no answer gave stands in its
// head.assumed. Answers out of range are brought into it.
std::string new_job(const Answers& answers);

}  // namespace seatwright::job
