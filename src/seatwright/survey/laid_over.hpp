// Two descriptions of one head (survey, scan, drawing, a job) laid over each other by their bolt holes, and
// by how much they then differ.
//
// Rigid and in the deck's plane; also with the other turned end for end, mirrored, or both, since nobody need
// have begun at the same end or looked from the same side. Pairs of holes as far apart in both give a motion,
// the motion that brings most holes together is fitted by least squares over them. A bolt pattern often fits
// several ways: then the guides decide, and if they do not either the ways left are named. Lengths mm, angles
// rad.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

// What of a head is laid over: bolt holes and guides; a figure that is open has no value.
struct Laid {
    struct Guide {
        std::string id;
        std::optional<job::Kind> kind;
        Vec2 at = Vec2::Zero();
        std::optional<double> z, incline, cant;
        double u = 0;  // of the place, per axis
    };
    std::vector<Vec2> bolts;
    double u_bolt = 0;
    std::vector<Guide> guides;

    // A valve of any description whose place is known; `u` of that place.
    template <class Valve>
    void add(const Valve& v, const std::optional<job::Kind>& kind, double u) {
        guides.push_back({v.id, kind, {*v.x.value, *v.y.value}, v.z.value, v.incline.value, v.cant.value, u});
    }
    template <class Hole>
    void add_bolt(const Hole& h) {
        bolts.emplace_back(*h.x.value, *h.y.value);
        u_bolt = std::max({u_bolt, h.x.u, h.y.u});
    }
};
Laid laid(const Survey& survey);
// A job's head; figures that were made up (head.assumed) are open.
Laid laid(const job::Job& job);

enum class Way { same, end_for_end, mirrored, mirrored_end_for_end };
const char* word_of(Way way);  // "as declared", "end for end", "mirrored", "mirrored end for end"

struct LaidOver {
    Way way = Way::same;
    std::vector<Way> as_well;    // that fit about as well
    bool by_guides = false;      // bolts fit several ways, guides decided
    double yaw = 0;              // of the other beyond that way, rad
    Vec2 offset = Vec2::Zero();  // where its origin comes to lie
    struct Bolt {
        std::size_t mine = 0, other = 0;  // indices
        Vec2 off = Vec2::Zero();          // the other's place less mine
    };
    std::vector<Bolt> bolts;
    std::size_t mine_alone = 0, other_alone = 0;  // holes without a partner
    double bolts_rms = 0, bolts_worst = 0;        // of the distances
    struct Guide {
        std::string mine, other;  // ids
        Vec2 off = Vec2::Zero();
        std::optional<double> z, incline, cant;  // the other's less mine
        bool stands_out = false;                 // from what the other guides are off by
    };
    std::vector<Guide> guides;
    std::vector<std::string> guides_alone;  // of either, with no partner
    std::optional<double> guides_rms, guides_worst;
};

// None: fewer than two holes come together, so nothing says how the two lie on each other.
std::optional<LaidOver> lay_over(const Laid& mine, const Laid& other);

// Holes nearer than this are partners, guides likewise; beyond, they are other ones.
inline constexpr double partners_within = 2.0, guides_within = 5.0;

}  // namespace seatwright::survey
