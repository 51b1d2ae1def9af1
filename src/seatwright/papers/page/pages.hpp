// Paper filled from the top down: headings, sentences, tables and drawings, going on to the next page when
// one is full. Every page carries the title and "page i of n". The setup sheet and the certificate are made
// so.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

struct PageTitle {
    std::string title;    // of every page, large on the first
    std::string detail;   // under it, one line
    std::string footer;   // left end of the foot line
    std::string later{};  // of later pages, if another
};

struct PaperColumn {
    std::string heading;
    Anchor align = Anchor::end;
};

// A row of one cell is a heading of the rows under it.
struct PaperTable {
    std::vector<PaperColumn> columns;
    std::vector<std::vector<std::string>> rows;
};

struct SentenceStyle {
    Ink ink = Ink::line;
    std::string mark{};  // "•", "▲"
    bool small_print = false;
};

class Pages {
  public:
    // `words`: size of the letters of sentences, mm; small print is smaller, down to least_size.
    Pages(PaperSize paper, PageTitle title, double words = 3.0);

    // For what is placed by hand: the page, its left margin, and the line reached on it, mm.
    Drawing& page() { return pages_.back(); }
    double left() const { return margin; }
    double y() const { return y_; }

    // Width between the margins, and height left on this page, mm.
    double width() const { return paper_.width_mm - 2 * margin; }
    double left_over() const;
    // A4 and longer, against letter.
    bool tall() const { return paper_.height_mm > 285; }

    // Starts a new page unless `height` is left on this one.
    void need(double height);
    void new_page();
    void gap(double height);
    // Stays with `with` mm of what follows it.
    void heading(const std::string& words, double with = 0);
    // A wrapped sentence, its mark in the margin of its lines.
    void sentence(const std::string& words, const SentenceStyle& style = {});
    // An empty square to tick, then the sentence.
    void check(const std::string& words);
    // Goes on over pages with its heading repeated; the letters shrink, down to readable, until the columns
    // fit the width, and then the widest cells are cut short.
    void table(const PaperTable& table);
    void table(const std::string& heading, const PaperTable& table);
    // The same in small letters and in as many columns of rows as go beside each other, read down one and
    // then down the next; a heading row is repeated where its rows go on.
    void side_by_side(const std::string& heading, const PaperTable& table);
    // Drawings beside one another, together on one page, from the left margin.
    void row(const std::vector<Drawing>& drawings, double between = 2);

    // The finished pages as SVG documents.
    std::vector<std::string> documents() const;

    static constexpr double margin = 12;

  private:
    bool at_top() const;
    // How a table's columns are set: width of each, room between them, size of the letters.
    struct Setting {
        std::vector<double> wide;
        double gap = 0, size = 0;
        double total() const;
    };
    Setting setting(const PaperTable& table, double size, double gap) const;
    // At the line y_, from `left` mm.
    void set_heading(const PaperTable& table, const Setting& setting, double left);
    void set_row(const PaperTable& table, const std::vector<std::string>& row, const Setting& setting,
                 double left);

    PaperSize paper_;
    PageTitle title_;
    double words_;
    std::vector<Drawing> pages_;
    double y_ = 0;
};

}  // namespace seatwright::papers
