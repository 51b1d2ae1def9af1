// Tables on a terminal that a person likes to read: aligned columns, units in the heading, warnings first;
// the same text without colour or rules when it is piped.
#pragma once

#include <string>
#include <vector>

#include "seatwright/words/in_words.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::report {

struct TableStyle {
    bool colour = false;  // a terminal that wants colour
    int columns = 100;    // wrap sentences here
};

class Table {
  public:
    explicit Table(std::vector<std::string> heading) : heading_(std::move(heading)) {}
    void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    bool empty() const { return rows_.empty(); }
    // Numbers align right, words left, judged column by column.
    std::string text(const TableStyle& style = {}) const;

  private:
    std::vector<std::string> heading_;
    std::vector<std::vector<std::string>> rows_;
};

// Warnings, blocking ones first; empty text when there are none.
std::string warnings_text(const Notices& notices, const Speech& speech, const TableStyle& style = {});
// "assumes …" lines, wrapped.
std::string assumptions_text(const Notices& notices, const Speech& speech, const TableStyle& style = {});
// A heading underlined by its own length.
std::string heading_text(const std::string& words, const TableStyle& style = {});

}  // namespace seatwright::report
