#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "seatwright/base/unit_words.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/two_ways.hpp"

namespace seatwright::report {

namespace {

// A seat of the kind that was shaped, to stand for all: the section is one for a kind.
const shape::Seat* example_of(const job::Job& job, const shape::Shape& shape, job::Kind kind) {
    const auto at = std::find_if(shape.seats.begin(), shape.seats.end(), [&](const shape::Seat& s) {
        return job.head.valves[s.valve].kind == kind && s.section.points.size() > 1;
    });
    return at == shape.seats.end() ? nullptr : &*at;
}

std::string narrowing(const shape::Shape& shape, job::Kind kind, double angle_rad) {
    for (const auto& s : shape.sensitivity)
        if (s.kind == kind && s.facet_angle == angle_rad && s.next_to_face)
            return fmt::format("{:.2f}", s.width_per_depth);
    return "";
}

std::string section_text(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"seat", "facet", "deg", "width " + unit, "from dia " + unit, "to dia " + unit,
                 "height " + unit, "narrows face per depth"});
    for (const auto kind : job::both_kinds) {
        const shape::Seat* seat = example_of(job, shape, kind);
        if (!seat) continue;
        const auto& p = seat->section.points;
        for (std::size_t i = 0; i + 1 < p.size(); ++i) {
            const Vec2 d = p[i + 1] - p[i];
            const std::size_t face = seat->section.face;
            const double a = i < face    ? job.seat[kind]->throat[face - 1 - i].angle
                             : i == face ? job.seat[kind]->angle
                                         : job.seat[kind]->top[i - face - 1].angle;
            table.row({i == 0 ? job::kind_word(kind) : "", i < face ? "throat" : (i == face ? "face" : "top"),
                       angle(a, 1), length(d.norm(), style.unit), length(2 * p[i].x(), style.unit),
                       length(2 * p[i + 1].x(), style.unit), length(p[i + 1].y(), style.unit),
                       narrowing(shape, kind, a)});
        }
    }
    return heading_text("Section, inside to outside; height above the gauge circle at the outer edge",
                        style.table) +
           table.text(style.table);
}

std::string cutter_text(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    std::string out;
    for (const auto kind : job::both_kinds) {
        const shape::Seat* seat = example_of(job, shape, kind);
        if (!seat) continue;
        out += fmt::format("{}: contact {} to {}, gauge {}; ", job::kind_word(kind),
                           length(seat->section.contact_od, style.unit),
                           length(seat->section.contact_id, style.unit),
                           length_with_unit(seat->section.gauge, style.unit));
        if (seat->cutter)
            out += fmt::format("cutter {}, blade set to {}, leaves the face {} wide\n",
                               job.cutters[*seat->cutter].name, length(seat->blade_setting, style.unit),
                               length_with_unit(seat->cut_width, style.unit));
        else
            out += seat->decision == shape::Decision::not_allowed ? "not to be cut\n"
                                                                  : "no cutter of the shelf\n";
    }
    return out;
}

std::string decision_words(const job::Job& job, const shape::Seat& seat) {
    switch (seat.decision) {
        case shape::Decision::insert:
            return "NEW INSERT";
        case shape::Decision::not_allowed:
        case shape::Decision::not_measured:
        case shape::Decision::below_finish:
            return shape::word_of(seat.decision);
        case shape::Decision::cut:
            break;
    }
    if (!seat.depth) return seat.stop_s ? "cut, old seat not read" : "no depth";
    std::string words = seat.cutter ? "cut" : "cut, no cutter";
    if (seat.bridge && *seat.bridge < job.depth.bridge_min.value_or(0)) words += ", bridge thin";
    return words;
}

const char* from_words(job::DepthFrom from) {
    switch (from) {
        case job::DepthFrom::deck:
            return "from the deck";
        case job::DepthFrom::datum:
            return "from the datum's old seat";
        case job::DepthFrom::finished:
            return "from a touch on a finished seat";
        case job::DepthFrom::touch:
            break;
    }
    return "from a touch on the old seat";
}

std::string depth_text(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"valve", "cleanup", "limit", "depth", "Z", "stem after", "recession", "tip grind", "bridge",
                 "to", ""});
    for (const auto& s : shape.seats)
        table.row({job.head.valves[s.valve].id, length(s.cleanup, style.unit),
                   length(s.depth_high, style.unit), length(s.depth, style.unit), length(s.z, style.unit),
                   length(s.stem_height_after, style.unit), length(s.recession_after, style.unit),
                   length(s.tip_grind, style.unit), length(s.bridge, style.unit), s.bridge_to,
                   decision_words(job, s)});
    return heading_text(
               fmt::format("Depths of head {}, {}; Z {}", shape.head, unit, from_words(job.depth.from)),
               style.table) +
           table.text(style.table);
}

std::string batch_text(const shape::Batch& batch, const TextStyle& style) {
    std::string out =
        fmt::format("planned together: {} {}, all depths {}", batch.heads.size(),
                    batch.heads.size() == 1 ? "head" : "heads", length_with_unit(batch.total, style.unit));
    for (const auto kind : job::both_kinds)
        if (batch.common_stem[kind])
            out += fmt::format("; {} stems at {} or up to {} below", job::kind_word(kind),
                               length_with_unit(batch.common_stem[kind], style.unit),
                               length(batch.stem_spread[kind], style.unit));
    return out + '\n';
}

