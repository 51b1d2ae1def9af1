#include <fmt/format.h>

#include <cmath>

#include "seatwright/job/build.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::job {
namespace {

const Value* kind_table(const Value& root, const char* group, const char* kind) {
    const Value* table = root.table_of(group);
    return table ? table->table_of(kind) : nullptr;
}

std::vector<Facet> facets_of(const Value& table, const char* key) {
    std::vector<Facet> out;
    for (const Value* f : table.tables_of(key))
        out.push_back({f->number_of("angle").value_or(0), f->number_of("width").value_or(0)});
    return out;
}

ValveForm read_valve(const Value& t) {
    return {t.number_of("head_diameter").value_or(0), t.number_of("face_angle"), t.number_of("stem_diameter"),
            t.number_of("margin")};
}

GuideForm read_guide(const Value& t) {
    GuideForm out;
    out.bore = t.number_of("bore");
    out.bore_max = t.number_of("bore_max");
    out.bell_max = t.number_of("bell_max");
    out.length = t.number_of("length");
    out.mouth = t.number_of("mouth");
    out.to_seat = t.number_of("to_seat");
    out.below = t.number_of("below");
    out.outside = t.number_of("outside");
    out.interference = t.number_of("interference");
    return out;
}

SeatForm read_seat(const Value& t) {
    SeatForm out;
    out.angle = t.number_of("angle").value_or(0);
    out.width = t.number_of("width").value_or(0);
    out.inset = t.number_of("inset");
    out.contact_diameter = t.number_of("contact_diameter");
    out.top = facets_of(t, "top");
    out.throat = facets_of(t, "throat");
    out.width_tol = t.number_of("width_tol");
    out.runout_max = t.number_of("runout_max");
    out.stem_height = t.number_of("stem_height");
    out.stem_height_min = t.number_of("stem_height_min");
    out.stem_height_max = t.number_of("stem_height_max");
    out.recession_min = t.number_of("recession_min");
    out.recession_max = t.number_of("recession_max");
    out.below_deck = t.number_of("below_deck");
    out.below_deck_min = t.number_of("below_deck_min");
    out.below_deck_max = t.number_of("below_deck_max");
    if (const Value* finish = t.table_of("finish")) out.finish = read_finish(*finish);
    out.cleanup = t.number_of("cleanup");
    out.old_as_drawn = t.text_of("old") == "as drawn";
    out.tip_grind_max = t.number_of("tip_grind_max");
    out.spring_height = t.number_of("spring_height");
    out.vacuum_min = t.number_of("vacuum_min");
    out.vacuum_loss_max = t.number_of("vacuum_loss_max");
    out.cut_allowed = t.flag_of("cut_allowed").value_or(true);
    out.material = t.text_of("material").value_or("");
    if (const Value* ring = t.table_of("insert"))
        out.insert = Insert{ring->number_of("outside").value_or(0), ring->number_of("inside").value_or(0),
                            ring->number_of("depth").value_or(0), ring->number_of("interference"),
                            ring->text_of("material").value_or("")};
    return out;
}

struct Checker {
    const Source& source;
    std::string path;  // "seat.intake"
    const Value& table;
    Faults& faults;

