// All sentences of one language, by id.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "seatwright/words/line.hpp"

namespace seatwright::words {

class Catalogue {
  public:
    explicit Catalogue(std::span<const Line> lines);

    // The template of a sentence; throws std::logic_error if the language lacks it.
    std::string_view text(std::string_view id) const;
    // The same as a page says it.
    std::string_view on_page(std::string_view id) const;
    const std::vector<Line>& lines() const { return lines_; }

  private:
    const Line& line(std::string_view id) const;

    std::vector<Line> lines_;
    std::unordered_map<std::string_view, std::size_t> by_id_;
};

// Every room's table, words/english_<room>.hpp.
const Catalogue& english();

// What keeps a language's lines from saying all that English says: ids it lacks, has twice or English does
// not have, values a template names that its English does not, or the other way round, and the same of what
// is said on a page otherwise than to the file. A sentence each.
std::vector<std::string> faults_of(std::span<const Line> lines);

}  // namespace seatwright::words
