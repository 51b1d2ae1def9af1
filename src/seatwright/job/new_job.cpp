// A whole job from six answers. What was not answered is filled with values of common practice, so that the
// drawing can grow while one answers and every stage has something to show; head.assumed names each of them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::job {
namespace {

constexpr double usual_stem = 8;    // mm
constexpr double least_head = 1.6;  // times its stem
// Face, top and throat of common practice: 45 with 30 above and 60 below.
constexpr double usual_face = rad(45), beside_face = rad(15);

struct ValvePlace {
    Kind kind;
    double x, y;
};

struct Plan {
    Answers a;
    PerKind<int> count{1, 1};
    PerKind<double> size, stem, incline, cant, face;
    PerKind<std::optional<double>> width;

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

// The angle or length as far as the questions take one; `otherwise` if it is no number.
double held(double v, std::string_view key, double otherwise) {
    const Key& of = *key_at(key);
    const double unit = of.dimension == Dimension::angle ? rad(1) : 1;
    return std::isfinite(v) ? std::clamp(v, of.new_head.low * unit, of.new_head.high * unit) : otherwise;
}

// Where nobody gave it: a head that was answered stays what it is.
double stem_for(double head) {
    return head > 0 ? std::min(usual_stem, std::floor(100 * head / least_head) / 100) : usual_stem;
}

Plan within_range(Answers a) {
    a.cylinders = std::clamp(a.cylinders, 1, max_cylinders);
    a.bore_spacing = held(a.bore_spacing, "head.pattern.bore_spacing", 100);
    a.valves_per_cylinder = std::clamp(a.valves_per_cylinder, 2, 5);
    // 128 valves at most.
    a.valves_per_cylinder = std::min(a.valves_per_cylinder, static_cast<int>(max_valves) / a.cylinders);
    Plan plan;
    plan.count = a.valves_per_cylinder == 2   ? PerKind<int>{1, 1}
                 : a.valves_per_cylinder == 3 ? PerKind<int>{2, 1}
                 : a.valves_per_cylinder == 4 ? PerKind<int>{2, 2}
                                              : PerKind<int>{3, 2};
    for (const Kind kind : both_kinds) {
        const Kind other = kind == Kind::intake ? Kind::exhaust : Kind::intake;
        const auto given = a.stem_diameter[kind] ? a.stem_diameter[kind] : a.stem_diameter[other];
        plan.stem[kind] = held(given.value_or(stem_for(a.head_diameter[kind].value_or(0))),
                               "valve.*.stem_diameter", usual_stem);
        plan.incline[kind] = held(a.incline[kind].value_or(0), "head.pattern.valve[].incline", 0);
        plan.cant[kind] = held(a.cant[kind].value_or(0), "head.pattern.valve[].cant", 0);
        plan.face[kind] = held(a.seat_angle[kind].value_or(usual_face), "seat.*.angle", usual_face);
        if (const auto width = a.seat_width[kind]; width && held(*width, "seat.*.width", 0) == *width)
            plan.width[kind] = width;
        const double share = plan.count[kind] > 1 ? (kind == Kind::intake ? 0.34 : 0.30)
                                                  : (kind == Kind::intake ? 0.42 : 0.36);
        const double usual = share * a.bore_spacing, least = least_head * plan.stem[kind];
        const double size = a.head_diameter[kind].value_or(0);
        plan.size[kind] = std::max(size > 0 ? held(size, "valve.*.head_diameter", usual) : usual, least);
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
        const bool two_rows = plan.incline.intake * plan.incline.exhaust < 0;
        const double y = two_rows ? 0.1 * p : 0;
        // A guide of the row at +Y leans to −Y out of the chamber: into the casting the rows run apart.
        return {{Kind::intake, side * half, std::copysign(y, -plan.incline.intake)},
                {Kind::exhaust, -side * half, std::copysign(y, -plan.incline.exhaust)}};
    }
    std::vector<ValvePlace> out;
    const double intake_side = plan.incline.intake > plan.incline.exhaust ? -1 : 1;
    for (const Kind kind : both_kinds) {
        const double row = (kind == Kind::intake ? 0.19 : -0.19) * intake_side * p;
        const double apart = std::max(0.38 * p, 1.08 * plan.size[kind]);
        const int n = plan.count[kind];
        for (int i = 0; i < n; ++i)
            out.push_back({kind, n == 1 ? 0.0 : (i - 0.5 * (n - 1)) * apart / (n - 1), row});
    }
    return out;
}

// `made_up`: keys, as they stand in the text.
std::string head_text(const Plan& plan, const std::vector<std::string>& made_up) {
    const Answers& a = plan.a;
    std::string out = "[head]\nname = " + toml_string(a.title) + "\n";
    // What nobody gave: nothing is written for the machine until a person does.
    constexpr std::size_t in_a_line = 4;
    out += "assumed = [";
    for (std::size_t i = 0; i < made_up.size(); ++i)
        out += fmt::format("{}\"{}\",", i % in_a_line == 0 ? "\n    " : " ", made_up[i]);
    out += made_up.empty() ? "]\n" : "\n]\n";
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
                           plan.length(-0.06 * a.bore_spacing), plan.angle(plan.incline[place.kind]),
                           plan.angle(plan.cant[place.kind]));
    return out + "]\n\n";
}

std::string forms_text(const Plan& plan, Kind kind) {
    const double d = plan.size[kind], stem = plan.stem[kind];
    const auto& width = plan.width[kind];
    const double face = plan.face[kind];
    std::string out =
        fmt::format("[valve.{}]\nhead_diameter = {}\nface_angle = {:.6g}\nstem_diameter = {}\n\n",
                    kind_word(kind), plan.length(d), deg(face), plan.fine(stem));
    out += fmt::format(
        "[seat.{}]                # common practice: replace by the engine maker's\nangle = {:.6g}\nwidth = "
        "{}\ninset = {}\n",
        kind_word(kind), deg(face),
        width ? toml_length(*width, plan.a.units) : plan.length((kind == Kind::intake ? 0.034 : 0.042) * d),
        plan.length(0.012 * d));
    out += fmt::format(
        "top = [ {{ angle = {:.6g}, width = {} }} ]\nthroat = [ {{ angle = {:.6g}, width = {} }} ]\n"
        "runout_max = {}\n\n",
        deg(face - beside_face), plan.length(0.025 * d), deg(face + beside_face), plan.length(0.04 * d),
        plan.fine(0.05));
    out += fmt::format(
        "[guide.{}]               # common practice\nbore = {}\nlength = {}\nmouth = {}\nto_seat = {}\n\n",
        kind_word(kind), plan.fine(stem + 0.04), plan.length(6.5 * stem), plan.length(1.12 * stem),
        plan.length(5 * stem));
    return out;
}

std::string job_text(const Plan& plan, const std::vector<std::string>& made_up) {
    const Answers& a = plan.a;
    std::string out =
        "# A new job from six answers. What head.assumed names is of common practice: replace it.\n";
    out += "title = " + toml_string(a.title) + "\n";
    out += fmt::format("units = \"{}\"\n", a.units == LengthUnit::inch ? "in" : "mm");
    if (!a.shop.empty()) out += "shop = " + toml_string(a.shop) + "\n";
    out += "\n" + head_text(plan, made_up);
    for (const Kind kind : both_kinds) out += forms_text(plan, kind);
    out += fmt::format(
        "[depth]\nstep = {}\n\n[find]                       # common practice\ntouch_sd = {}\ncasting_sd = "
        "{}\n"
        "yaw_sd = \"0.05 deg\"\npositioning_sd = {}\n",
        plan.fine(0.01), plan.fine(0.02), plan.fine(0.08), plan.fine(0.005));
    return out;
}

bool is_figure(const Key& key) {
    using enum ValueType;
    return key.type == quantity || key.type == range || key.type == quantities || key.type == point ||
           key.type == points;
}

// The places of all figures that stand in it, in the order of the text.
void figures_of(const toml::Value& from, const std::string& place, std::vector<std::string>& out) {
    std::size_t index = 0;
    for (const auto value : from.items()) {
        const std::string here = from.kind() == toml::Kind::list ? fmt::format("{}[{}]", place, index++)
                                 : place.empty()                 ? value.name()
                                                                 : place + "." + value.name();
        const Key* key = key_at(here);
        if (key != nullptr && is_figure(*key))
            out.push_back(here);
        else if (value.kind() == toml::Kind::table || value.kind() == toml::Kind::list)
            figures_of(value, here, out);
    }
}

// Whether an answer gave the figure that stands there; a size that had to be brought into its range nobody
// gave.
bool is_given(const Plan& plan, std::string_view place) {
    const Answers& a = plan.a;
    if (place == "head.pattern.bore_spacing") return true;
    const auto valves = places(plan);
    for (std::size_t i = 0; i < valves.size(); ++i) {
        const std::string of = fmt::format("head.pattern.valve[{}].", i);
        if (place == of + "incline") return a.incline[valves[i].kind] == plan.incline[valves[i].kind];
        if (place == of + "cant") return a.cant[valves[i].kind] == plan.cant[valves[i].kind];
    }
    for (const Kind kind : both_kinds) {
        const std::string valve = fmt::format("valve.{}.", kind_word(kind)),
                          seat = fmt::format("seat.{}.", kind_word(kind));
        if (place == valve + "head_diameter") return a.head_diameter[kind] == plan.size[kind];
        if (place == valve + "stem_diameter") return a.stem_diameter[kind] == plan.stem[kind];
        if (place == seat + "angle") return a.seat_angle[kind] == plan.face[kind];
        if (place == seat + "width") return plan.width[kind].has_value();
    }
    return false;
}

}  // namespace

std::string new_job(const Answers& answers) {
    const Plan plan = within_range(answers);
    const toml::Document made = read_text(job_text(plan, {}));
    std::vector<std::string> made_up;
    figures_of(made.root(), "", made_up);
    std::erase_if(made_up, [&](const std::string& place) { return is_given(plan, place); });
    return job_text(plan, made_up);
}

}  // namespace seatwright::job
