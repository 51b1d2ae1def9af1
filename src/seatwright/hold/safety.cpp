#include "seatwright/hold/safety.hpp"

#include <cmath>

#include "seatwright/words/english_hold.hpp"

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

std::vector<Warning> safety_warnings(const Setup& setup) {
    std::vector<Warning> warnings;
    const Safety& safety = setup.safety;
    if (safety.slip_factor && *safety.slip_factor < least_slip_factor) {
        const bool slips = *safety.slip_factor < 1;
        warnings.push_back(
            {"hold", "slip", std::nullopt,
             sentence<"slip">("setup"_is = setup.id, "times"_is = as_number(*safety.slip_factor, 2),
                              "slope"_is = as_angle(safety.slope),
                              "then"_is = slips ? sentence<"would-slip">() : sentence<"two-wanted">()),
             slips ? Severity::blocking : Severity::note});
    }
    if (safety.slides_when_released && !safety.stopped) {
        const Part mass = safety.mass ? Part(as_mass(*safety.mass)) : Part(sentence<"unknown-mass">());
        const auto side = [](job::LoadSide from) {
            return from == job::LoadSide::back ? sentence<"back">() : sentence<"front">();
        };
        const Sentence then = safety.uphill ? sentence<"load-uphill">("side"_is = side(*safety.uphill))
                                            : sentence<"load-level">();
        warnings.push_back({"hold", "slides-when-released", std::nullopt,
                            sentence<"slides">("setup"_is = setup.id, "mass"_is = mass,
                                               "slope"_is = as_angle(safety.slope), "then"_is = then),
                            Severity::note});
    }
    return warnings;
}

std::optional<Warning> lift_warning(const job::Job& job) {
    if (!job.head.mass || *job.head.mass <= one_person_lift) return std::nullopt;
    return Warning{"hold", "lift", std::nullopt, sentence<"lift">("mass"_is = as_mass(*job.head.mass)),
                   Severity::note};
}

}  // namespace seatwright::hold
