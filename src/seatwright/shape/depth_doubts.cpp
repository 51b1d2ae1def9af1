#include "seatwright/shape/depth_doubts.hpp"

#include <fmt/format.h>
#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <utility>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/job/ranges.hpp"
#include "seatwright/job/repeated.hpp"
#include "seatwright/shape/bridge.hpp"
#include "seatwright/shape/first_read.hpp"
#include "seatwright/shape/height_doubts.hpp"
#include "seatwright/shape/rest.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

constexpr double no_depth = 1e-9;  // mm

// The cleanup or the depth itself was typed: asked about, or confirmed, where it stands.
bool asked_at_its_source(const job::Job& job, const std::string& head, const std::string& valve) {
    const auto& orders = job.depth.seats;
    if (std::any_of(orders.begin(), orders.end(), [&](const auto& o) { return o.valve == valve; }))
        return true;
    const auto reads = job::of_head(job.readings.seats, head);
    return std::any_of(reads.begin(), reads.end(), [&](const job::SeatBefore& r) {
        return r.valve == valve && r.cleanup && *r.cleanup > most_depth;
    });
}

struct Others {
    double smallest = 0, median = 0, largest = 0;
};

// Recessions of the seats but this one, where none has a minus and two or more are read.
std::optional<Others> recessions_of_others(const Shape& shape, const Seat& seat) {
    std::vector<double> others;
    for (const Seat& other : shape.seats) {
        const auto recession = other.height.absolute();
        if (other.valve == seat.valve || !recession) continue;
        if (*recession < 0) return std::nullopt;
        others.push_back(*recession);
    }
    if (others.size() < 2) return std::nullopt;
    const auto [smallest, largest] = std::minmax_element(others.begin(), others.end());
    return Others{*smallest, numerics::middle_one(others), *largest};
}

// Whether a recession with a minus would be one among the others without it: far nearer to their median, or
// between the smallest and the largest of them.
bool fits_without_minus(double recession, const Others& others) {
    return std::abs(-recession - others.median) <= 0.5 * (others.median - recession) ||
           (-recession >= others.smallest && -recession <= others.largest);
}

// What is odd about a place on the deck; empty: nothing.
Sentence beside_the_head(const job::Job& job, const Vec2& at) {
    Eigen::AlignedBox2d known;
    for (const job::Valve& valve : job.head.valves) known.extend(Vec2(valve.seat.head<2>()));
    for (const Vec2& hole : job.head.bolt_holes) known.extend(hole);
    const Vec2 off = (known.min() - at).cwiseMax(at - known.max()).cwiseMax(0);
    if (off.maxCoeff() <= most_off_head) return {};
    return sentence<"beside-the-head">("off"_is = figure(off.maxCoeff()));
}

// The chamber lies within the cylinder's bore, and how much of it is deck no figure says.
Sentence over_a_bore(const job::Job& job, const Vec2& at) {
    const double around = job.machine.zero == job::ZeroKept::offsets ? job.machine.ball.value_or(0) : 0;
    for (const job::Valve& valve : job.head.valves) {
        const auto bore = bore_edge_of(job.head, valve);
        if (!bore) continue;
        const double radius = bore->solids.edge.radius;
        const double away = (at - Vec2(bore->solids.edge.centre.head<2>())).norm();
        if (away >= radius + around) continue;
        return sentence<"over-a-bore">("away"_is = figure(away), "cylinder"_is = valve.cylinder,
                                       "bore"_is = figure(radius));
    }
    return {};
}

// In a plan to one height others of its kind go as deep, and nobody has read how deep that is.
bool unread_of_its_kind(const job::Job& job, const Shape& shape, const Seat& of) {
    const auto kind = job.head.valves[of.valve].kind;
    return job.depth.to == job::DepthTo::height &&
           std::any_of(shape.seats.begin(), shape.seats.end(), [&](const Seat& seat) {
               return job.head.valves[seat.valve].kind == kind && seat.stop_s && !seat.height.absolute();
           });
}

// How much deeper than the old seat a first seat was read; none where a height is not known to count from.
std::optional<double> depth_of_first(const job::Job& job, const std::string& head, const Seat& seat,
                                     const job::FirstSeat& first) {
    if (first.depth) return first.depth;
    if (!seat.depth || !seat.height.recession) return std::nullopt;
    const auto read =
        measured(first, first_planned(job, head, job.head.valves[seat.valve],
                                      {*seat.depth - seat.since_first, *seat.stop_s + seat.since_first}, 0));
    return read ? std::optional(read->depth) : std::nullopt;
}

}  // namespace

Figure figure(double mm) {
    return job::as_typed(mm, job::Dimension::length);
}

bool said_sure(const job::Job& job, const std::string& head, const std::string& valve) {
    const auto reads = job::of_head(job.readings.seats, head);
    return std::any_of(reads.begin(), reads.end(),
                       [&](const job::SeatBefore& r) { return r.valve == valve && r.sure; });
}

