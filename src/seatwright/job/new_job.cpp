// A whole job from six answers. What was not asked is filled with values of common practice, said so beside
// each group, so that the drawing can grow while one answers and every stage has something to show.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::job {
namespace {

constexpr double steepest = rad(79);  // just inside what the reader takes

struct ValvePlace {
    Kind kind;
    double x, y;
};

struct Plan {
    Answers a;
    PerKind<int> count{1, 1};
    PerKind<double> size;

    std::string length(double mm) const {
        // Rounded as a drawing would be: 0.01 mm or 0.001 in.
        const double step = a.units == LengthUnit::inch ? 0.0254 : 0.01;
        return toml_length(std::round(mm / step) * step, a.units);
    }
    // Fits and tolerances need one more figure.
    std::string fine(double mm) const {
        const double step = a.units == LengthUnit::inch ? 0.00254 : 0.001;
        return toml_length(std::round(mm / step) * step, a.units);
    }
    std::string angle(double rad) const { return fmt::format("\"{:.6g} deg\"", deg(rad) + 0.0); }
};

Plan within_range(Answers a) {
    const auto held = [](double v, double low, double high, double otherwise) {
        return std::isfinite(v) ? std::clamp(v, low, high) : otherwise;
    };
    a.cylinders = std::clamp(a.cylinders, 1, max_cylinders);
    a.bore_spacing = held(a.bore_spacing, 20, 2000, 100);
    a.valves_per_cylinder = std::clamp(a.valves_per_cylinder, 2, 5);
    // 128 valves at most.
    a.valves_per_cylinder = std::min(a.valves_per_cylinder, static_cast<int>(max_valves) / a.cylinders);
    a.stem_diameter = held(a.stem_diameter, 2, 40, 8);
    Plan plan;
    plan.count = a.valves_per_cylinder == 2   ? PerKind<int>{1, 1}
                 : a.valves_per_cylinder == 3 ? PerKind<int>{2, 1}
                 : a.valves_per_cylinder == 4 ? PerKind<int>{2, 2}
                                              : PerKind<int>{3, 2};
    for (const Kind kind : both_kinds) {
        a.incline[kind] = held(a.incline[kind], -steepest, steepest, 0);
        a.cant[kind] = held(a.cant[kind], -steepest, steepest, 0);
        const double share = plan.count[kind] > 1 ? (kind == Kind::intake ? 0.34 : 0.30)
                                                  : (kind == Kind::intake ? 0.42 : 0.36);
        const double usual = share * a.bore_spacing;
        plan.size[kind] = a.head_diameter[kind] > 0
                              ? held(a.head_diameter[kind], 1.6 * a.stem_diameter, 1000, usual)
                              : usual;
        plan.size[kind] = std::max(plan.size[kind], 1.6 * a.stem_diameter);
    }
    plan.a = std::move(a);
    return plan;
}

// Where the valves of one cylinder stand: one row by turns, or a row for each kind.
std::vector<ValvePlace> places(const Plan& plan) {
    const double p = plan.a.bore_spacing;
    if (plan.a.valves_per_cylinder == 2) {
        const double side = plan.a.order == Order::exhaust_first ? 1 : -1;
        // Common practice: centres 0.44 to 0.52 of the bore apart; the bore is about 0.87 of the spacing.
        const double half = std::max(0.21 * p, 0.26 * (plan.size.intake + plan.size.exhaust));
        const bool two_rows = plan.a.incline.intake * plan.a.incline.exhaust < 0;
        const double y = two_rows ? 0.1 * p : 0;
        // A guide of the row at +Y leans to −Y out of the chamber: into the casting the rows run apart.
        return {{Kind::intake, side * half, std::copysign(y, -plan.a.incline.intake)},
                {Kind::exhaust, -side * half, std::copysign(y, -plan.a.incline.exhaust)}};
    }
    std::vector<ValvePlace> out;
    const double intake_side = plan.a.incline.intake > plan.a.incline.exhaust ? -1 : 1;
    for (const Kind kind : both_kinds) {
        const double row = (kind == Kind::intake ? 0.19 : -0.19) * intake_side * p;
        const double apart = std::max(0.38 * p, 1.08 * plan.size[kind]);
        const int n = plan.count[kind];
        for (int i = 0; i < n; ++i)
            out.push_back({kind, n == 1 ? 0.0 : (i - 0.5 * (n - 1)) * apart / (n - 1), row});
    }
    return out;
}

std::string head_text(const Plan& plan) {
    const Answers& a = plan.a;
    std::string out = "[head]\nname = " + toml_string(a.title) + "\n";
    // What nobody was asked: hold writes nothing for the machine until a person gives it.
    out += "assumed = [\"head.bolt_holes\", \"head.bolt_hole_diameter\"";
    for (std::size_t i = 0; i < places(plan).size(); ++i)
        for (const char* axis : {"x", "y", "z"})
            out += fmt::format(", \"head.pattern.valve[{}].{}\"", i, axis);
    out += ", \"guide.intake.bore\", \"guide.exhaust.bore\"]\n";
    const double y = 0.52 * a.bore_spacing;
    out +=
        "# Bolt columns half a spacing beyond each bore, shared by neighbours (common practice): replace by "
        "the drawing's.\n";
    std::string holes;
    for (const double side : {-1.0, 1.0})
        for (int k = 0; k <= a.cylinders; ++k)
            holes += fmt::format("{}[{}, {}]", holes.empty() ? "" : ", ",
                                 plan.length((k - 0.5) * a.bore_spacing), plan.length(side * y));
    out +=
        "bolt_holes = [" + holes + "]\nbolt_hole_diameter = " + plan.length(0.12 * a.bore_spacing) + "\n\n";
    out += fmt::format("[head.pattern]\ncylinders = {}\nbore_spacing = {}\nalternate = \"{}\"\nvalve = [\n",
                       a.cylinders, plan.length(a.bore_spacing),
                       a.order == Order::mirrored ? "mirrored" : "same");
    for (const auto& place : places(plan))
        out += fmt::format("  {{ kind = \"{}\", x = {}, y = {}, z = {}, incline = {}, cant = {} }},\n",
                           kind_word(place.kind), plan.length(place.x), plan.length(place.y),
                           plan.length(-0.06 * a.bore_spacing), plan.angle(a.incline[place.kind]),
                           plan.angle(a.cant[place.kind]));
    return out + "]\n\n";
}

std::string forms_text(const Plan& plan, Kind kind) {
    const double d = plan.size[kind], stem = plan.a.stem_diameter;
    const double width = (kind == Kind::intake ? 0.034 : 0.042) * d;
    // Face, top and throat of common practice: 45 with 30 above and 60 below.
    std::string out = fmt::format("[valve.{}]\nhead_diameter = {}\nface_angle = 45\nstem_diameter = {}\n\n",
                                  kind_word(kind), plan.length(d), plan.fine(stem));
    out += fmt::format(
        "[seat.{}]                # common practice: replace by the engine maker's\nangle = 45\nwidth = "
        "{}\ninset = {}\n",
        kind_word(kind), plan.length(width), plan.length(0.012 * d));
    out += fmt::format(
        "top = [ {{ angle = 30, width = {} }} ]\nthroat = [ {{ angle = 60, width = {} }} ]\nrunout_max = "
        "{}\n\n",
        plan.length(0.025 * d), plan.length(0.04 * d), plan.fine(0.05));
    out += fmt::format(
        "[guide.{}]               # common practice\nbore = {}\nlength = {}\nmouth = {}\nto_seat = {}\n\n",
        kind_word(kind), plan.fine(stem + 0.04), plan.length(6.5 * stem), plan.length(1.12 * stem),
        plan.length(5 * stem));
    return out;
}

}  // namespace

std::string new_job(const Answers& answers) {
    const Plan plan = within_range(answers);
    const Answers& a = plan.a;
    std::string out = "# A new job from six answers; what was not asked holds values of common practice.\n";
    out += "title = " + toml_string(a.title) + "\n";
    out += fmt::format("units = \"{}\"\n", a.units == LengthUnit::inch ? "in" : "mm");
    if (!a.shop.empty()) out += "shop = " + toml_string(a.shop) + "\n";
    out += "\n" + head_text(plan);
    for (const Kind kind : both_kinds) out += forms_text(plan, kind);
    out += fmt::format(
        "[depth]\nstep = {}\n\n[find]                       # common practice\ntouch_sd = {}\ncasting_sd = "
        "{}\n"
        "yaw_sd = \"0.05 deg\"\npositioning_sd = {}\n",
        plan.fine(0.01), plan.fine(0.02), plan.fine(0.08), plan.fine(0.005));
    return out;
}

}  // namespace seatwright::job
