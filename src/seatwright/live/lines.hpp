// Bytes as they come off a wire, as lines: ended by CR, LF or both. Empty ones are left out.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::live {

class Lines {
  public:
    static constexpr std::size_t longest = 64 << 10;

    // The lines that these bytes end. One that is longer than `longest` is thrown away whole.
    std::vector<std::string> add(std::string_view bytes);

  private:
    std::string open_;
    bool too_long_ = false;
};

}  // namespace seatwright::live
