#include "machine.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::sim {

namespace {

constexpr double inch = 25.4;
constexpr double highest = 900;  // programs are below; the words to the top go above, in the program's unit
constexpr int points_across = 200;  // looked at on the way across
constexpr double over_a_guide = 3;  // a tool nearer to a guide than this is meant for it
constexpr double most_lean = 0.5;   // deg, of a guide from the spindle that its pilot and float still take
constexpr double by_eye = 2, by_eye_part = 0.1;  // a height told from another, mm and share
constexpr double tiny = 1e-6;
constexpr double cutting_feed = 60.0 / 60;  // mm/s

}  // namespace

Machine::Machine(const Case& c, const SetupAsHeld& setup, Left& left, const Person& person)
    : c_(c), setup_(setup), left_(left), person_(person) {}

double Machine::drawn(const std::string& id) const {
    return setup_.attitude.apply(c_.seat(id).at - c_.seat(setup_.datum).at).z;
}

P2 Machine::place(const std::string& id) const {
    const auto lies = [&](const std::string& valve) {
        const P3 m = setup_.attitude.apply(c_.seat(valve).at - c_.seat(setup_.datum).at);
        const P2 off = c_.seat(valve).stray;
        return turned({c_.x_sign * (m.x + off.x), c_.y_sign * (m.y + off.y)}, c_.yaw);
    };
    // The readout was zeroed over the datum guide, as well as one can.
    const P2 datum = lies(setup_.datum), miss = c_.seat(setup_.datum).touch_error;
    return lies(id) - datum - miss;
}

double Machine::deck_under(P2 readout) const {
    const P2 back = turned(readout, -c_.yaw);
    const P3 datum = c_.seat(setup_.datum).at;
    const P3 b = setup_.attitude.apply(P3{datum.x, datum.y, -c_.deck_cut} - datum);
    const P3 n = setup_.attitude.apply({0, 0, 1});
    const double x = c_.x_sign * back.x, y = c_.y_sign * back.y;
    const double z = b.z - (n.x * (x - b.x) + n.y * (y - b.y)) / n.z;
    // Beside the head there is no deck.
    const P3 at = setup_.attitude.undo({x, y, z});
    const bool beside = at.x + datum.x < c_.deck_low.x || at.x + datum.x > c_.deck_high.x ||
                        at.y + datum.y < c_.deck_low.y || at.y + datum.y > c_.deck_high.y;
    return beside ? -top_height : z;
}

double Machine::mouth(const Seat& seat) const {
    return drawn(seat.id) - c_.of(seat).to_seat;
}

double Machine::below_gauge() const {
    const PilotSize* pilot = in_tool();
    return pilot != nullptr ? c_.reach + pilot->longer - c_.drop : c_.lowest;
}

bool Machine::commanded() const {
    return c_.floats == FloatBy::words || c_.floats == FloatBy::hand || c_.floats == FloatBy::springs;
}

bool Machine::float_fit() const {
    return !commanded() || (c_.floats == FloatBy::springs ? !locked_ || centred_ : locked_ && centred_);
}

double Machine::zeta() const {
    const auto at = left_.zeros.find({setup_.id, c_.offsets ? length_ : cutter_.value_or(0)});
    return at == left_.zeros.end() ? 0 : at->second;
}

void Machine::wrong(const std::string& what) {
    ran_.wrong.push_back(what);
}

// Of that guide from the spindle.
void Machine::leans(const Seat& seat) {
    const P3 axis = setup_.attitude.apply({std::tan(seat.cant), std::tan(seat.incline), 1});
    const double lean = std::atan(std::hypot(axis.x, axis.y) / axis.z);
    if (lean > radians(most_lean))
        wrong(fmt::format("guide {} leans {:.1f} deg from the spindle", seat.id, lean / radians(1)));
}

const Seat* Machine::under() const {
    for (const std::string& id : setup_.valves)
        if (length(place(id) - at_) < over_a_guide) return &c_.seat(id);
    return nullptr;
}

Ran Machine::run(const CanonProgram& program, const std::map<std::string, std::string>& wanted) {
    wanted_ = wanted;
    if (!program.fault.empty()) wrong("the outside interpreter refuses it: " + program.fault);
    centred_ = c_.floats == FloatBy::springs;
    for (const CanonCall& call : program.calls) {
        take(call);
        if (ran_.stopped) break;
    }
    if (turning_) wrong("the spindle turns at the end");
    if (!top_ && !known_ && !ran_.stopped) wrong("the end is at a height nobody knows");
    ran_.ended_at = at_;
    return ran_;
}

