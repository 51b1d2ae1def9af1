// A body that goes on and on, in parts (multipart, RFC 2046 section 5.1): each part's bytes when it is whole.
// The subtype is no matter; the boundary may be quoted, and may have been announced with or without its
// dashes.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/words/part.hpp"

namespace seatwright::live {

// Of a Content-Type. None: it is not multipart, or names no boundary.
std::optional<std::string> boundary_of(std::string_view content_type);

class Parts {
  public:
    explicit Parts(std::string boundary);

    // The parts that these bytes make whole, without their headers. A part ends by its Content-length, where
    // it has one, else where the next boundary begins.
    std::vector<std::string> add(std::string_view bytes);
    // Says something: no further part will come.
    const Sentence& fault() const { return fault_; }
    bool ended() const { return ended_; }

  private:
    bool next(std::string& part);

    std::string delimiter_, held_;
    Sentence fault_;
    bool ended_ = false;
};

}  // namespace seatwright::live
