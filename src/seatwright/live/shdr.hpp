// Lines of an adapter (MTConnect, "Simple Hierarchical Data Representation"):
// "timestamp|key|value|key|value…", the timestamp perhaps empty or with "@duration"; "* PONG 10000" answers
// "* PING". The format is described with the standard's adapters; here from memory.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "seatwright/live/observation.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::live {

struct ShdrLine {
    std::vector<Observation> observations;
    std::optional<Ms> pong;  // how often the adapter wants to be asked, ms
    Sentence fault;          // says nothing: there is none
};

// Knows which lines belong to a text of several ("--multiline--…"), which are passed over.
class Shdr {
  public:
    ShdrLine read(std::string_view line);

  private:
    std::string ends_with_;  // of the text of several lines being passed over
};

}  // namespace seatwright::live
