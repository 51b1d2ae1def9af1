// Where the guides of a setup lie from head to head, less where the program takes them to be: which are
// touched, the pose error left, and what of each guide's miss every cause brings.
//
// Given the pose error (t', θ') ~ N(0, Σ) the guides are independent:
//   e_v = s_v·(t' + θ' × (m_v − m_p)) + δ'_v,  δ'_v ~ N(0, τ_v²·I),
// untouched s = 1, τ = casting; touched s = touch²/(touch² + casting²), τ² = s·casting². Lengths mm, angles
// rad; m_v − m_p: from the midpoint of the posts, map frame.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::forecast {

struct GuidePlace {
    Vec2 from_posts = Vec2::Zero();
    double casting_sd = 0;
    std::optional<double> room;  // (mouth − tip)/2; none: not known
};

struct PlaceRules {
    double place_sd = 0;  // of t, per axis
    double turn_sd = 0;   // of θ
    double touch_sd = 0, positioning_sd = 0;
    double enter_target = 0.999;
    std::optional<int> touches;        // none: as many as reach enter_target
    bool rezero = false;               // t flat; the readout is zeroed over `datum`, which is a touch
    std::optional<std::size_t> datum;  // index into the guides
};

struct Places {
    std::vector<std::size_t> touched;  // indices into the guides, as touched
    Mat3 pose = Mat3::Zero();          // Σ of (t'x, t'y, θ')
};

// Touches chosen as find chooses the next one.
Places places_of(const std::vector<GuidePlace>& guides, const PlaceRules& rules);

// Mean square of a guide's miss, both axes together, by cause, the fit's gain held; they add to
// 2·τ² + s²·tr(Σ at the guide).
struct MissParts {
    double posts = 0, yaw = 0, casting = 0, touch = 0;
    double sum() const { return posts + yaw + casting + touch; }
};
std::vector<MissParts> miss_parts(const std::vector<GuidePlace>& guides, const PlaceRules& rules,
                                  const Places& places);

}  // namespace seatwright::forecast
