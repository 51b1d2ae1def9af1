#include "seatwright/scan/scan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/scan/head.hpp"
#include "seatwright/scan/off_deck.hpp"
#include "seatwright/scan/read.hpp"
#include "seatwright/scan/surface.hpp"
#include "seatwright/scan/told.hpp"

namespace seatwright::scan {
namespace {

// A head's longest side, mm: a small single, a long row of cylinders with room (from memory). A length that
// would do in both units is millimetres from 50 on: inches would make it longer than 1.27 m.
constexpr double shortest_head = 25, longest_head = 2500, surely_mm = 50;

tl::unexpected<Faults> no(const std::string& file, std::string text) {
    return tl::unexpected(Faults{{file, 0, "", std::move(text)}});
}

// The longest side of the box that holds all but a twentieth of the points at each end, in the file's unit.
double longest_side(const Points& few) {
    double out = 0;
    for (int axis = 0; axis < 3; ++axis) {
        std::vector<double> all;
        all.reserve(few.size());
        for (const auto& p : few) all.push_back(p.vec()[axis]);
        constexpr double left_out = 0.05;
        const double high = numerics::value_at(all, 1 - left_out), low = numerics::value_at(all, left_out);
        out = std::max(out, (high - low) / (1 - 2 * left_out));
    }
    return out;
}

const char* words_of(LengthUnit unit) {
    return unit == LengthUnit::inch ? "inches" : "millimetres";
}

LengthUnit the_other(LengthUnit unit) {
    return unit == LengthUnit::inch ? LengthUnit::mm : LengthUnit::inch;
}

Checked<LengthUnit> unit_of(double length, std::optional<LengthUnit> told, const std::string& file) {
    const auto as = [&](LengthUnit unit) { return unit == LengthUnit::inch ? length * mm_per_inch : length; };
    const auto is_head = [&](LengthUnit unit) { return as(unit) > shortest_head && as(unit) < longest_head; };
    if (told) {
        if (is_head(*told)) return *told;
        const auto other = the_other(*told);
        return no(
            file,
            fmt::format("would be {:.3g} mm long in {}, which no head is{}", as(*told), words_of(*told),
                        is_head(other) ? fmt::format("; in {0} it would be {1:.3g} mm: say that it is in {0}",
                                                     words_of(other), as(other))
                                       : std::string()));
    }
    if (length == 0) return no(file, "has all its points in one place");
    if (length >= surely_mm && is_head(LengthUnit::mm)) return LengthUnit::mm;
    if (is_head(LengthUnit::inch)) return LengthUnit::inch;
    return no(
        file,
        fmt::format("is {:.3g} long in its own unit: no head is, in millimetres or in inches; scale it to "
                    "one of them",
                    length));
}

// Half of what is shown, and more where there is more, is off the deck.
Points few_of(const Points& all, const Found& found, std::size_t most) {
    const std::size_t n = all.size();
    const double band = band_sds * std::max(found.sd, least_noise);
    Points out(std::min(most, n));
    std::size_t off = 0, on = 0;
    const std::size_t looked = std::min(n, 3 * most);
    const auto points = some_of(all, looked, 1);
    for (const auto& p : points) {
        const bool on_deck = std::abs(found.pose.at(p).z()) < band;
        if (off + on >= out.size()) break;
        if (on_deck && on > off) continue;
        out[off + on] = p;
        ++(on_deck ? on : off);
    }
    out.shrink(off + on);
    return out;
}

std::string title_of(const std::string& file) {
    auto out = std::filesystem::path(file).stem().string();
    return out.empty() ? "a head out of a scan" : out;
}

}  // namespace

bool Scan::placed() const {
    return std::any_of(valves.begin(), valves.end(), [](const Valve& v) { return v.x.value && v.z.value; });
}

Checked<Surface> surface_of(const Cloud& cloud, const std::string& file, std::optional<LengthUnit> units,
                            std::size_t shown, const Watch& watch) {
    constexpr std::size_t least_points = 500, few = 20000;
    if (cloud.points.size() < least_points)
        return no(file, fmt::format(
                            "holds {} points; a head's surface takes thousands (a model of large flat pieces "
                            "has points at their corners alone)",
                            cloud.points.size()));
    const double length = longest_side(some_of(cloud.points, few, 1));
    const auto unit = unit_of(length, units, file);
    if (!unit) return tl::unexpected(unit.error());
    const double mm = *unit == LengthUnit::inch ? mm_per_inch : 1;
    auto found = find(cloud, mm, watch);
    if (!found) return no(file, "shows no plane that could be a deck: too few of its points lie on one");
    Surface out;
    out.file = file;
    out.format = cloud.format;
    out.units = *unit;
    out.unit_told = units.has_value();
    out.longest = length * mm;
    out.points = static_cast<double>(cloud.points.size());
    out.not_numbers = static_cast<double>(cloud.not_numbers);
    out.repeated = static_cast<double>(cloud.repeated);
    out.found = std::move(*found);
    if (shown > 0) out.few = few_of(cloud.points, out.found, shown);
    return out;
}

Checked<Surface> surface_of(std::string_view bytes, const std::string& file, std::optional<LengthUnit> units,
                            std::size_t shown, const Watch& watch) {
    const auto cloud = read_points(bytes, file, watch);
    if (!cloud) return no(file, cloud.error());
    return surface_of(*cloud, file, units, shown, watch);
}

Checked<Scan> scan_of(const Surface& surface, const Told& told) {
    const Found& found = surface.found;
    Scan out;
    out.file = surface.file;
    out.title = title_of(surface.file);
    out.format = surface.format;
    out.units = surface.units;
    out.unit_told = surface.unit_told;
    out.deck_rms = found.deck_rms;
    out.deck_points = found.deck_points;
    out.points = surface.points;
    out.inliers = found.inliers;
    out.not_numbers = surface.not_numbers;
    out.repeated = surface.repeated;
    out.noise_together = std::sqrt(found.wider.bore[0]);
    Head head;
    if (!make_head(found, told, out, head))
        return no(
            surface.file,
            fmt::format("shows a flat face and no bore or hole in it: it is no head, or its holes were "
                        "not scanned ({:.3g} mm long in {}; if it is not so long, say that it is in {})",
                        surface.longest, words_of(surface.units), words_of(the_other(surface.units))));
    tell(found, told, head, surface.longest, out);
    return out;
}

Checked<Scan> scan_of(const Cloud& cloud, const std::string& file, const Told& told, const Watch& watch) {
    const auto surface = surface_of(cloud, file, told.units, 0, watch);
    if (!surface) return tl::unexpected(surface.error());
    return scan_of(*surface, told);
}

Checked<Scan> scan_of(std::string_view bytes, const std::string& file, const Told& told, const Watch& watch) {
    const auto surface = surface_of(bytes, file, told.units, 0, watch);
    if (!surface) return tl::unexpected(surface.error());
    return scan_of(*surface, told);
}

survey::Laid laid(const Scan& scan) {
    survey::Laid out;
    for (const auto& h : scan.holes)
        if (h.kind == survey::HoleKind::bolt) out.add_bolt(h);
    for (const auto& v : scan.valves) out.add(v, v.kind, std::max(v.x.u, v.y.u));
    return out;
}

}  // namespace seatwright::scan