void Machine::take(const CanonCall& call) {
    const std::string& name = call.name;
    if (name == "COMMENT") {
        if (call.words.find("interpreter:") == std::string::npos) said_ += call.words + " ";
        return;
    }
    if (name == "USE_LENGTH_UNITS") unit_ = call.words.find("INCH") == std::string::npos ? 1 : inch;
    if (name == "SET_FEED_RATE") feed_ = call.number(0) * unit_ / 60;
    if (name == "SET_SPINDLE_SPEED") rpm_ = call.number(1);
    if (name == "USE_TOOL_LENGTH_OFFSET")
        length_ = static_cast<int>(std::lround(call.number(2) * unit_ / inch));
    if (name == "CHANGE_TOOL") {
        tool_ = static_cast<int>(call.number(0));
        known_ = false;
        moved_by_hand_ = true;
        if (!top_) wrong("a cutter is changed elsewhere than at the top");
    }
    if (name == "DWELL") settled_ += call.number(0) * (c_.milliseconds ? 1e-3 : 1);
    if (name == "START_SPINDLE_CLOCKWISE" || name == "STOP_SPINDLE_TURNING") {
        const bool on = name != "STOP_SPINDLE_TURNING";
        if (on != turning_) settled_ = 0;
        turning_ = on;
    }
    if (name == "START_SPINDLE_COUNTERCLOCKWISE") wrong("the spindle turns backwards");
    if (name == "SET_MOTION_OUTPUT_BIT")
        free_ = true, locked_ = false, centred_ = c_.floats == FloatBy::springs && centred_;
    if (name == "CLEAR_MOTION_OUTPUT_BIT") locked_ = true, free_ = false;
    if (name == "SET_AUX_OUTPUT_BIT" && locked_ && !centred_)
        wrong("the float is centred while it is locked");
    if (name == "SET_AUX_OUTPUT_BIT") centred_ = true;
    if (name == "PROGRAM_STOP") halt();
    if (name == "STRAIGHT_TRAVERSE") move(call, true);
    if (name == "STRAIGHT_FEED") move(call, false);
    if (name != "SET_FEED_RATE" && name != "SET_SPINDLE_SPEED") said_.clear();
}

void Machine::halt() {
    ++ran_.halts;
    const auto asks = [&](const char* words) { return said_.find(words) != std::string::npos; };
    if (asks("Free the float")) {
        free_ = true, locked_ = false, centred_ = false;
        return;
    }
    if (asks("the float") || asks("Centre the")) {
        if (asks("Centre") && locked_ && !centred_) wrong("the float is centred while it is locked");
        if (asks("Centre")) centred_ = true;
        if (asks("ock")) locked_ = true, free_ = false;
        return;
    }
    if (turning_) wrong("a halt with the spindle turning");
    if (asks("above everything")) top_ = true;
    if (asks("Bring the tool by hand, slowly")) top_ = false;
    still_taken(said_);
    take_pilots(said_);
    take_pilot_for_zero(said_);
    take_zero(said_);
    if (person_.looks) look(said_);
    if (asks("Move Z0"))
        for (auto& [cutter, zero] : left_.zeros) zero += person_.trim_at_control;
    known_ = false;
    moved_by_hand_ = true;
}

// "At Z 121 mm the tip stands 5.0 mm over the deck at 1E: look", judged by eye and rule.
void Machine::look(const std::string& said) {
    constexpr std::string_view words = " stands ", over = " over the deck ";
    const std::size_t at = said.find(words), where = said.find(over);
    if (at == std::string::npos || where == std::string::npos) return;
    char* end = nullptr;
    const double gap = std::strtod(said.c_str() + at + words.size(), &end);
    const double claimed = std::string_view(end).rfind(" in", 0) == 0 ? gap * inch : gap;
    const std::string rest = said.substr(where + over.size());
    double deck = deck_under({0, 0});
    if (rest.rfind("at ", 0) == 0)
        deck = deck_under(place(rest.substr(3, rest.find(':') - 3)));
    else if (c_.zero == ZeroBy::ball)
        deck =
            setup_.attitude.apply(P3{c_.deck_at.x, c_.deck_at.y, -c_.deck_cut} - c_.seat(setup_.datum).at).z;
    // Brought there by hand, by what the readout shows.
    constexpr std::string_view shown = "At Z ";
    const std::size_t z = said.find(shown);
    if (z == std::string::npos || !cutter_) return;
    const double height = std::strtod(said.c_str() + z + shown.size(), &end);
    const double mm = std::string_view(end).rfind(" in", 0) == 0 ? height * inch : height;
    const double stands = zeta() + mm - below_gauge() - deck;
    if (std::abs(stands - claimed) > std::max(by_eye, by_eye_part * claimed)) ran_.stopped = true;
}

