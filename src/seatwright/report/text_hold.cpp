#include <fmt/format.h>

#include <string>

#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

std::string slip_words(const hold::Safety& safety) {
    if (safety.slip_factor) return fmt::format("{:.1f}", *safety.slip_factor);
    return safety.slope == 0 ? "level deck" : "–";
}

std::string release_words(const hold::Safety& safety) {
    if (!safety.friction_known) return "friction not known";
    if (!safety.slides_when_released) return "stays";
    return safety.stopped ? "would slide, is stopped" : "SLIDES";
}

std::string setups_text(const hold::Hold& hold, const job::Job& job, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"setup", "tilt deg", "swing deg", "worst plumb deg", "valves", "datum", "spare X " + unit,
                 "spare Y " + unit, "slope deg", "slip factor", "when released"});
    for (const auto& setup : hold.setups)
        table.row({setup.id, angle(setup.tilt, 3), angle(setup.swing, 3), angle(setup.worst_plumb_error, 4),
                   std::to_string(setup.valves.size()), job.head.valves[setup.datum].id,
                   length(setup.travel_margin[0], style.unit), length(setup.travel_margin[1], style.unit),
                   angle(setup.safety.slope), slip_words(setup.safety), release_words(setup.safety)});
    return table.text(style.table);
}

std::string map_text(const hold::Setup& setup, const job::Job& job, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"valve", "X " + unit, "Y " + unit, "Z " + unit, "plumb deg", ""});
    for (const auto& held : setup.valves) {
        const std::string mark = !held.reachable             ? "not within the limit"
                                 : held.valve == setup.datum ? "datum"
                                                             : "";
        table.row({job.head.valves[held.valve].id, length(held.readout.x(), style.unit),
                   length(held.readout.y(), style.unit), length(held.map.z(), style.unit),
                   angle(held.plumb_error, 4), mark});
    }
    return heading_text(fmt::format("Map of setup {}, from {}", setup.id, job.head.valves[setup.datum].id),
                        style.table) +
           table.text(style.table);
}

std::string posts_text(const hold::Posts& posts, const TextStyle& style) {
    std::string out = heading_text("Posts", style.table);
    const auto place = [&](const Vec2& p) {
        return fmt::format("X {} Y {}", length(p.x(), style.unit), length(p.y(), style.unit));
    };
    out += fmt::format("in the bolt holes at {} and {} (head frame, {})\n", place(posts.a), place(posts.b),
                       unit_name(style.unit));
    out += in_words(sentence<"set-posts">("span"_is = as_length(posts.span)), style.speech()) + '\n';
    if (posts.position_sd)
        out += fmt::format("from head to head: position within {} (one sd, each way)",
                           length_with_unit(posts.position_sd, style.unit));
    if (posts.position_sd && posts.yaw_sd) out += fmt::format(", yaw {} deg", angle(posts.yaw_sd, 4));
    if (posts.position_sd) out += '\n';
    return out;
}

std::string level_text(const hold::Level& level, const job::Job& job, const TextStyle& style) {
    std::string out = heading_text(fmt::format("Level, head {}", level.head), style.table);
    Table table({"guide", "incline deg", "cant deg", ""});
    for (const auto& guide : level.guides)
        table.row({job.head.valves[guide.valve].id, angle(guide.incline, 4), angle(guide.cant, 4),
                   guide.outlier ? "set aside" : ""});
    table.row({"mean", angle(level.incline, 4), angle(level.cant, 4), ""});
    table.row({"sensor bias", angle(level.incline_bias, 4), angle(level.cant_bias, 4), ""});
    table.row({"correction", angle(level.correction_tilt, 4), angle(level.correction_swing, 4), ""});
    out += table.text(style.table);
    if (level.scatter) out += fmt::format("scatter between guides {} deg\n", angle(level.scatter, 4));
    for (const auto& words : in_words(level.words, style.speech())) out += words + '\n';
    double most = 0;
    std::size_t which = 0;
    for (const auto& moved : level.map_shift)
        if (moved.shift.norm() > most) {
            most = moved.shift.norm();
            which = moved.valve;
        }
    if (most > 0)
        out += fmt::format("it moves the map by at most {} (guide {})\n", length_with_unit(most, style.unit),
                           job.head.valves[which].id);
    return out;
}

std::string fixtures_text(const hold::Hold& hold, const TextStyle& style) {
    Table table({"fixture", "fits", "why"});
    for (const auto& verdict : hold.fixtures)
        table.row({verdict.name, verdict.fits ? "yes" : "no", in_words(verdict.why, style.speech())});
    return heading_text("Fixtures", style.table) + table.text(style.table);
}

}  // namespace

std::string text_of(const job::Job& job, const hold::Hold& hold, const TextStyle& style) {
    std::string out = heading_text("Setups", style.table) + setups_text(hold, job, style);
    for (const auto& setup : hold.setups) out += '\n' + map_text(setup, job, style);
    if (hold.posts) out += '\n' + posts_text(*hold.posts, style);
    if (hold.level) out += '\n' + level_text(*hold.level, job, style);
    if (!hold.fixtures.empty()) out += '\n' + fixtures_text(hold, style);
    return out;
}

}  // namespace seatwright::report
