// The stored reference data: found beside the sources, or said to be missing.
#pragma once

#include <filesystem>
#include <fstream>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "missing.hpp"
#include "places.hpp"

namespace seatwright::outside {

// Path of a data file; none when it is not here: the test is then skipped (missing.hpp).
inline std::optional<std::string> data_file(const std::string& name) {
    const std::string path = std::string(places::shared) + "/data/" + name;
    if (std::filesystem::exists(path)) return path;
    return std::nullopt;
}

// Every number of every line that holds nothing but numbers (comma or blank between), lines from `first` on.
inline std::vector<std::vector<double>> number_rows(const std::string& path, std::size_t first = 1) {
    std::ifstream in(path);
    std::vector<std::vector<double>> rows;
    std::string line;
    for (std::size_t i = 1; std::getline(in, line); ++i) {
        if (i < first) continue;
        for (char& c : line)
            if (c == ',' || c == ';' || c == '\r') c = ' ';
        std::istringstream words(line);
        std::vector<double> row;
        double value = 0;
        while (words >> value) row.push_back(value);
        if (!row.empty() && words.eof()) rows.push_back(row);
    }
    return rows;
}

}  // namespace seatwright::outside
