#include "case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace seatwright::sim {

namespace {

// Lines of the job; lengths with their unit where the job is one in inches.
class Toml {
  public:
    explicit Toml(const Case& c) : inch_(c.inch_programs) {}
    std::string text;

    Toml& table(const char* head) {
        text += fmt::format("{}\n", head);
        return *this;
    }
    template <class T>
    Toml& value(const char* key, const T& v) {
        text += fmt::format("{} = {}\n", key, v);
        return *this;
    }
    Toml& words(const char* key, const std::string& v) { return value(key, "\"" + v + "\""); }
    Toml& length(const char* key, double mm) { return value(key, in_unit(mm)); }
    Toml& place(const char* key, P2 p) {
        return value(key, fmt::format("[{}, {}]", in_unit(p.x), in_unit(p.y)));
    }
    std::string in_unit(double mm) const {
        return inch_ ? fmt::format("\"{} mm\"", mm) : fmt::format("{}", mm);
    }
    std::string facet(double deg, double width) const {
        return fmt::format("{{ angle = {}, width = {} }}", deg, in_unit(width));
    }

  private:
    bool inch_;
};

double degrees(double rad) {
    return rad * half_turn_deg / std::acos(-1.0);
}

void kind(Toml& t, const char* name, const KindData& k, const Case& c) {
    t.table(fmt::format("[valve.{}]", name).c_str())
        .length("head_diameter", k.head_diameter)
        .value("face_angle", 45);
    t.length("stem_diameter", 8.7).length("margin", 1.5);
    t.table(fmt::format("[seat.{}]", name).c_str())
        .value("angle", 45)
        .length("width", k.width)
        .length("inset", k.inset);
    t.value("top", "[ " + t.facet(30, k.top_width) + " ]")
        .value("throat", "[ " + t.facet(60, k.throat_width) + " ]");
    t.length("width_tol", 0.3)
        .length("runout_max", c.way == Way::none ? 0.5 : 0.05)
        .length("recession_max", c.recession_max);
    t.words("material", "grey iron").length("below_deck", k.below_deck);
    if (c.to_height) t.value("finish", "{ recession = " + t.in_unit(c.finish) + " }");
    t.table(fmt::format("[guide.{}]", name).c_str()).length("bore", k.bore).length("bore_max", k.bore + 0.1);
    t.length("length", k.guide_length)
        .length("mouth", k.mouth)
        .length("to_seat", k.to_seat)
        .length("below", k.below);
}

void head(Toml& t, const Case& c) {
    t.table("[head]").words("name", "simulated").words("material", "grey iron").words("mass", "21 kg");
    if (!c.datum.empty()) t.words("datum", c.datum);
    const P2 low{c.deck_low.x + 8, c.deck_low.y + 8}, high{c.deck_high.x - 8, c.deck_high.y - 8};
    t.value("bolt_holes", fmt::format("[[{0}, {1}], [{2}, {1}], [{0}, {3}], [{2}, {3}]]", t.in_unit(low.x),
                                      t.in_unit(low.y), t.in_unit(high.x), t.in_unit(high.y)));
    t.length("bolt_hole_diameter", 11);
    for (const Seat& s : c.seats) {
        t.table("[[head.valve]]").words("id", s.id).value("cylinder", s.cylinder);
        t.words("kind", s.intake ? "intake" : "exhaust")
            .length("x", s.at.x)
            .length("y", s.at.y)
            .length("z", s.at.z);
        t.value("incline", degrees(s.incline)).value("cant", degrees(s.cant));
    }
}

const char* float_words(FloatBy floats) {
    switch (floats) {
        case FloatBy::none:
            return "\"none\"";
        case FloatBy::soft:
            return "\"soft\"";
        case FloatBy::words:
            return "{ free = \"M62 P1\", lock = \"M63 P1\", centre = \"M64 P1\" }";
        case FloatBy::hand:
            return "{ free = \"hand\", lock = \"hand\", centre = \"hand\" }";
        case FloatBy::springs:
            return "{ free = \"M62 P1\", lock = \"M63 P1\", centre = \"self\" }";
    }
    return "";
}

void machine(Toml& t, const Case& c) {
    t.table("[machine]").words("name", "simulated").length("travel_x", 2000).length("travel_y", 1000);
    t.length("travel_z", 600).value("x_sign", c.x_sign).value("y_sign", c.y_sign).length("resolution", 0.001);
    t.value("rpm_min", 60).value("rpm_max", 1500).value("rpm_step", 5).words("axial_stiffness", "20 N/um");
    t.words("zero", c.offsets ? "offsets" : "program").words("trim", c.trim_at_control ? "control" : "file");
    t.value("lock_to_cut", c.lock_to_cut).value("spin_up", c.spin_up).value("spin_down", c.spin_down);
    t.length("ball", c.ball).words("pilot_change", c.cutter_off ? "cutter off" : "in place");
    t.value("float", float_words(c.floats));
    if (c.load_at) t.place("load_at", *c.load_at);
    if (c.measure_at) t.place("measure_at", *c.measure_at);
    t.table("[dialect]").words("name", "simulated").value("decimals_mm", c.decimals);
    t.value("decimals_inch", c.decimals + 2).value("line_numbers", c.numbered);
    t.words("comment", c.semicolon ? "semicolon" : "parentheses")
        .value("dwell_in_milliseconds", c.milliseconds);
    t.words("program_end", c.ends_m30 ? "M30" : "M2");
    if (c.worded_top) t.words("top", "G53 G0 Z999");
}

// The form cutter's facets are longer than the drawing's, so that one blade does both kinds.
double throat_of_blade(const Case& c) {
    return c.intake.throat_width + 0.4;
}

void shelf(Toml& t, const Case& c) {
    t.table("[fixture]").words("name", "simulated").value("tilt", "[-60, 60]").value("swing", "[-30, 30]");
    t.value("plumb_limit", 0.05)
        .value("captive", "true")
        .words("clamp_force", "20 kN")
        .value("friction", 0.2);
    for (const PilotSize& size : c.pilots) {
        t.table("[[pilot]]").words("name", size.name).words("style", c.way == Way::live ? "live" : "tapered");
        t.length("diameter", size.diameter).length("tip", c.tip).length("free_length", 80);
        t.length("reach", c.reach + size.longer).length("gauge_at", c.gauge_at + size.longer);
        if (c.way != Way::live) t.value("taper", c.taper);
        t.length("slide", c.slide).length("length", 160).length("above", c.above).value("count", 64);
    }
    t.table("[[cutter]]")
        .words("name", "form")
        .value("gauge_diameter", "[" + t.in_unit(20) + ", " + t.in_unit(60) + "]");
    t.value("facets", fmt::format("[ {}, {}, {} ]", t.facet(60, throat_of_blade(c)),
                                  t.facet(45, c.intake.width), t.facet(30, c.intake.top_width + 0.4)));
    t.value("blades", 1).length("drop", c.drop).length("lowest", c.lowest).length("body", c.body);
    t.length("bore_depth", c.bore_depth);
    t.table("[[material]]").words("name", "grey iron").value("kc11", 1150).value("mc", 0.2);
    t.value("speed", "[20, 40]").value("feed", "[\"0.02 mm\", \"0.05 mm\"]");
}

void rules(Toml& t, const Case& c) {
    const char* ways[] = {"carried", "live", "planted", "none"};
    t.table("[cut]").words("pilot", ways[static_cast<int>(c.way)]).value("first_stop", c.first_stop);
    t.table("[depth]").length("step", c.step).words("to", c.to_height ? "height" : "cleanup");
    t.words("from", c.zero == ZeroBy::touch ? "touch" : "deck").length("feeler", c.feeler);
    t.length("deck_cut", c.deck_cut);
    if (c.zero_on) t.words("zero_on", *c.zero_on);
    if (c.zero == ZeroBy::ball) t.place("deck_at", c.deck_at);
    if (c.zero == ZeroBy::block) t.length("block", c.block);
    t.table("[find]").length("touch_sd", 0.01).length("casting_sd", 0.05).words("yaw_sd", "0.3 deg");
    t.length("positioning_sd", 0.005);
}

void readings(Toml& t, const Case& c) {
    for (const Seat& s : c.seats) {
        if (s.read_guide) {
            t.table("[[reading.guide]]")
                .words("head", c.head)
                .words("valve", s.id)
                .length("top", s.bore_read)
                .length("middle", s.bore_read);
            t.length("bottom", s.bore_read);
        }
        if (!s.cleanup && !s.read_height && !s.read_face && !s.ring_top) continue;
        t.table("[[reading.seat]]").words("head", c.head).words("valve", s.id);
        if (s.ring_top)
            t.value("section", fmt::format("[[{}, {}], [{}, {}]]", t.in_unit(0.5 * s.ring_inside),
                                           t.in_unit(*s.ring_top), t.in_unit(0.5 * s.ring_outside),
                                           t.in_unit(*s.ring_top)));
        if (s.cleanup) t.length("cleanup", *s.cleanup);
        if (s.read_height) t.length("recession", s.recession_read);
        if (!s.read_face) continue;
        const KindData& k = c.of(s);
        t.length("face_outside", k.head_diameter - 2 * k.inset + 2 * s.outside_wider);
        t.length("face_width", k.width + (s.outside_wider + s.inside_wider) / std::sqrt(0.5));
    }
}

}  // namespace