std::vector<Warning> odd_signs(const job::Job& job, const Shape& shape) {
    constexpr double least = 0.1;  // mm, of the median: less is within a gauge's and a casting's scatter
    std::vector<Warning> out;
    for (const Seat& seat : shape.seats) {
        const auto recession = seat.height.absolute();
        if (!recession || *recession >= 0 || seat.height.from != HeightFrom::recession) continue;
        const auto others = recessions_of_others(shape, seat);
        if (!others || others->median < least || !fits_without_minus(*recession, *others)) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        out.push_back({"shape", "recession-sign", id,
                       sentence<"recession-sign">("seat"_is = id, "recession"_is = figure(*recession),
                                                  "others"_is = figure(others->median)),
                       Severity::note});
    }
    return out;
}

std::vector<job::Doubt> recession_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    for (const Seat& seat : shape.seats) {
        const auto recession = seat.height.absolute();
        // One typed as such is asked about where it stands.
        if (!recession || seat.height.from == HeightFrom::recession) continue;
        const bool proud = *recession < 0;
        if (*recession <= most_recession && *recession >= -most_proud) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        const std::string key = fmt::format("recession.{}", id);
        if (said_sure(job, shape.head, id) || job::is_sure(job, key, *recession, job::Dimension::length))
            continue;
        out.push_back({job::Stage::shape, job::Cost::reading, key, figure(*recession),
                       sentence<"old-seat-off">("seat"_is = id, "off"_is = figure(std::abs(*recession)),
                                                "way"_is = proud ? sentence<"above">() : sentence<"below">(),
                                                "most"_is = figure(proud ? most_proud : most_recession)),
                       id, shape.head, false});
    }
    return out;
}

std::vector<job::Doubt> depth_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    for (const Seat& seat : shape.seats) {
        if (seat.decision != Decision::cut || !seat.depth || *seat.depth <= most_depth) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        if (asked_at_its_source(job, shape.head, id)) continue;
        const std::string key = fmt::format("depth.{}", id);
        if (job::is_sure(job, key, *seat.depth, job::Dimension::length)) continue;
        out.push_back({job::Stage::shape, job::Cost::reading, key, figure(*seat.depth),
                       sentence<"cut-deep">("seat"_is = id, "depth"_is = figure(*seat.depth),
                                            "most"_is = figure(most_depth)),
                       unread_of_its_kind(job, shape, seat) ? std::nullopt : std::optional<std::string>(id),
                       shape.head, false});
    }
    return out;
}

std::vector<job::Doubt> rest_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    const auto own = job::of_head(job.readings.seats, shape.head);
    for (const Seat& seat : shape.seats) {
        if (is_new_ring(seat.worn) || !seat.rest || std::abs(*seat.rest) <= most_rest) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        const job::SeatBefore* last = nullptr;  // that says it
        for (const job::SeatBefore& read : own)
            if (read.valve == id && (read.face_outside || !read.section.empty())) last = &read;
        const std::string key = fmt::format("rest.{}", id);
        if ((last != nullptr && last->sure) || job::is_sure(job, key, *seat.rest, job::Dimension::length))
            continue;
        out.push_back(
            {job::Stage::shape, job::Cost::reading, key, figure(*seat.rest),
             sentence<"would-rest">("seat"_is = id, "off"_is = figure(std::abs(*seat.rest)),
                                    "way"_is = *seat.rest > 0 ? sentence<"above">() : sentence<"below">(),
                                    "most"_is = figure(most_rest)),
             std::nullopt, shape.head, false});
    }
    return out;
}

std::vector<job::Doubt> section_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    const auto own = job::of_head(job.readings.seats, shape.head);
    for (const Seat& seat : shape.seats) {
        const double radius = seat.section.gauge / 2;
        if (!(radius > 0)) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        const job::SeatBefore* last = nullptr;
        for (const job::SeatBefore& read : own)
            if (read.valve == id && !read.section.empty()) last = &read;
        if (last == nullptr || last->sure) continue;
        const auto odd = std::find_if(last->section.begin(), last->section.end(), [&](const Vec2& point) {
            return point.x() < least_section_radius * radius || point.x() > most_section_radius * radius ||
                   std::abs(point.y()) > radius;
        });
        if (odd == last->section.end()) continue;
        const std::string point =
            fmt::format("[{:.6g}, {:.6g}]", job::to_bare(odd->x(), job::Dimension::length, job.units),
                        job::to_bare(odd->y(), job::Dimension::length, job.units));
        out.push_back(
            {job::Stage::shape, job::Cost::reading, fmt::format("reading.seat.{}.{}.section", shape.head, id),
             point,
             sentence<"section-point">("seat"_is = id, "point"_is = point, "radius"_is = figure(radius)),
             std::nullopt, shape.head, true});
    }
    return out;
}

