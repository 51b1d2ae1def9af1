// How the commands on a shop's data end, and what they have in common.
#pragma once

#include <sys/stat.h>

#include <stdexcept>
#include <string>

#include "seatwright/store/server_address.hpp"

namespace seatwright::server {

enum ExitStatus { exit_done = 0, exit_ours = 1, exit_input = 2 };

// What a person typed cannot be done; the sentence says why.
struct BadOption : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// Whatever is made from here on is its owner's alone.
inline void close_to_others() {
    ::umask(S_IRWXG | S_IRWXO);
}

inline std::string shown(const std::string& data) {
    return store::is_server_url(data) ? store::shown_address(data) : data;
}

}  // namespace seatwright::server