const Seat& Case::seat(const std::string& id) const {
    const auto at = std::find_if(seats.begin(), seats.end(), [&](const Seat& s) { return s.id == id; });
    if (at == seats.end()) throw std::out_of_range("no seat " + id);
    return *at;
}

const PilotSize* Case::pilot(const std::string& named) const {
    const auto at =
        std::find_if(pilots.begin(), pilots.end(), [&](const PilotSize& p) { return p.name == named; });
    return at == pilots.end() ? nullptr : &*at;
}

double true_rest(const Case& c, const Seat& seat) {
    const double tan30 = std::tan(radians(30)), tan60 = std::tan(radians(60));
    if (!seat.ring_top) return std::max(seat.outside_wider * (1 - tan30), seat.inside_wider * (tan60 - 1));
    // The blade's throat facet meets the ring's top where it reaches furthest in.
    const KindData& k = c.of(seat);
    const double rise = k.width * std::sqrt(0.5);
    const double inner = 0.5 * k.head_diameter - k.inset - rise;
    const double reaches =
        std::min(inner - 0.5 * seat.ring_inside, throat_of_blade(c) * std::cos(radians(60)));
    return *seat.ring_top + 0.5 * rise + std::max(0.0, reaches) * tan60;
}

std::string job_text(const Case& c) {
    Toml t(c);
    t.words("title", c.name).words("units", c.inch_programs ? "in" : "mm");
    t.value("sure", "[\"head.lies = as declared\"]");  // upright heads are asked about once
    head(t, c);
    kind(t, "intake", c.intake, c);
    kind(t, "exhaust", c.exhaust, c);
    machine(t, c);
    shelf(t, c);
    rules(t, c);
    readings(t, c);
    for (const std::string& lines : c.extra) t.text += lines;
    return t.text;
}

}  // namespace seatwright::sim
