#include "seatwright/hold/safety.hpp"

#include <fmt/format.h>

#include <cmath>

#include "seatwright/hold/words.hpp"

namespace seatwright::hold {

Safety safety_of(const job::Head& head, const job::Fixture& fixture, const Attitude& attitude) {
    Safety safety;
    const Vec3 normal = attitude_rotation(attitude.tilt, attitude.swing).col(2);
    safety.mass = head.mass;
    safety.slope = std::atan2(std::hypot(normal.x(), normal.y()), normal.z());
    if (safety.slope <= flat_slope) safety.slope = 0;
    safety.friction_known = fixture.friction.has_value();
    // The deck normal leans downhill; a head that slopes more along its length than across has neither side
    // uphill.
    if (safety.slope > 0 && std::abs(normal.y()) >= std::abs(normal.x()))
        safety.uphill = normal.y() < 0 ? job::LoadSide::back : job::LoadSide::front;
    if (head.mass && *head.mass > 0 && fixture.clamp_force && fixture.friction && safety.slope > 0) {
        const double weight = *head.mass * standard_gravity;
        safety.slip_factor = 2 * *fixture.friction * *fixture.clamp_force / (weight * std::sin(safety.slope));
    }
    if (fixture.friction) safety.slides_when_released = std::tan(safety.slope) > *fixture.friction;
    const bool posts_uphill = fixture.load_from && safety.uphill == fixture.load_from;
    safety.stopped = safety.slides_when_released && (fixture.captive || posts_uphill);
    return safety;
}

std::vector<Warning> safety_warnings(const job::Job& job, const Setup& setup) {
    std::vector<Warning> warnings;
    const Safety& safety = setup.safety;
    if (safety.slip_factor && *safety.slip_factor < least_slip_factor) {
        const bool slips = *safety.slip_factor < 1;
        warnings.push_back(
            {"hold", "slip", std::nullopt,
             fmt::format(
                 "setup {}: the clamps hold the head against slipping only {:.2f} times over at {} of "
                 "slope; {}",
                 setup.id, *safety.slip_factor, angle_words(safety.slope),
                 slips ? "it would slip: clamp harder or hold it in a captive fixture before tilting"
                       : "a factor of 2 is wanted: clamp harder or add a stop below the head"),
             slips ? Severity::blocking : Severity::note});
    }
    if (safety.slides_when_released && !safety.stopped) {
        const std::string mass =
            safety.mass ? mass_words(*safety.mass, job.units) : std::string("unknown mass");
        const std::string side =
            safety.uphill ? fmt::format(
                                "load and unload it from the {}, the uphill side, so that the posts "
                                "stop it",
                                side_words(*safety.uphill))
                          : std::string("neither front nor back is uphill here: load it level");
        warnings.push_back({"hold", "slides-when-released", std::nullopt,
                            fmt::format("setup {}: the head ({}) slides off a deck sloping {} when released; "
                                        "tilt it back level before release, and {}",
                                        setup.id, mass, angle_words(safety.slope), side),
                            Severity::note});
    }
    return warnings;
}

std::optional<Warning> lift_warning(const job::Job& job) {
    if (!job.head.mass || *job.head.mass <= one_person_lift) return std::nullopt;
    return Warning{"hold", "lift", std::nullopt,
                   fmt::format("the head weighs {}: lift it with two people or a hoist (common limit for one "
                               "person 23 kg; local rules decide)",
                               mass_words(*job.head.mass, job.units)),
                   Severity::note};
}

}  // namespace seatwright::hold
