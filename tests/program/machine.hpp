// The simulated machine: a solid head as it truly is (places, recessions, old faces), a tool with its pilot,
// and a person who takes Z0 as the file asks. It carries out canonical calls and says what was touched that
// should not be.
//
// Heights h are of the cutter's gauge plane over the datum's gauge circle as drawn, along the spindle; mm, s.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "canon.hpp"
#include "case.hpp"

namespace seatwright::sim {

inline constexpr double top_height = 2000;  // mm
inline constexpr double slow = 300.5 / 60;  // mm/s

// One setup as the fixture is set and as the head truly lies in it.
struct SetupAsHeld {
    std::string id;
    Attitude attitude;
    std::string datum;
    std::vector<std::string> valves;
};

// Of one seat on this head, as it stands.
struct SeatNow {
    std::optional<double> cut;  // height of its gauge circle over the drawing, once cut
    int visits = 0;
    double off_axis = 0;  // of the spindle from the guide, where no pilot led it
};

// What the files have left behind: the seats, and each cutter's Z0 in the setup (h where its control shows
// 0). A person runs a cutter's second file with the Z0 of its first, and leaves its pilot where it is till a
// halt asks for another. With one cutter a file the spindle has one: another one put in voids the Z0 of the
// first.
struct Left {
    std::map<std::string, SeatNow> seats;
    std::map<std::pair<std::string, int>, double> zeros;
    std::map<std::pair<std::string, int>, std::string> taken_on;  // seat, "the block", …
    std::map<int, std::string> pilots;                            // in the holder of each cutter; "": none
    std::map<std::string, std::string> planted;                   // seat: pilot that stands in its guide
};

struct Person {
    // Thousandths that Z0 is off from where the file asks for it, up positive.
    double zero_error = 0;
    std::optional<std::string> zero_on_instead;  // takes it on another seat than asked
    bool looks = false;  // compares what the file says of the tool's height over the deck with what is seen
    Attitude off;        // of the fixture from what the plan asks
    double trim_at_control = 0;  // moves Z0 by so much at the halt after the first seat
};

struct Ran {
    std::vector<std::string> wrong;  // what went wrong, in order
    std::optional<std::string> last_seat;
    P2 ended_at;
    int moves = 0, halts = 0, pilots_put = 0;
    bool stopped = false;  // by the person, who saw the tool stand elsewhere than the file says
};

class Machine {
  public:
    Machine(const Case& c, const SetupAsHeld& setup, Left& left, const Person& person);
    // `wanted`: the pilot that each seat's plan is made with, by its name.
    Ran run(const CanonProgram& program, const std::map<std::string, std::string>& wanted);

    // Where that guide truly is, in the readout.
    P2 place(const std::string& id) const;
    // Its gauge circle as drawn, h.
    double drawn(const std::string& id) const;
    double deck_under(P2 readout) const;

  private:
    void take(const CanonCall& call);
    void halt();
    void look(const std::string& said);
    void still_taken(const std::string& said);
    void take_zero(const std::string& said);
    void take_pilots(const std::string& said);
    void take_pilot_for_zero(const std::string& said);
    void plant(const std::string& list);
    void zero_at(int cutter, const std::string& on, double rests);
    bool taken(int cutter, const std::string& on) const;
    void mount(int cutter);
    void change_pilot(int cutter, const std::string& name);
    void move(const CanonCall& call, bool rapid);
    void sideways(P2 to, bool rapid);
    void down(double to, bool rapid);
    void up(double to, bool rapid);
    void descend_with_pilot(const Seat& seat, double to);
    void descend_over_planted(const Seat& seat, double to);
    void cut(const Seat& seat, double to);
    void leans(const Seat& seat);
    const Seat* under() const;
    double mouth(const Seat& seat) const;
    double below_gauge() const;  // the tool's lowest point, slide out
    double planted_top(const Seat& seat) const;
    bool carries() const { return c_.way == Way::carried || c_.way == Way::live; }
    void goes_into(const PilotSize& pilot, const Seat& seat);
    const PilotSize* in_tool() const;                              // null: none
    double gauge_line() const;                                     // below the gauge plane, slide out
    double locks(const PilotSize& pilot, const Seat& seat) const;  // below the guide's top
    bool commanded() const;
    bool float_fit() const;
    double zeta() const;
    void wrong(const std::string& what);

    const Case& c_;
    const SetupAsHeld& setup_;
    Left& left_;
    const Person& person_;
    std::map<std::string, std::string> wanted_;
    std::optional<int> cutter_;  // whose Z0 was asked for last
    Ran ran_;
    double unit_ = 1;
    P2 at_;
    double h_ = 0, z_ = 0;
    bool top_ = false, moved_by_hand_ = true, known_ = false;
    int tool_ = 0, length_ = 0;
    double feed_ = 0, rpm_ = 0, settled_ = 0;
    bool turning_ = false;
    bool free_ = false, locked_ = false, centred_ = false;
    std::string said_;
};

}  // namespace seatwright::sim