// As the words ask: on a seat with the pilot in, blade turned until it drags; by the ball; on the block.
void Machine::take_zero(const std::string& said) {
    constexpr std::string_view asked = "Z0 of cutter ";
    const P3 n = setup_.attitude.apply({0, 0, 1});
    for (std::size_t at = said.find(asked); at != std::string::npos; at = said.find(asked, at + 1)) {
        const int cutter = std::atoi(said.c_str() + at + asked.size());
        const std::string rest = said.substr(said.find(" taken on ", at) + 10);
        double rests = 0;
        const std::string on = rest.substr(0, rest.find(' '));
        if (rest.rfind("the block", 0) == 0) {
            rests = deck_under({0, 0}) + c_.block + c_.lowest;
        } else {
            std::string id = on;
            const auto& instead = person_.zero_on_instead;
            if (instead && c_.seat(*instead).intake == c_.seat(id).intake) id = *instead;
            const Seat& seat = c_.seat(id);
            const SeatNow& now = left_.seats[id];
            mount(cutter);
            if (in_tool() != nullptr && !taken(cutter, on)) goes_into(*in_tool(), seat);
            rests = drawn(id) + now.cut.value_or(-seat.recession + true_rest(c_, seat)) +
                    c_.feeler / std::cos(radians(45));
        }
        zero_at(cutter, on, rests);
    }
    if (said.find("Z0 taken by the ball") != std::string::npos) {
        const P3 b =
            setup_.attitude.apply(P3{c_.deck_at.x, c_.deck_at.y, -c_.deck_cut} - c_.seat(setup_.datum).at);
        for (int cutter = 1; cutter <= 4; ++cutter)
            zero_at(cutter, "the deck", b.z + c_.ball * (1 / n.z - 1) + c_.lowest);
    }
}

// "Cutter 1 not taken off since its first seat was measured?" A person who cannot say so does not go on.
void Machine::still_taken(const std::string& said) {
    constexpr std::string_view asked = " not taken off since";
    const std::size_t at = said.find(asked);
    if (at == std::string::npos) return;
    const int cutter = std::atoi(said.c_str() + said.rfind(' ', at - 1));
    if (left_.zeros.count({setup_.id, cutter}) == 0)
        wrong("the second file comes after the cutter was taken off");
}

void Machine::zero_at(int cutter, const std::string& on, double rests) {
    mount(cutter);
    if (taken(cutter, on)) return;
    left_.zeros[{setup_.id, cutter}] = rests + person_.zero_error;
    left_.taken_on[{setup_.id, cutter}] = on;
}

void Machine::move(const CanonCall& call, bool rapid) {
    ++ran_.moves;
    const double x = call.number(0) * unit_ / 1000, y = call.number(1) * unit_ / 1000,
                 z = call.number(2) / 1000;
    if (z > highest) {
        if (!rapid) wrong("the way to the top is no rapid");
        if (known_ && !top_) up(top_height, false);
        top_ = true;
        known_ = false;
        z_ = z * unit_;
        if (length(P2{x, y} - at_) > tiny && !moved_by_hand_) sideways({x, y}, rapid);
        at_ = {x, y};
        return;
    }
    const double height = z * unit_;
    const bool in_z = std::abs(height - z_) > tiny || !known_;
    if (length(P2{x, y} - at_) > tiny) {
        // At the top the Z of the call is the last one programmed.
        if (std::abs(height - z_) > tiny) wrong("a slanting move");
        sideways({x, y}, rapid);
        at_ = {x, y};
        if (top_) return;
    }
    if (!in_z) return;
    if (left_.zeros.count({setup_.id, c_.offsets ? length_ : cutter_.value_or(0)}) == 0)
        wrong("moves in Z, and nobody was asked for Z0 since the cutter was put in");
    if (c_.offsets && length_ != tool_) wrong("moves in Z with another cutter's length");
    const double to = zeta() + height;
    if (!known_) {
        // Wherever the tool stands: in a guide perhaps. Straight up, slowly.
        if (rapid) wrong("a rapid in Z while nobody knows where the tool stands");
        if (feed_ > slow) wrong("the first way in Z after a halt is fast");
        if (to - below_gauge() < deck_under(at_) - tiny)
            wrong(fmt::format("the first way in Z ends {:.1f} mm below the deck at X {:.1f} Y {:.1f}",
                              deck_under(at_) - to + below_gauge(), at_.x, at_.y));
        h_ = to;
        known_ = true;
        top_ = moved_by_hand_ = false;
    } else if (to < h_) {
        down(to, rapid);
    } else {
        up(to, rapid);
    }
    h_ = to;
    z_ = height;
}

