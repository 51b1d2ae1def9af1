#include "seatwright/brought/draw_scan.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/papers/page/pages.hpp"
#include "seatwright/words/english_scan.hpp"

namespace seatwright::brought {

using namespace papers;

using scan::Scan;
using scan::Shown;

namespace {

constexpr double beside_sections = 2;

// Sections side by side, so many in a row.
std::vector<Drawing> sections(const Scan& scan, const std::vector<Shown>& points, double width,
                              std::size_t in_row, LengthUnit unit) {
    ScanView one{(width - beside_sections * static_cast<double>(in_row - 1)) / static_cast<double>(in_row),
                 unit};
    std::vector<Drawing> out;
    for (std::size_t v = 0; v < scan.valves.size(); ++v)
        out.push_back(draw_scan_section(scan, points, v, one));
    return out;
}

constexpr std::size_t in_row = 4;

}  // namespace

Drawing draw_scan(const Scan& scan, const std::vector<Shown>& points, const ScanView& view) {
    const Drawing plan = draw_scan_plan(scan, points, view);
    const auto cut = sections(scan, points, view.width, in_row, view.unit);
    double height = plan.height();
    for (std::size_t i = 0; i < cut.size(); i += in_row) {
        double tall = 0;
        for (std::size_t k = i; k < std::min(cut.size(), i + in_row); ++k)
            tall = std::max(tall, cut[k].height());
        height += tall + beside_sections;
    }
    Drawing out(view.width, height, fmt::format("Scan of {}", scan.title),
                "what was found over its points, square to the deck and in section along each guide");
    out.place(plan, {0, 0});
    double y = plan.height();
    for (std::size_t i = 0; i < cut.size(); i += in_row) {
        double tall = 0;
        for (std::size_t k = i; k < std::min(cut.size(), i + in_row); ++k) {
            out.place(cut[k], {static_cast<double>(k - i) * (cut[k].width() + beside_sections), y});
            tall = std::max(tall, cut[k].height());
        }
        y += tall + beside_sections;
    }
    return out;
}

std::vector<std::string> scan_pages(const Scan& scan, const std::vector<Shown>& points, PaperSize size,
                                    const Speech& speech) {
    Pages paper(size, {"A head as scanned", scan.title, in_words(scan::sentence<"look-at-all">(), speech)});
    for (const auto& w : scan.warnings) paper.sentence(in_words(w.text, speech), {Ink::warn, "▲", true});
    const Drawing plan = draw_scan_plan(scan, points, {paper.width(), speech.unit});
    paper.heading("Square to the deck", plan.height());
    paper.row({plan});
    const auto cut = sections(scan, points, paper.width(), in_row, speech.unit);
    for (std::size_t i = 0; i < cut.size(); i += in_row) {
        const std::vector<Drawing> row(
            cut.begin() + static_cast<std::ptrdiff_t>(i),
            cut.begin() + static_cast<std::ptrdiff_t>(std::min(cut.size(), i + in_row)));
        if (i == 0) paper.heading("In section along each guide", row.front().height());
        paper.row(row, beside_sections);
    }
    if (!scan.missing.empty()) paper.heading("Expected and not found, and what is asked", 12);
    for (const auto& m : scan.missing)
        paper.check(fmt::format("{}: {}; {}", in_words(m.what, speech), in_words(m.why, speech),
                                in_words(m.next, speech)));
    for (const auto& a : scan.assumptions) paper.sentence(in_words(a, speech), {Ink::faint, "", true});
    return paper.documents();
}

}  // namespace seatwright::brought
