// What is known of the machine while a program runs: spindle, float, where the tool stands and whether Z0 can
// be trusted (working.md, "Float and spindle" and "Z zero"). Each method takes one event in and gives what is
// wrong with it in this state as a sentence part; empty: nothing.
//
// Heights mm, up positive, of the cutter's gauge plane; times s.
#pragma once

#include <optional>
#include <string>

#include "seatwright/cut/interpret.hpp"
#include "seatwright/cut/route.hpp"

namespace seatwright::cut {

// Where the tool stands in height: `anywhere` at the start, after a halt and a change of cutter, until the
// way to the top or a slow feed straight to the clear height was made.
enum class Standing { anywhere, top, known };

class MachineState {
  public:
    MachineState(const job::Job& job, const Route& route);

    // The float is moved by words of the control or by hand.
    bool float_commanded() const { return float_.has_value(); }
    bool float_free() const { return !float_ || free_; }
    bool float_locked() const { return !float_ || locked_; }
    // Fit to go across: centred, and locked where it is not springs alone that hold it.
    bool float_fit_to_go_across() const;
    bool turning() const { return spindle_ != Spindle::off; }
    // Faster than a live pilot is let in.
    bool turning_to_cut() const;
    // Time dwelt since the spindle was switched last.
    double settled() const { return settled_; }
    Standing standing() const { return standing_; }
    // It was brought above everything, and no word has brought it down since.
    bool raised() const { return raised_; }
    bool zero_trusted() const { return zero_trusted_; }

    // Events of the float; `tip_out`: the tool's tip stands clear of every guide.
    std::string free_float();
    std::string lock_float() { return set_locked(true); }
    std::string centre_float(bool tip_out);
    // The guide pulls a free tool to where it stands; self-centring springs bring it back once the tip is
    // out.
    void into_guide() { centred_ = false; }
    void out_of_guide();

    std::string spindle(const Modes& modes);
    void dwelt(double seconds) { settled_ += seconds; }

    void at_top() {
        standing_ = Standing::top;
        raised_ = true;
    }
    void at_clear_height() {
        standing_ = Standing::known;
        raised_ = false;
    }
    // A halt: somebody may have moved anything by hand. `asks_for_zero`: it asks whether Z0 was taken;
    // `above_everything`: for the tool to be brought there.
    void halted(bool asks_for_zero, bool above_everything);
    // Of a file for several cutters, each with its own length: Z0 holds for all of them.
    std::string changed(int tool);

  private:
    std::string set_locked(bool locked);

    const job::Job& job_;
    std::optional<job::Float> float_;
    bool free_ = false, locked_ = false, centred_ = false;  // all false: not known
    bool live_ = false;
    Spindle spindle_ = Spindle::off;
    double rpm_ = 0;
    double settled_ = 0;
    Standing standing_ = Standing::anywhere;
    bool raised_ = false;  // above everything, and not brought down since
    bool zero_trusted_ = false;
};

}  // namespace seatwright::cut