void Machine::sideways(P2 to, bool rapid) {
    if (!rapid) wrong("a feed sideways");
    if (turning_) wrong("across with the spindle turning");
    if (!float_fit()) wrong("across with the float loose");
    if (top_) return;
    if (!known_) return wrong("across while nobody knows where the tool stands");
    const double lowest = h_ - below_gauge();
    for (int i = 0; i <= points_across; ++i) {
        const double part = static_cast<double>(i) / points_across;
        const P2 p{at_.x + part * (to.x - at_.x), at_.y + part * (to.y - at_.y)};
        if (lowest < deck_under(p))
            wrong(fmt::format("the tool goes across {:.1f} mm below the deck at X {:.1f} Y {:.1f}",
                              deck_under(p) - lowest, p.x, p.y));
    }
    for (const auto& [id, name] : left_.planted)
        if (lowest < planted_top(c_.seat(id))) wrong("the tool goes across below the pilot planted in " + id);
}

void Machine::down(double to, bool rapid) {
    if (rapid) wrong("a rapid down");
    const Seat* seat = under();
    if (!seat) {
        if (to - below_gauge() < deck_under(at_)) wrong("goes down where no guide is");
        return;
    }
    const auto wanted = wanted_.find(seat->id);
    const std::string has = in_tool() != nullptr ? in_tool()->name : "none";
    if (carries() && (wanted == wanted_.end() || wanted->second != has))
        wrong("seat " + seat->id + " is reached with pilot " + has);
    if (carries())
        descend_with_pilot(*seat, to);
    else if (c_.way == Way::planted)
        descend_over_planted(*seat, to);
    cut(*seat, to);
}

void Machine::cut(const Seat& seat, double to) {
    SeatNow& now = left_.seats[seat.id];
    const double surface = drawn(seat.id) + now.cut.value_or(-seat.recession + true_rest(c_, seat));
    if (to >= surface - tiny) return;
    if (!turning_) return wrong("the blade is pressed on seat " + seat.id + " standing still");
    if (settled_ < c_.spin_up - tiny) wrong("seat " + seat.id + " is cut before the spindle is up to speed");
    if (feed_ > cutting_feed) wrong("seat " + seat.id + " is cut faster than any cutting feed");
    if (commanded() && c_.lock_to_cut && !locked_) wrong("seat " + seat.id + " is cut with the float loose");
    if (c_.way == Way::none && !float_fit())
        wrong("seat " + seat.id + " is cut with nothing to lead the tool");
    if (!now.cut || *now.cut > to - drawn(seat.id)) {
        if (ran_.last_seat != seat.id) ++now.visits;
        now.cut = to - drawn(seat.id);
        if (!carries() && ran_.last_seat != seat.id) leans(seat);
        if (c_.way == Way::none) now.off_axis = length(place(seat.id) - at_);
    }
    ran_.last_seat = seat.id;
}

void Machine::up(double to, bool rapid) {
    const Seat* seat = under();
    if (!seat) return;
    const bool in_guide = in_tool() != nullptr && h_ - below_gauge() < mouth(*seat) - tiny;
    const bool over_pilot = c_.way == Way::planted && left_.planted.count(seat->id) != 0 &&
                            h_ - c_.lowest < planted_top(*seat) - tiny;
    if (turning_ && to - h_ > 1.001)
        wrong("the tool comes out of seat " + seat->id + " with the spindle turning");
    if (!in_guide && !over_pilot) {
        if (seat && commanded() && c_.floats == FloatBy::springs && free_) centred_ = true;
        return;
    }
    if (rapid) wrong("a rapid with the pilot in guide " + seat->id);
    if (feed_ > slow) wrong("the pilot comes out fast at " + seat->id);
    if (!turning_ && settled_ < c_.spin_down - tiny)
        wrong("the pilot comes out of " + seat->id + " before the spindle stands");
    if (!turning_ && commanded() && !free_)
        wrong("the pilot comes out of " + seat->id + " with the float held");
    if (commanded() && c_.floats == FloatBy::springs && free_ && to - below_gauge() >= mouth(*seat))
        centred_ = true;
}

}  // namespace seatwright::sim
