// The shelf's own words of a control, recognised where a line of a program holds them and nothing else.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/cut/interpret.hpp"
#include "seatwright/cut/words.hpp"

namespace seatwright::cut {

class ControlLines {
  public:
    // Error: a sentence naming the key, for words that no program may carry.
    static tl::expected<ControlLines, std::string> of(const job::Dialect& dialect,
                                                      const std::optional<job::Float>& tool_float);

    // What these words do; several where one word of the control does several things, in the order centre,
    // lock.
    std::vector<ControlEvent> events(const std::vector<Word>& words) const;
    // T of a cutter change made with the dialect's word.
    std::optional<double> change(const std::vector<Word>& words) const;
    bool end(const std::vector<Word>& words) const;

  private:
    struct Named {
        ControlEvent event = ControlEvent::top;
        std::vector<Word> words;
    };
    std::vector<Named> named_;
    std::vector<Word> change_, end_;
};

}  // namespace seatwright::cut
