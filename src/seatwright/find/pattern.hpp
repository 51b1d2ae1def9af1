// The head the wrong way round: is the pattern turned end for end, or the other-hand casting?
//
// Seen in plan, a pattern m can be turned half a turn (end for end), mirrored along the table (x → −x), or
// both (y → −y). Two kinds of mistake give each: the touches name the right guides of a head that lies the
// wrong way, or they name the guides in the order the operator expected, so that each touch belongs to the
// guide that lies where its own was thought to be. Both are tried. The declared pattern must be rejected
// (chi-square p < 0.001) and the other not (p > 0.01) before anything is said.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "seatwright/find/find.hpp"
#include "seatwright/find/pose.hpp"

namespace seatwright::find {

inline constexpr double reject_below = 0.001;
inline constexpr double accept_above = 0.01;

// Upper tail of chi-square; none when dof < 1.
std::optional<double> chi_square_p(double chi2, int dof);
// 2·readings − 3, + 1 with a yaw prior, + 3 with a carry prior (which has both).
int degrees_of_freedom(std::size_t readings, const Prior& prior);

struct Hypothesis {
    Pattern pattern = Pattern::as_declared;
    std::vector<Vec2> maps;              // of each guide, the head so turned
    std::vector<std::size_t> true_name;  // the guide that a touch named i was really made on
};

// The other ways round, labels kept and labels in order.
std::vector<Hypothesis> other_ways_round(std::span<const Expected> guides);

struct Recognised {
    Hypothesis hypothesis;
    double declared_p = 0;
    double p = 0;
};
// The best other way round, if the declared one is rejected and that one is not.
std::optional<Recognised> recognise(std::span<const Expected> guides, std::span<const Reading> readings,
                                    const Prior& prior);

// Other ways round in which the whole layout looks the same within the casting scatter and `touch_sd`.
std::vector<Pattern> look_alikes(std::span<const Expected> guides, double touch_sd);

Sentence words_of(Pattern pattern);

}  // namespace seatwright::find