std::string plan_text(const shape::Shape& shape, const TextStyle& style) {
    const auto& plan = shape.depth;
    std::string out = fmt::format("together {}", length_with_unit(plan.total, style.unit));
    for (const auto kind : job::both_kinds)
        if (plan.stem_spread[kind])
            out += fmt::format("; {} stems within {}", job::kind_word(kind),
                               length(plan.stem_spread[kind], style.unit));
    if (plan.chamber_spread) out += fmt::format("; chambers within {:.2f} cm3", *plan.chamber_spread / 1000);
    out += '\n';
    if (plan.batch) out += batch_text(*plan.batch, style);
    return out;
}

// Shims and removed metal, where the job speaks of them.
std::string extras_text(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    const bool any = std::any_of(shape.seats.begin(), shape.seats.end(), [](const shape::Seat& s) {
        return s.spring_shim || s.lash_shim || s.removed || s.insert_wall;
    });
    if (!any) return {};
    Table table(
        {"valve", "spring shim", "lash shim thinner", "removed mm3", "insert wall", "blade clear of"});
    for (const auto& s : shape.seats)
        table.row(
            {job.head.valves[s.valve].id, length(s.spring_shim, style.unit), length(s.lash_shim, style.unit),
             s.removed ? fmt::format("{:.1f}", *s.removed) : "–", length(s.insert_wall, style.unit),
             s.cutter_clearance
                 ? fmt::format("{} by {}", s.cutter_clearance_to, length(s.cutter_clearance, style.unit))
                 : "–"});
    return '\n' +
           heading_text(fmt::format("What the depths bring with them, {}", unit_name(style.unit)),
                        style.table) +
           table.text(style.table);
}

std::string chambers_text(const shape::Shape& shape, const TextStyle& style) {
    const bool known = std::any_of(shape.chambers.begin(), shape.chambers.end(),
                                   [](const shape::Chamber& c) { return c.before.has_value(); });
    if (!known) return {};
    const auto cm3 = [](std::optional<double> v) { return v ? fmt::format("{:.2f}", *v / 1000) : "–"; };
    const auto ratio = [](std::optional<double> v) { return v ? fmt::format("{:.2f}", *v) : "–"; };
    Table table({"cylinder", "chamber cm3", "after cm3", "change cm3", "compression", "after"});
    for (const auto& c : shape.chambers)
        table.row({std::to_string(c.cylinder), cm3(c.before), cm3(c.after), cm3(c.change),
                   ratio(c.compression_before), ratio(c.compression_after)});
    return '\n' + heading_text("Chambers", style.table) + table.text(style.table);
}

std::string fits_text(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    if (shape.inserts.empty() && shape.guides.empty()) return {};
    const auto figure = [](double v) { return fmt::format("{:.0f}", v); };
    const auto holds = [&](double v) { return figure(force_in_unit(v, style.unit).value); };
    const auto mpa = [&](double v) {
        return fmt::format("{:.{}f}", pressure_in_unit(v, style.unit).value,
                           style.unit == LengthUnit::inch ? 0 : 1);
    };
    const std::string pressure = pressure_in_unit(0, style.unit).unit;
    Table table({"part", "interference " + std::string(unit_name(style.unit)), pressure, pressure + " hot",
                 std::string("holds ") + force_in_unit(0, style.unit).unit, "hoop " + pressure,
                 "part to degC", "or head to degC"});
    // One insert a kind: they differ by valve in nothing.
    for (const auto kind : job::both_kinds)
        for (const auto& f : shape.inserts)
            if (job.head.valves[f.valve].kind == kind) {
                table.row({fmt::format("{} insert", job::kind_word(kind)), length(f.interference, style.unit),
                           mpa(f.pressure), mpa(f.pressure_hot), holds(f.hold_force), mpa(f.hoop),
                           figure(f.insert_temperature), figure(f.head_temperature)});
                break;
            }
    for (const auto& f : shape.guides)
        table.row({fmt::format("{} guide", job::kind_word(f.kind)), length(f.interference, style.unit),
                   mpa(f.pressure), mpa(f.pressure_hot), holds(f.hold_force), mpa(f.hoop),
                   figure(f.guide_temperature), figure(f.head_temperature)});
    return '\n' + heading_text("Press fits", style.table) + table.text(style.table);
}

std::string misses_text(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    Table table({"seat", "cutter", "does not fit"});
    for (const auto kind : job::both_kinds) {
        const shape::Seat* seat = example_of(job, shape, kind);
        if (!seat || seat->cutter) continue;
        for (const auto& miss : shape.near_misses)
            if (miss.kind == kind)
                table.row({job::kind_word(kind), job.cutters[miss.cutter].name,
                           in_words(miss.why, style.speech())});
    }
    return table.empty()
               ? ""
               : '\n' + heading_text("Cutters that come near", style.table) + table.text(style.table);
}

}  // namespace

std::string text_of(const job::Job& job, const shape::Shape& shape, const TextStyle& style) {
    return section_text(job, shape, style) + cutter_text(job, shape, style) + misses_text(job, shape, style) +
           '\n' + depth_text(job, shape, style) + plan_text(shape, style) +
           (shape.depth.anew ? '\n' + two_ways_text(job, *shape.depth.anew, style) : std::string()) +
           extras_text(job, shape, style) + chambers_text(shape, style) + fits_text(job, shape, style);
}

}  // namespace seatwright::report
