// A file, folder or line that is closed when it goes out of sight.
#pragma once

#include <utility>

#include "seatwright/place/calls.hpp"

namespace seatwright::place {

class OpenFile {
  public:
    OpenFile(Calls& calls, int handle) : calls_(calls), handle_(handle) {}
    ~OpenFile() { close(); }
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;

    bool open() const { return handle_ >= 0; }
    int handle() const { return handle_; }
    void close() {
        if (handle_ >= 0) calls_.close(std::exchange(handle_, -1));
    }

  private:
    Calls& calls_;
    int handle_;
};

}  // namespace seatwright::place
