// Damage done to a data file behind the program's back, for tests.
#pragma once

#include <fstream>
#include <sstream>
#include <string>

namespace seatwright::store {

// Every place in the file where `from` stands gets `to`, of the same length; how many there were.
inline int change_in_file(const std::string& file, const std::string& from, const std::string& to) {
    std::stringstream all;
    all << std::ifstream(file, std::ios::binary).rdbuf();
    std::string bytes = all.str();
    int count = 0;
    for (auto at = bytes.find(from); at != std::string::npos; at = bytes.find(from, at + 1), ++count)
        bytes.replace(at, from.size(), to);
    std::ofstream(file, std::ios::binary) << bytes;
    return count;
}

}  // namespace seatwright::store
