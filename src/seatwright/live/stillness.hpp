// When a value stands still: all that was seen of it for `dwell` lies within its `still`, from the highest to
// the lowest. Several values (X and Y of one touch, a tilt) stand still when each does, each by its own.
// Times are the receiver's own, which run forward whatever a source says.
#pragma once

#include <deque>
#include <optional>
#include <utility>
#include <vector>

#include "seatwright/live/observation.hpp"

namespace seatwright::live {

struct StillSettings {
    double still = 0.005;  // mm, of lengths
    Ms dwell = 800;
    double still_deg = 0.005;  // of angles
};

// The least and the greatest of what was seen in the last `dwell`, the value that stood when it began
// included. A value seen costs nothing but itself, however many there are a second.
class Window {
  public:
    explicit Window(Ms dwell) : dwell_(dwell) {}
    void see(double value, Ms now);
    void forget();
    // None: it was not seen for as long as `dwell`.
    std::optional<double> spread(Ms now);
    std::optional<double> last() const { return last_; }

  private:
    struct Seen {
        double value = 0;
        Ms until = 0;  // when another value took its place
    };
    void leave_behind(Ms now);

    Ms dwell_;
    std::optional<double> last_;
    std::optional<Ms> since_;
    Ms last_at_ = 0;
    std::deque<Seen> low_, high_;  // least and greatest first; the last one seen is last_
};

class Stillness {
  public:
    // `still`: of each value, in its own unit.
    Stillness(Ms dwell, std::vector<double> still)
        : still_(std::move(still)), windows_(still_.size(), Window(dwell)) {}

    void see(std::size_t which, double value, Ms now) { windows_.at(which).see(value, now); }
    // Not known any more: the source is gone, or says so.
    void forget();
    void forget(std::size_t which);
    // The values as last seen, once each time they come to stand still; again only after one of them has
    // moved by more than its `still`, or stood elsewhere.
    std::optional<std::vector<double>> came_to_rest(Ms now);
    // Since they last came to rest none of them has moved.
    bool rests() const { return !moved_; }
    // The values as last seen; none while one of them is not known.
    std::optional<std::vector<double>> values() const;

  private:
    std::vector<double> still_;
    std::vector<Window> windows_;
    std::optional<std::vector<double>> said_;
    bool moved_ = true;  // since it last stood still
};

}  // namespace seatwright::live
