// The tables of Pages.
#include <algorithm>
#include <utility>

#include "seatwright/base/fault.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/pages.hpp"

namespace seatwright::papers {

namespace {

constexpr double table_size = 3.2;     // mm, letters where there is room
constexpr double tight_size = 2.6;     // of tables side by side, at most
constexpr double column_gap = 2.4;     // mm between columns
constexpr double tight_gap = 1.6;      // and side by side
constexpr double block_gap = 5;        // between columns of rows
constexpr double rows_together = 12;   // a table of so many rows is not parted
constexpr double row_ratio = 1.5;      // line to line over letter size
constexpr double tight_ratio = 1.36;   // and side by side
constexpr double under_heading = 1.2;  // from a heading's line to its rule
constexpr double heading_ratio = 0.9;  // letters of a column's heading over those of its cells
constexpr std::size_t least_rows = 4;  // of a table that begins low on a page
constexpr std::size_t ruled = 4;       // a fine rule after so many rows keeps the eye on its line

using Row = std::vector<std::string>;

bool is_heading(const Row& row) {
    return row.size() == 1;
}

double heading_size(double size) {
    return std::max(least_size, size * heading_ratio);
}

Face face_of(std::size_t column) {
    return column == 0 ? Face::bold : Face::plain;
}

// A short table stays on one page; a long one starts with a few rows at least.
double together(const PaperTable& table, double size) {
    const auto rows = static_cast<double>(table.rows.size());
    return size * row_ratio * (std::min(rows, rows_together) + 1) + 3;
}

// How the rows from `from` on stand in blocks of `per` lines: the rows of each, headings repeated; `end` is
// the first row that has no room.
struct Filling {
    std::vector<std::vector<const Row*>> blocks;
    std::size_t end = 0;
};

Filling fill(const PaperTable& table, std::size_t from, std::size_t blocks, std::size_t per) {
    Filling out;
    out.end = from;
    const Row* above = nullptr;  // the heading of the rows at `from`
    for (std::size_t r = 0; r < from; ++r)
        if (is_heading(table.rows[r])) above = &table.rows[r];
    for (std::size_t b = 0; b < blocks && out.end < table.rows.size(); ++b) {
        std::vector<const Row*> block;
        if (above && !is_heading(table.rows[out.end])) block.push_back(above);
        while (out.end < table.rows.size() && block.size() < per) {
            const Row& row = table.rows[out.end];
            // A heading is not the last line of its block.
            if (is_heading(row) && block.size() + 1 >= per) break;
            if (is_heading(row)) above = &row;
            block.push_back(&row);
            ++out.end;
        }
        out.blocks.push_back(std::move(block));
    }
    return out;
}

}  // namespace

double Pages::Setting::total() const {
    double sum = wide.empty() ? 0 : gap * static_cast<double>(wide.size() - 1);
    for (const double w : wide) sum += w;
    return sum;
}

Pages::Setting Pages::setting(const PaperTable& table, double size, double gap) const {
    Setting out{std::vector<double>(table.columns.size(), 0), gap, size};
    for (std::size_t c = 0; c < out.wide.size(); ++c) {
        out.wide[c] = words_width(table.columns[c].heading, heading_size(size));
        for (const auto& row : table.rows)
            if (c < row.size() && !is_heading(row))
                out.wide[c] = std::max(out.wide[c], words_width(row[c], size, face_of(c)));
    }
    return out;
}

void Pages::set_heading(const PaperTable& table, const Setting& setting, double left) {
    double x = left;
    const double letters = heading_size(setting.size);
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const bool end = table.columns[c].align == Anchor::end;
        const double wide = setting.wide[c];
        page().text({end ? x + wide : x, y_}, fitted(table.columns[c].heading, wide + 0.01, letters), letters,
                    end ? Anchor::end : Anchor::start, Ink::faint);
        x += wide + setting.gap;
    }
    page().line({left, y_ + 1.2}, {x - setting.gap, y_ + 1.2}, {Ink::line, 0.25});
}

