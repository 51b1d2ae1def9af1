// What the drawing says of valve, seat and guide, per kind of valve; lengths mm, angles rad.
// Facet angles are from the plane square to the guide axis.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace seatwright::job {

struct Facet {
    double angle = 0;
    double width = 0;  // along the cone
};

struct ValveForm {
    double head_diameter = 0;
    std::optional<double> face_angle;
    std::optional<double> stem_diameter;
    std::optional<double> margin;
};

struct Insert {
    double outside = 0;
    double inside = 0;
    double depth = 0;
    std::optional<double> interference;  // diametral, at 20 °C; common practice by material if not given
    std::string material;                // of the ring; the seat's material if empty
};

// The height all seats of a kind are cut to; one of the three is given.
struct Finish {
    std::optional<double> stem_height;
    std::optional<double> below_deck;  // below the new deck
    std::optional<double> recession;   // of the gauge circle below its drawing height
};

struct SeatForm {
    double angle = 0;
    double width = 0;
    std::optional<double> inset;             // one of inset and
    std::optional<double> contact_diameter;  // contact_diameter is given
    std::vector<Facet> top;                  // outward from the face
    std::vector<Facet> throat;               // inward from the face
    std::optional<double> width_tol;
    std::optional<double> runout_max;
    std::optional<double> stem_height;  // drawing value
    std::optional<double> stem_height_min, stem_height_max;
    std::optional<double> recession_min, recession_max;
    std::optional<double> below_deck;  // drawing value: head face of the valve below the drawing deck
    std::optional<double> below_deck_min, below_deck_max;  // below the new deck
    std::optional<Finish> finish;
    std::optional<double> cleanup;  // the shop's usual one, where none is read
    bool old_as_drawn = false;      // the head is new: a seat not read stands at its drawing height
    std::optional<double> tip_grind_max;
    std::optional<double> spring_height;    // installed, drawing value
    std::optional<double> vacuum_min;       // kPa below atmosphere the seat must hold
    std::optional<double> vacuum_loss_max;  // kPa of it that may be lost in 10 s with the pump shut off
    bool cut_allowed = true;
    std::string material;  // of what is cut; the head's if empty
    std::optional<Insert> insert;
};

struct GuideForm {
    std::optional<double> bore;      // drawing diameter
    std::optional<double> bore_max;  // wear limit
    std::optional<double> bell_max;  // bell-mouth limit, diameter
    std::optional<double> length;
    std::optional<double> mouth;    // chamfer diameter of the opening
    std::optional<double> to_seat;  // guide top to gauge plane
    std::optional<double> below;    // free room under the guide's far end
    std::optional<double> outside;  // guide outside diameter, for the press fit
    std::optional<double> interference;
};

}  // namespace seatwright::job
