// Files one behind the other in one, in the form every system opens: ustar (IEEE Std 1003.1-1988, pax(1)).
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace seatwright::store {

class Tar {
  public:
    // `out` takes the bytes in order.
    explicit Tar(std::function<void(std::string_view)> out) : out_(std::move(out)) {}

    // `name`: with '/' between folders, at most 100 bytes. `at_ms`: the file's time, since 1970.
    void add(const std::string& name, std::string_view bytes, long long at_ms);
    void end();

  private:
    std::function<void(std::string_view)> out_;
};

}  // namespace seatwright::store