std::vector<job::Doubt> lowest_doubts(const job::Job& job, const Shape& shape) {
    constexpr double above = 0.3, below = 5;  // mm: grinding; a facet below the form's last
    std::vector<job::Doubt> out;
    if (job.depth.from != job::DepthFrom::deck) return out;
    for (const Seat& seat : shape.seats) {
        if (!seat.cutter || seat.section.points.empty()) continue;
        const job::Cutter& cutter = job.cutters[*seat.cutter];
        const double form = lowest_of(seat.section);
        if (!cutter.lowest || (*cutter.lowest >= form - above && *cutter.lowest <= form + below)) continue;
        const std::string key = fmt::format("cutter.{}.lowest", cutter.name);
        if (job::is_sure(job, key, *cutter.lowest, job::Dimension::length)) continue;
        out.push_back(
            {job::Stage::shape, job::Cost::reading, key, figure(*cutter.lowest),
             sentence<"lowest-edge-odd">("cutter"_is = cutter.name, "lowest"_is = figure(*cutter.lowest),
                                         "form"_is = figure(form)),
             std::nullopt, shape.head, false});
    }
    return out;
}

std::vector<job::Doubt> zero_rest_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    if (job.depth.from != job::DepthFrom::touch) return out;
    const auto own = job::of_head(job.readings.seats, shape.head);
    for (const Seat& seat : shape.seats) {
        if (seat.height.touched != seat.valve) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        const job::SeatBefore* last = nullptr;
        for (const job::SeatBefore& read : own)
            if (read.valve == id && read.rest_z) last = &read;
        if (last == nullptr || last->sure || std::abs(*last->rest_z) <= most_rest_at_zero) continue;
        out.push_back({job::Stage::shape, job::Cost::reading,
                       fmt::format("reading.seat.{}.{}.rest_z", shape.head, id), figure(*last->rest_z),
                       sentence<"zero-rest">("seat"_is = id, "rest"_is = figure(*last->rest_z)), std::nullopt,
                       shape.head, true});
    }
    return out;
}

std::vector<job::Doubt> deck_place_doubts(const job::Job& job) {
    if (job.depth.from != job::DepthFrom::deck || !job.depth.deck_at || job.head.valves.empty()) return {};
    const Vec2 at = *job.depth.deck_at;
    Sentence text = beside_the_head(job, at);
    if (text.empty()) text = over_a_bore(job, at);
    const std::string value =
        fmt::format("[{:.6g}, {:.6g}]", job::to_bare(at.x(), job::Dimension::length, job.units),
                    job::to_bare(at.y(), job::Dimension::length, job.units));
    if (text.empty() || job::is_sure(job, "depth.deck_at", value)) return {};
    return {{job::Stage::shape,
             job::Cost::place,
             "depth.deck_at",
             value,
             std::move(text),
             std::nullopt,
             {},
             false}};
}

std::vector<job::Doubt> repeated_doubts(const job::Job& job, const Shape& shape) {
    auto out = job::repeated_seats(job, shape.head);
    for (job::Doubt& doubt : out) {
        const auto valve = doubt.valve ? job.head.index_of(*doubt.valve) : std::nullopt;
        if (std::any_of(shape.seats.begin(), shape.seats.end(), [&](const Seat& seat) {
                return valve && seat.valve != *valve && seat.height.touched == valve;
            }))
            doubt.valve.reset();
    }
    return out;
}

std::vector<job::Doubt> uncut_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    for (const Seat& seat : shape.seats) {
        const std::string& id = job.head.valves[seat.valve].id;
        const job::FirstSeat* first = first_reading(job, shape.head, id);
        if (first == nullptr || first->sure || seat.decision != Decision::cut || !seat.stop_s) continue;
        const auto depth = depth_of_first(job, shape.head, seat, *first);
        // A depth typed less than 0 is asked about as a figure that cannot be.
        if (!depth || *depth > no_depth || first->depth.value_or(0) < 0) continue;
        out.push_back({job::Stage::shape, job::Cost::reading,
                       fmt::format("reading.first.{}.{}.{}", shape.head, id, word_of(read_by(*first))),
                       figure(figure_read(*first)), sentence<"first-uncut">("seat"_is = id), std::nullopt,
                       shape.head, true});
    }
    return out;
}

void ask_about_seats(const job::Job& job, Shape& shape, std::size_t open) {
    for (auto& warning : odd_signs(job, shape)) shape.warnings.push_back(std::move(warning));
    auto doubts = job::doubts_of(job, job::Stage::shape, shape.head);
    for (auto& doubt : repeated_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : uncut_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : depth_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : recession_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : rest_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : section_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : lowest_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : zero_rest_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : deck_place_doubts(job)) doubts.push_back(std::move(doubt));
    for (auto& doubt : contradicting_heights(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : finish_doubts(job, shape)) doubts.push_back(std::move(doubt));
    job::ask_about(shape, std::move(doubts), open);
}

}  // namespace seatwright::shape
