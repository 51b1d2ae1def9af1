#include "seatwright/papers/sheet_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/papers/lettering.hpp"

namespace seatwright::papers {

namespace {

constexpr double foot_room = 8;       // mm for the foot line
constexpr double body_size = 3.0;     // mm, letters of sentences
constexpr double small_size = 2.5;    // mm, letters of what is only looked up
constexpr double body_line = 4.3;     // mm from line to line
constexpr double table_size = 3.2;    // mm, letters of tables where there is room
constexpr double least_size = 2.3;    // mm, still read at arm's length
constexpr double column_gap = 2.4;    // mm between columns
constexpr double rows_together = 12;  // a table of so many rows is not parted
constexpr double row_ratio = 1.5;     // line to line over letter size

// A short table stays on one page; a long one starts with a few rows at least.
double together(const SheetTable& table, double size) {
    const auto rows = static_cast<double>(table.rows.size());
    return size * row_ratio * (std::min(rows, rows_together) + 1) + 3;
}

}  // namespace

SheetPages::SheetPages(PaperSize paper, SheetTitle title) : paper_(paper), title_(std::move(title)) {
    new_page();
}

double SheetPages::left_over() const {
    return paper_.height_mm - margin - foot_room - y_;
}

void SheetPages::new_page() {
    pages_.emplace_back(paper_.width_mm, paper_.height_mm, title_.title, title_.detail);
    const bool first = pages_.size() == 1;
    const double size = first ? 5.5 : 3.6;
    y_ = margin + (first ? 4 : 2);
    page().text({margin, y_}, fitted(title_.title, width(), size, Face::bold), size, Anchor::start, Ink::line,
                true);
    if (first) {
        y_ += 5;
        page().text({margin, y_}, fitted(title_.detail, width(), 3.0), 3.0, Anchor::start, Ink::line);
    }
    y_ += 2;
    page().line({margin, y_}, {paper_.width_mm - margin, y_}, {Ink::line, 0.5});
    y_ += 3;
}

bool SheetPages::at_top() const {
    return y_ < margin + 13;  // under the title of a page
}

void SheetPages::need(double height) {
    if (left_over() < height) new_page();
}

void SheetPages::gap(double height) {
    y_ += height;
}

void SheetPages::heading(const std::string& words, double with) {
    need(std::max(18.0, 9.4 + with));
    y_ += at_top() ? 5.2 : 7.2;
    page().text({margin, y_}, fitted(words, width(), 3.8, Face::bold), 3.8, Anchor::start, Ink::line, true);
    y_ += 2.2;
}

void SheetPages::sentence(const std::string& words, const SentenceStyle& style) {
    const double indent = style.mark.empty() ? 0 : 4.5;
    const double size = style.small_print ? small_size : body_size;
    const double line_to_line = size * body_line / body_size;
    bool first = true;
    for (const auto& line : wrapped_lines(words, width() - indent, size)) {
        need(line_to_line + 1);
        y_ += line_to_line;
        if (first && !style.mark.empty())
            page().text({margin, y_}, style.mark, size, Anchor::start, style.ink, true);
        page().text({margin + indent, y_}, line, size, Anchor::start, style.ink);
        first = false;
    }
}

void SheetPages::check(const std::string& words) {
    const auto lines = wrapped_lines(words, width() - 6, body_size);
    need(body_line * static_cast<double>(lines.size()) + 1);
    page().rect({margin, y_ + body_line - 2.7}, 3, 3, {Ink::line, 0.3});
    for (const auto& line : lines) {
        y_ += body_line;
        page().text({margin + 6, y_}, line, body_size);
    }
    y_ += 0.8;
}

void SheetPages::table_heading(const SheetTable& table, const std::vector<double>& wide, double size) {
    y_ += size * row_ratio;
    double x = margin;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const bool end = table.columns[c].align == Anchor::end;
        page().text({end ? x + wide[c] : x, y_}, fitted(table.columns[c].heading, wide[c], size * 0.9),
                    size * 0.9, end ? Anchor::end : Anchor::start, Ink::faint);
        x += wide[c] + column_gap;
    }
    y_ += 1.2;
    page().line({margin, y_}, {x - column_gap, y_}, {Ink::line, 0.25});
}

void SheetPages::table(const std::string& words, const SheetTable& rows) {
    heading(words, together(rows, table_size));
    table(rows);
}

void SheetPages::table(const SheetTable& table) {
    const std::size_t columns = table.columns.size();
    const auto widths = [&](double size) {
        std::vector<double> wide(columns, 0);
        for (std::size_t c = 0; c < columns; ++c) {
            wide[c] = words_width(table.columns[c].heading, size * 0.9);
            for (const auto& row : table.rows)
                if (c < row.size()) wide[c] = std::max(wide[c], words_width(row[c], size));
        }
        return wide;
    };
    const auto total = [&](const std::vector<double>& wide) {
        double sum = column_gap * static_cast<double>(columns - 1);
        for (const double w : wide) sum += w;
        return sum;
    };
    double size = table_size;
    while (size > least_size && total(widths(size)) > width()) size -= 0.05;
    auto wide = widths(size);
    // Still too wide: the widest columns give way in small steps, enough of them for any table of ours.
    for (int k = 0; k < 4000 && total(wide) > width(); ++k)
        *std::max_element(wide.begin(), wide.end()) -= 0.25;
    const double line = size * row_ratio;
    need(together(table, size));
    table_heading(table, wide, size);
    std::size_t done = 0;
    for (const auto& row : table.rows) {
        if (left_over() < line + 1) {
            new_page();
            table_heading(table, wide, size);
        }
        y_ += line;
        double x = margin;
        for (std::size_t c = 0; c < columns && c < row.size(); ++c) {
            const bool end = table.columns[c].align == Anchor::end;
            page().text({end ? x + wide[c] : x, y_}, fitted(row[c], wide[c] + 0.01, size), size,
                        end ? Anchor::end : Anchor::start, Ink::line, c == 0);
            x += wide[c] + column_gap;
        }
        // A fine rule after every fourth row keeps the eye on its line.
        if (++done % 4 == 0 && done < table.rows.size())
            page().line({margin, y_ + 1.1}, {x - column_gap, y_ + 1.1}, {Ink::faint, 0.12});
    }
    y_ += 1.5;
}

void SheetPages::row(const std::vector<Drawing>& drawings, double between) {
    double tallest = 0;
    for (const auto& drawing : drawings) tallest = std::max(tallest, drawing.height());
    need(tallest + 1);
    double x = margin;
    for (const auto& drawing : drawings) {
        page().place(drawing, {x, y_});
        x += drawing.width() + between;
    }
    y_ += tallest + 1;
}

std::vector<std::string> SheetPages::documents() const {
    std::vector<std::string> out;
    for (std::size_t p = 0; p < pages_.size(); ++p) {
        Drawing sheet = pages_[p];
        const double y = paper_.height_mm - margin;
        sheet.line({margin, y - 4.2}, {paper_.width_mm - margin, y - 4.2}, {Ink::line, 0.25});
        const std::string number = fmt::format("page {} of {}", p + 1, pages_.size());
        sheet.text({margin, y}, fitted(title_.footer, width() - words_width(number, 2.6) - 4, 2.6), 2.6,
                   Anchor::start, Ink::faint);
        sheet.text({paper_.width_mm - margin, y}, number, 2.6, Anchor::end, Ink::faint);
        out.push_back(sheet.document());
    }
    return out;
}

}  // namespace seatwright::papers
