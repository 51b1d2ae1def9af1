#include "seatwright/cut/machine_state.hpp"

#include <fmt/format.h>

namespace seatwright::cut {

namespace {

constexpr double rpm_tolerance = 1e-3;

}  // namespace

MachineState::MachineState(const job::Job& job, const Route& route)
    : job_(job), live_(route.pilot == job::PilotUse::live) {
    const auto& stated = job.machine.tool_float;
    if (stated && stated->kind == job::Float::Kind::commanded) float_ = *stated;
    // Springs hold it in the middle until a guide pulls it away.
    centred_ = float_ && float_->centre == "self";
}

bool MachineState::turning_to_cut() const {
    return turning() && !(live_ && rpm_ <= job_.cut.entry_rpm.value_or(0) + rpm_tolerance);
}

bool MachineState::float_fit_to_go_across() const {
    if (!float_) return true;
    if (float_->centre == "self") return centred_;
    return centred_ && locked_;
}

std::string MachineState::free_float() {
    if (!float_) return "a float is freed that nobody moves";
    if (turning_to_cut()) return "the float is freed while the spindle turns";
    free_ = true;
    locked_ = false;
    if (float_->centre != "self") centred_ = false;
    return "";
}

std::string MachineState::set_locked(bool locked) {
    if (turning_to_cut()) return "the float is locked while the spindle turns";
    locked_ = locked;
    free_ = !locked;
    return "";
}

std::string MachineState::centre_float(bool tip_out) {
    if (turning_to_cut()) return "the float is centred while the spindle turns";
    if (!tip_out) return "the float is centred with the pilot in the guide";
    if (locked_ && !centred_) return "the float is centred while it is locked";
    centred_ = true;
    return "";
}

void MachineState::out_of_guide() {
    if (float_ && float_->centre == "self" && free_) centred_ = true;
}

std::string MachineState::spindle(const Modes& modes) {
    spindle_ = modes.spindle;
    rpm_ = modes.rpm;
    settled_ = 0;
    if (!turning()) return "";
    if (modes.spindle == Spindle::counterclockwise) return "the spindle turns backwards";
    const auto& machine = job_.machine;
    if (machine.rpm_max && modes.rpm > *machine.rpm_max + rpm_tolerance)
        return fmt::format("{} rpm is faster than the machine turns", modes.rpm);
    if (machine.rpm_min && modes.rpm < *machine.rpm_min - rpm_tolerance)
        return fmt::format("{} rpm is slower than the machine turns", modes.rpm);
    return "";
}

void MachineState::halted(bool asks_for_zero, bool above_everything) {
    standing_ = Standing::anywhere;
    raised_ = raised_ || above_everything;
    zero_trusted_ = zero_trusted_ || asks_for_zero;
}

std::string MachineState::changed(int tool) {
    if (turning()) return "the cutter is changed with the spindle turning";
    if (!raised_) return fmt::format("cutter {} is put in without going to the top first", tool);
    standing_ = Standing::anywhere;
    return "";
}

}  // namespace seatwright::cut
