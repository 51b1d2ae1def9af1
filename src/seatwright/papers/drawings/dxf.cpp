#include "seatwright/papers/drawings/dxf.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/shape/section.hpp"

namespace seatwright::papers {

namespace {

constexpr double word_height = 0.35;  // mm, a quarter of an ordinary face's width

// One group: code and value on their own lines.
std::string group(int code, std::string_view value) {
    return fmt::format("{:>3}\n{}\n", code, value);
}
std::string group(int code, double value) {
    return group(code, fmt::format("{:.6f}", value == 0 ? 0.0 : value));
}
std::string point(int first, Vec2 p) {
    return group(first, p.x()) + group(first + 10, p.y()) + group(first + 20, 0.0);
}

std::string plain(std::string_view words) {
    std::string out(words);
    std::replace_if(
        out.begin(), out.end(), [](char c) { return c < ' ' || c > '~'; }, '?');
    return out;
}

}  // namespace

void Dxf::line(std::string_view layer, Vec2 a, Vec2 b) {
    body_ += group(0, "LINE") + group(8, layer) + point(10, a) + point(11, b);
}

void Dxf::text(std::string_view layer, Vec2 at, double height, std::string_view words) {
    body_ += group(0, "TEXT") + group(8, layer) + point(10, at) + group(40, height) + group(1, plain(words));
}

std::string Dxf::document() const {
    return group(0, "SECTION") + group(2, "ENTITIES") + body_ + group(0, "ENDSEC") + group(0, "EOF");
}

std::optional<std::string> dxf_form_to_order(const job::Job& job, job::Kind kind) {
    if (!job.valve[kind] || !job.seat[kind]) return std::nullopt;
    const shape::Section section = shape::section_of(*job.valve[kind], *job.seat[kind]);
    const auto facets = shape::facets_of(*job.seat[kind]);
    const auto& form = section.points;
    Dxf dxf;
    for (std::size_t i = 0; i + 1 < form.size(); ++i) {
        dxf.line("EDGE", form[i], form[i + 1]);
        dxf.line("EDGE", Vec2(-form[i].x(), form[i].y()), Vec2(-form[i + 1].x(), form[i + 1].y()));
        dxf.text("SIZES", Vec2((form[i] + form[i + 1]) / 2 + Vec2(word_height, -word_height)), word_height,
                 fmt::format("{:.4g}%%d x {:.4f}", deg(facets[i].angle), facets[i].width));
    }
    for (const auto& p : form)
        dxf.text("SIZES", Vec2(p.x() + word_height, p.y() - 3 * word_height), word_height,
                 fmt::format("%%c {:.4f}", 2 * p.x()));
    dxf.line("AXIS", Vec2(0, form.front().y() - 2), Vec2(0, form.back().y() + 2));
    dxf.text("SIZES", Vec2(word_height, form.front().y() - 2), word_height,
             fmt::format("gauge %%c {:.4f}  contact %%c {:.4f}  mm", section.gauge, section.contact_od));
    return dxf.document();
}

}  // namespace seatwright::papers