    // A length as the job's people read it.
    std::string show(double mm) const {
        return source.units == LengthUnit::inch ? fmt::format("{:.4g} in", mm / mm_per_inch)
                                                : fmt::format("{:.4g} mm", mm);
    }
    void fault(std::string_view key, std::string text) const {
        faults.push_back(source.fault(table.line_of(key), path + "." + std::string(key), std::move(text)));
    }
};

// Top facets flatten outward, throat facets steepen inward, both starting from the face.
void check_slopes(const Checker& c, const SeatForm& seat) {
    if (!(seat.angle > 0)) return;
    const auto order = [&](const char* key, const std::vector<Facet>& facets, double sign, const char* rule) {
        double last = seat.angle;
        for (std::size_t i = 0; i < facets.size(); ++i) {
            if (c.table.find(key)->items.size() == facets.size() &&
                c.table.find(key)->items[i].number_of("angle") && sign * (facets[i].angle - last) <= 0) {
                c.faults.push_back(c.source.fault(c.table.find(key)->items[i].line,
                                                  fmt::format("{}.{}[{}]", c.path, key, i),
                                                  fmt::format("is {:.4g} deg after {:.4g} deg; {}",
                                                              deg(facets[i].angle), deg(last), rule)));
                return;
            }
            last = facets[i].angle;
        }
    };
    order("top", seat.top, -1, "top facets flatten outward from the seat face");
    order("throat", seat.throat, 1, "throat facets steepen inward from the seat face");
}

// Diameters that cannot be: contact outside the valve, section crossing the axis, ring inside out.
void check_sizes(const Checker& c, const SeatForm& seat, const std::optional<ValveForm>& valve) {
    if (seat.inset && seat.contact_diameter)
        c.fault("contact_diameter", "stands beside inset; give one of the two");
    if (seat.contact_diameter && valve && valve->head_diameter > 0 &&
        *seat.contact_diameter > valve->head_diameter)
        c.fault("contact_diameter",
                fmt::format("is {}, wider than the valve head of {}; the seat must meet the valve's face",
                            c.show(*seat.contact_diameter), c.show(valve->head_diameter)));
    const bool inside_out =
        seat.insert && seat.insert->outside > 0 && seat.insert->inside >= seat.insert->outside;
    if (inside_out)
        c.fault("insert", fmt::format("is inside out: inside {}, outside {}", c.show(seat.insert->inside),
                                      c.show(seat.insert->outside)));
    std::optional<double> outer = seat.contact_diameter;
    if (!outer && seat.inset && valve && valve->head_diameter > 0)
        outer = valve->head_diameter - 2 * *seat.inset;
    const char* size_key = seat.contact_diameter ? "contact_diameter" : "inset";
    if (outer && *outer <= 0) {
        c.fault(size_key, fmt::format("leaves a contact diameter of {}; it must be above 0", c.show(*outer)));
        return;
    }
    if (outer && seat.width > 0 && seat.angle > 0) {
        double inner = *outer - 2 * seat.width * std::cos(seat.angle);
        const char* blame = "width";
        for (const auto& f : seat.throat) {
            if (inner <= 0) break;
            inner -= 2 * f.width * std::cos(f.angle);
            blame = "throat";
        }
        const double least = valve ? valve->stem_diameter.value_or(0) : 0;
        if (inner <= least && c.table.has(blame))
            c.fault(blame,
                    least > 0
                        ? fmt::format(
                              "ends at a diameter of {}, inside the stem of {}; the seat's face and throat "
                              "must stay outside it",
                              c.show(inner), c.show(least))
                        : fmt::format("ends at a diameter of {}; the seat must stay open", c.show(inner)));
        if (seat.insert && !inside_out && seat.insert->outside > 0 && *outer >= seat.insert->outside)
            c.fault("insert", fmt::format("has an outside of {}, not above the contact diameter of {}",
                                          c.show(seat.insert->outside), c.show(*outer)));
        if (seat.insert && !inside_out && seat.insert->inside > 0 && *outer <= seat.insert->inside)
            c.fault(
                "insert",
                fmt::format(
                    "has an inside of {}, not below the contact diameter of {}: the seat lies in the throat",
                    c.show(seat.insert->inside), c.show(*outer)));
    }
    if (seat.stem_height && seat.stem_height_max && *seat.stem_height_max < *seat.stem_height)
        c.fault("stem_height_max", fmt::format("is {}, below stem_height of {}",
                                               c.show(*seat.stem_height_max), c.show(*seat.stem_height)));
}

void check_valve(const Checker& c, const ValveForm& valve) {
    if (valve.stem_diameter && valve.head_diameter > 0 && *valve.stem_diameter >= valve.head_diameter)
        c.fault("stem_diameter", fmt::format("is {}, not below the valve head of {}",
                                             c.show(*valve.stem_diameter), c.show(valve.head_diameter)));
}

void check_guide(const Checker& c, const GuideForm& guide) {
    if (!guide.bore) return;
    if (guide.bore_max && *guide.bore_max < *guide.bore)
        c.fault("bore_max",
                fmt::format("is {}, below the bore of {}", c.show(*guide.bore_max), c.show(*guide.bore)));
    if (guide.mouth && *guide.mouth < *guide.bore)
        c.fault("mouth", fmt::format("is {}, below the bore of {}; the chamfer is the wider",
                                     c.show(*guide.mouth), c.show(*guide.bore)));
    if (guide.outside && *guide.outside <= *guide.bore)
        c.fault("outside",
                fmt::format("is {}, not above the bore of {}", c.show(*guide.outside), c.show(*guide.bore)));
}

// Each window has its ends the right way round, and a finished height is one figure.
void check_heights(const Checker& c, const SeatForm& seat) {
    const auto window = [&](const char* key, const std::optional<double>& low,
                            const std::optional<double>& high) {
        if (low && high && *low > *high)
            c.fault(std::string(key) + "_min",
                    fmt::format("is {}, above {}_max of {}", c.show(*low), key, c.show(*high)));
    };
    window("stem_height", seat.stem_height_min, seat.stem_height_max);
    window("recession", seat.recession_min, seat.recession_max);
    window("below_deck", seat.below_deck_min, seat.below_deck_max);
    if (!seat.finish) return;
    if (const std::string wrong = fault_of(*seat.finish); !wrong.empty()) c.fault("finish", wrong);
}

}  // namespace

Finish read_finish(const Value& table) {
    return {table.number_of("stem_height"), table.number_of("below_deck"), table.number_of("recession")};
}

std::string fault_of(const Finish& finish) {
    const int given = (finish.stem_height ? 1 : 0) + (finish.below_deck ? 1 : 0) + (finish.recession ? 1 : 0);
    return given == 1
               ? std::string()
               : fmt::format("gives {} figures; wanted: one of stem_height, below_deck and recession", given);
}

Built<Forms> build_forms(const std::vector<Source>& sources) {
    Built<Forms> out;
    for (const Kind kind : both_kinds) {
        const char* word = kind_word(kind);
        const auto first = [&](const char* group, const auto& use) {
            for (const auto& source : sources)
                if (const Value* t = kind_table(*source.root, group, word)) {
                    use(Checker{source, std::string(group) + "." + word, *t, out.faults});
                    return;
                }
        };
        first("valve", [&](const Checker& c) {
            out.value.valve[kind] = read_valve(c.table);
            check_valve(c, *out.value.valve[kind]);
        });
        first("seat", [&](const Checker& c) {
            out.value.seat[kind] = read_seat(c.table);
            check_slopes(c, *out.value.seat[kind]);
            check_heights(c, *out.value.seat[kind]);
            check_sizes(c, *out.value.seat[kind], out.value.valve[kind]);
        });
        first("guide", [&](const Checker& c) {
            out.value.guide[kind] = read_guide(c.table);
            check_guide(c, *out.value.guide[kind]);
        });
    }
    return out;
}

}  // namespace seatwright::job