void Pages::set_row(const PaperTable& table, const Row& row, const Setting& setting, double left) {
    if (is_heading(row)) {
        page().text({left, y_}, fitted(row.front(), setting.total(), setting.size, Face::bold), setting.size,
                    Anchor::start, Ink::touch, true);
        return;
    }
    double x = left;
    for (std::size_t c = 0; c < table.columns.size() && c < row.size(); ++c) {
        const bool end = table.columns[c].align == Anchor::end;
        const double wide = setting.wide[c];
        page().text({end ? x + wide : x, y_}, fitted(row[c], wide + 0.01, setting.size, face_of(c)),
                    setting.size, end ? Anchor::end : Anchor::start, Ink::line, c == 0);
        x += wide + setting.gap;
    }
}

void Pages::table(const std::string& words, const PaperTable& rows) {
    heading(words, together(rows, table_size));
    table(rows);
}

void Pages::table(const PaperTable& table) {
    double size = table_size;
    Setting set = setting(table, size, column_gap);
    while (size > least_size && set.total() > width()) {
        size = std::max(least_size, size - 0.05);
        set = setting(table, size, column_gap);
    }
    // Still too wide: the widest columns give way in small steps, enough of them for any table of ours.
    for (int k = 0; k < 4000 && set.total() > width(); ++k)
        *std::max_element(set.wide.begin(), set.wide.end()) -= 0.25;
    const double line = size * row_ratio;
    need(together(table, size));
    const auto start = [&] {
        y_ += line;
        set_heading(table, set, margin);
        y_ += under_heading;
    };
    start();
    std::size_t done = 0;
    for (const auto& row : table.rows) {
        if (left_over() < line + 1) {
            new_page();
            start();
        }
        y_ += line;
        set_row(table, row, set, margin);
        if (++done % ruled == 0 && done < table.rows.size())
            page().line({margin, y_ + 1.1}, {margin + set.total(), y_ + 1.1}, {Ink::faint, 0.12});
    }
    y_ += 1.5;
}

void Pages::side_by_side(const std::string& words, const PaperTable& table) {
    Setting set = setting(table, least_size, tight_gap);
    const auto fits = [&](std::size_t blocks) {
        const auto n = static_cast<double>(blocks);
        return n * set.total() + (n - 1) * block_gap <= width();
    };
    std::size_t blocks = 1;
    while (fits(blocks + 1) && blocks * least_rows < table.rows.size()) ++blocks;
    if (!fits(blocks)) {
        this->table(words, table);
        return;
    }
    for (double size = least_size; size < tight_size; size += 0.05) {
        const Setting larger = setting(table, size + 0.05, tight_gap);
        const Setting kept = std::exchange(set, larger);
        if (fits(blocks)) continue;
        set = kept;
        break;
    }
    const double line = set.size * tight_ratio;
    // Headings part the rows well enough: a rule every few rows would strike through them.
    const bool headed = std::any_of(table.rows.begin(), table.rows.end(), is_heading);
    heading(words, line * (least_rows + 1) + 2);
    const double apart = set.total() + (blocks > 1 ? (width() - static_cast<double>(blocks) * set.total()) /
                                                         static_cast<double>(blocks - 1)
                                                   : 0);
    for (std::size_t from = 0; from < table.rows.size();) {
        if (left_over() < line * (least_rows + 1) + 2) new_page();
        const auto most = static_cast<std::size_t>((left_over() - line - under_heading - 1) / line);
        // As short as holds all that is left, so that the blocks end level.
        std::size_t per = std::min(most, (table.rows.size() - from + blocks - 1) / blocks);
        Filling filling = fill(table, from, blocks, per);
        while (filling.end < table.rows.size() && per < most) filling = fill(table, from, blocks, ++per);
        require(filling.end > from, "a page holds a heading and a row");
        const double top = y_;
        for (std::size_t b = 0; b < filling.blocks.size(); ++b) {
            const double left = margin + static_cast<double>(b) * apart;
            y_ = top + line;
            set_heading(table, set, left);
            y_ += under_heading;
            for (std::size_t r = 0; r < filling.blocks[b].size(); ++r) {
                y_ += line;
                set_row(table, *filling.blocks[b][r], set, left);
                if (!headed && (r + 1) % ruled == 0 && r + 1 < filling.blocks[b].size())
                    page().line({left, y_ + 0.9}, {left + set.total(), y_ + 0.9}, {Ink::faint, 0.12});
            }
        }
        y_ = top + line * static_cast<double>(per + 1) + under_heading;
        from = filling.end;
    }
    y_ += 1.5;
}

}  // namespace seatwright::papers
