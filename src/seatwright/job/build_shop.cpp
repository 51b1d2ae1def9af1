#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "seatwright/job/build.hpp"
#include "seatwright/job/control_words.hpp"

namespace seatwright::job {
namespace {

constexpr double any_diameter_mm =
    1e5;  // a cutter that does not say its range covers whatever a job may hold

std::optional<Range> range_of(const Value& t, const char* key) {
    const auto values = t.numbers_of(key);
    if (values.size() != 2) return std::nullopt;
    return Range{values[0], values[1]};
}

int sign_of(const Value& t, const char* key) {
    return t.text_of(key) == "-1" ? -1 : 1;
}

std::optional<Float> read_float(const Value& t) {
    const Value* said = t.find("float");
    if (!said) return std::nullopt;
    Float out;
    if (said->holds == Value::Holds::text)
        out.kind = said->text == "soft" ? Float::Kind::soft : Float::Kind::none;
    else if (const Value* words = t.table_of("float"))
        out = {Float::Kind::commanded, words->text_of("free").value_or("hand"),
               words->text_of("lock").value_or("hand"), words->text_of("centre").value_or("self")};
    else
        return std::nullopt;
    return out;
}

// How work is done at this machine.
void read_ways(const Value& t, Machine& out) {
    if (t.text_of("zero") == "offsets") out.zero = ZeroKept::offsets;
    if (t.text_of("trim") == "control") out.trim = TrimAt::control;
    if (t.text_of("runs") == "hand") out.runs = Runs::hand;
    out.tool_float = read_float(t);
    out.lock_to_cut = t.flag_of("lock_to_cut").value_or(true);
    out.spin_up = t.number_of("spin_up").value_or(out.spin_up);
    out.spin_down = t.number_of("spin_down").value_or(out.spin_down);
    out.load_at = t.point_of("load_at");
    out.measure_at = t.point_of("measure_at");
    if (t.text_of("pilot_change") == "cutter off") out.pilot_change = PilotChange::cutter_off;
    out.ball = t.number_of("ball");
}

Machine read_machine(const Value& t) {
    Machine out;
    out.name = t.text_of("name").value_or("the job's machine");
    out.travel_x = t.number_of("travel_x");
    out.travel_y = t.number_of("travel_y");
    out.travel_z = t.number_of("travel_z");
    out.x_sign = sign_of(t, "x_sign");
    out.y_sign = sign_of(t, "y_sign");
    out.z_sign = sign_of(t, "z_sign");
    out.resolution = t.number_of("resolution").value_or(out.resolution);
    out.rpm_min = t.number_of("rpm_min");
    out.rpm_max = t.number_of("rpm_max");
    out.rpm_step = t.number_of("rpm_step").value_or(out.rpm_step);
    out.power = t.number_of("power");
    out.torque = t.number_of("torque");
    out.rapid = t.number_of("rapid");
    out.accel = t.number_of("accel");
    out.float_stiffness = t.number_of("float_stiffness");
    out.axial_stiffness = t.number_of("axial_stiffness");
    if (const Value* m = t.table_of("mode"))
        out.mode = Mode{m->number_of("frequency").value_or(0), m->number_of("stiffness").value_or(0),
                        m->number_of("damping").value_or(0)};
    read_ways(t, out);
    return out;
}

Fixture read_fixture(const Value& t) {
    Fixture out;
    out.name = t.text_of("name").value_or("the job's fixture");
    out.tilt = range_of(t, "tilt").value_or(Range{0, 0});
    out.swing = range_of(t, "swing").value_or(Range{0, 0});
    out.plumb_limit = t.number_of("plumb_limit").value_or(rad(0.05));
    out.step = t.number_of("step").value_or(out.step);
    out.post_diameter = t.number_of("post_diameter");
    out.clamp_force = t.number_of("clamp_force");
    out.friction = t.number_of("friction");
    out.captive = t.flag_of("captive").value_or(false);
    if (const auto side = t.text_of("load_from"))
        out.load_from = *side == "back" ? LoadSide::back : LoadSide::front;
    out.post_span = range_of(t, "post_span");
    out.mass_max = t.number_of("mass_max");
    if (const Value* words = t.find("suits"))
        for (const auto& w : words->items) out.suits.push_back(w.text);
    return out;
}

Pilot read_pilot(const Value& t) {
    Pilot out;
    const std::string style = t.text_of("style").value_or("tapered");
    out.name = t.text_of("name").value_or("");
    out.style = style == "live" || style == "parallel" ? PilotStyle::parallel : PilotStyle::tapered;
    out.turns_with_tool = style == "live";
    out.diameter = t.number_of("diameter").value_or(0);
    out.taper = t.number_of("taper").value_or(0);
    out.free_length = t.number_of("free_length");
    out.tip = t.number_of("tip").value_or(0);
    out.reach = t.number_of("reach");
    out.gauge_at = t.number_of("gauge_at");
    out.slide = t.number_of("slide");
    out.seat_force = t.number_of("seat_force");
    out.length = t.number_of("length");
    out.above = t.number_of("above");
    if (const auto count = t.number_of("count")) out.count = static_cast<int>(*count);
    return out;
}

Cutter read_cutter(const Value& t) {
    Cutter out;
    out.name = t.text_of("name").value_or("");
    for (const Value* f : t.tables_of("facets"))
        out.facets.push_back({f->number_of("angle").value_or(0), f->number_of("width").value_or(0)});
    out.gauge_diameter = range_of(t, "gauge_diameter").value_or(Range{0, any_diameter_mm});
    out.blades = static_cast<int>(t.number_of("blades").value_or(1));
    out.drop = t.number_of("drop");
    out.lowest = t.number_of("lowest");
    out.body = t.number_of("body");
    out.bore_depth = t.number_of("bore_depth");
    return out;
}

Material read_material(const Value& t) {
    Material out;
    out.name = t.text_of("name").value_or("");
    out.kc11 = t.number_of("kc11");
    out.mc = t.number_of("mc");
    out.speed = range_of(t, "speed");
    out.feed = range_of(t, "feed");
    out.modulus = t.number_of("modulus");
    out.poisson = t.number_of("poisson");
    out.expansion = t.number_of("expansion");
    out.normal_ratio = t.number_of("normal_ratio").value_or(out.normal_ratio);
    return out;
}

Dialect read_dialect(const Value& t) {
    Dialect out;
    out.name = t.text_of("name").value_or(out.name);
    out.decimals_mm = static_cast<int>(t.number_of("decimals_mm").value_or(out.decimals_mm));
    out.decimals_inch = static_cast<int>(t.number_of("decimals_inch").value_or(out.decimals_inch));
    out.line_numbers = t.flag_of("line_numbers").value_or(out.line_numbers);
    if (t.text_of("comment") == "semicolon") out.comment = Dialect::Comment::semicolon;
    out.dwell_in_milliseconds = t.flag_of("dwell_in_milliseconds").value_or(out.dwell_in_milliseconds);
    out.canned_cycles = t.flag_of("canned_cycles").value_or(out.canned_cycles);
    out.tool_change = t.text_of("tool_change").value_or(out.tool_change);
    out.program_end = t.text_of("program_end").value_or(out.program_end);
    out.file_ending = t.text_of("file_ending").value_or(out.file_ending);
    out.top = t.text_of("top").value_or("");
    if (t.text_of("names") == "8.3") out.names = Dialect::Names::eight_three;
    return out;
}

// All of one kind on the shelf, job before shop; of one name the job's. Twice in one file is a fault.
template <class T, class Read>
std::vector<T> gather(const std::vector<Source>& sources, const char* key, const Read& read, Faults& faults) {
    std::vector<T> out;
    std::set<std::string> known;
    for (const auto& source : sources) {
        std::set<std::string> here;
        std::size_t index = 0;
        for (const Value* t : source.root->tables_of(key)) {
            const std::string path = fmt::format("{}[{}].name", key, index++);
            T thing = read(*t);
            if (thing.name.empty()) thing.name = fmt::format("{} {}", key, index);
            if (!here.insert(thing.name).second) {
                faults.push_back(source.fault(
                    t->line_of("name"), path,
                    t->has("name") ? fmt::format("\"{}\" is listed twice; names are unique", thing.name)
                                   : std::string("is missing; several need names to tell them apart")));
                continue;
            }
            if (known.insert(thing.name).second) out.push_back(std::move(thing));
        }
    }
    return out;
}

template <class T>
std::string names_of(const std::vector<T>& things) {
    std::string out;
    for (const auto& t : things) out += (out.empty() ? "\"" : ", \"") + t.name + "\"";
    return out.empty() ? "none" : out;
}

// The one the job names; else its own; else the only one there is.
template <class T>
std::optional<T> choose(const std::vector<Source>& sources, const char* key, const std::vector<T>& all,
                        Faults& faults) {
    const Source& job = sources.front();
    const Value* entry = job.root->find(key);
    if (entry && entry->holds == Value::Holds::text) {
        const auto at =
            std::find_if(all.begin(), all.end(), [&](const T& t) { return t.name == entry->text; });
        if (at != all.end()) return *at;
        faults.push_back(
            job.fault(entry->line, key,
                      fmt::format("\"{}\" is not on the shelf; there: {}", entry->text, names_of(all))));
        return std::nullopt;
    }
    if (entry && entry->holds == Value::Holds::table) return all.front();
    if (entry && entry->holds == Value::Holds::nothing) return std::nullopt;
    if (all.size() == 1) return all.front();
    if (all.size() > 1)
        faults.push_back(
            job.fault(entry ? entry->line : 1, key,
                      fmt::format("is not named and the shelf has several; name one of {}", names_of(all))));
    return std::nullopt;
}

// The words of one table that a program will carry as they stand.
void check_words(const Source& source, const Value& t, const std::string& table, const char* key,
                 ControlUse use, Faults& faults) {
    const auto words = t.text_of(key);
    if (!words) return;
    if (std::string wrong = fault_of_control_words(*words, use); !wrong.empty())
        faults.push_back(
            source.fault(t.line_of(key), table + "." + key, fmt::format("\"{}\" {}", *words, wrong)));
}

void check_float(const Source& source, const Value& machine, Faults& faults) {
    if (const auto kind = machine.text_of("float"); kind && *kind != "none" && *kind != "soft")
        faults.push_back(source.fault(
            machine.line_of("float"), "machine.float",
            fmt::format("is \"{}\"; wanted: \"none\", \"soft\" or a table of free, lock and centre", *kind)));
    const Value* said = machine.table_of("float");
    if (!said) return;
    for (const char* key : {"free", "lock", "centre"}) {
        const auto words = said->text_of(key);
        if (words == "hand" || (words == "self" && std::string_view(key) == "centre")) continue;
        check_words(source, *said, "machine.float", key, ControlUse::float_word, faults);
    }
    const auto free = said->text_of("free");
    for (const char* key : {"lock", "centre"})
        if (free && free != "hand" && said->text_of(key) == free)
            faults.push_back(source.fault(said->line_of(key), fmt::format("machine.float.{}", key),
                                          fmt::format("\"{}\" is the word that frees the float too", *free)));
}

void check_control_words(const std::vector<Source>& sources, Faults& faults) {
    for (const auto& source : sources) {
        for (const Value* t : source.root->tables_of("machine")) check_float(source, *t, faults);
        for (const Value* t : source.root->tables_of("dialect")) {
            if (!t->text_of("top").value_or("").empty())
                check_words(source, *t, "dialect", "top", ControlUse::top, faults);
            check_words(source, *t, "dialect", "tool_change", ControlUse::tool_change, faults);
            check_words(source, *t, "dialect", "program_end", ControlUse::program_end, faults);
        }
    }
}

// Checks that need a whole tool: told at its place in whichever file has it.
void check_tools(const std::vector<Source>& sources, Faults& faults) {
    for (const auto& source : sources) {
        std::size_t index = 0;
        for (const Value* t : source.root->tables_of("pilot")) {
            const std::string path = fmt::format("pilot[{}]", index++);
            const Pilot p = read_pilot(*t);
            if (p.diameter > 0 && p.tip > p.diameter)
                faults.push_back(source.fault(t->line_of("tip"), path + ".tip",
                                              "is wider than the pilot; the tip enters first"));
            if (p.style == PilotStyle::parallel && p.taper > 0)
                faults.push_back(source.fault(
                    t->line_of("taper"), path + ".taper",
                    "is given for a live pilot, which is parallel; leave it out or set style = \"fixed\""));
        }
        index = 0;
        for (const Value* t : source.root->tables_of("cutter")) {
            const std::string path = fmt::format("cutter[{}].facets", index++);
            const Cutter c = read_cutter(*t);
            if (t->has("facets") && t->find("facets")->holds != Value::Holds::nothing && c.facets.empty())
                faults.push_back(
                    source.fault(t->line_of("facets"), path, "lists no facet; a cutter has at least one"));
            for (std::size_t i = 1; i < c.facets.size(); ++i)
                if (c.facets[i].angle >= c.facets[i - 1].angle && c.facets[i].width > 0 &&
                    c.facets[i - 1].width > 0) {
                    faults.push_back(source.fault(t->line_of("facets"), fmt::format("{}[{}]", path, i),
                                                  "is not flatter than the facet before it; facets go inside "
                                                  "to outside, steep to flat"));
                    break;
                }
        }
        index = 0;
        for (const Value* t : source.root->tables_of("machine")) {
            if (const Value* said = t->find("float");
                said && said->holds == Value::Holds::text && said->text != "none" && said->text != "soft")
                faults.push_back(source.fault(
                    said->line, "machine.float",
                    fmt::format("is \"{}\"; wanted: \"none\", \"soft\" or a table with free, lock and centre",
                                said->text)));
            const auto low = t->number_of("rpm_min"), high = t->number_of("rpm_max");
            if (low && high && *low > *high)
                faults.push_back(source.fault(t->line_of("rpm_max"), "machine.rpm_max", "is below rpm_min"));
        }
    }
}

}  // namespace

Built<Shelf> build_shelf(const std::vector<Source>& sources) {
    Built<Shelf> out;
    auto& shelf = out.value;
    const auto machines = gather<Machine>(sources, "machine", read_machine, out.faults);
    shelf.fixtures = gather<Fixture>(sources, "fixture", read_fixture, out.faults);
    shelf.pilots = gather<Pilot>(sources, "pilot", read_pilot, out.faults);
    shelf.cutters = gather<Cutter>(sources, "cutter", read_cutter, out.faults);
    shelf.materials = gather<Material>(sources, "material", read_material, out.faults);
    const auto dialects = gather<Dialect>(sources, "dialect", read_dialect, out.faults);
    shelf.machine = choose(sources, "machine", machines, out.faults);
    shelf.fixture = choose(sources, "fixture", shelf.fixtures, out.faults);
    const Value* dialect = sources.front().root->find("dialect");
    if (dialect && dialect->holds == Value::Holds::text) {
        if (const auto named = choose(sources, "dialect", dialects, out.faults)) shelf.dialect = *named;
    } else if (!dialects.empty()) {
        shelf.dialect = dialects.front();
    }
    for (const auto& source : sources)
        if (const Value* t = source.root->table_of("rates")) {
            shelf.rates = Rates{t->text_of("currency").value_or(""), t->number_of("head").value_or(0),
                                t->number_of("valve").value_or(0), t->number_of("guide").value_or(0),
                                t->number_of("insert").value_or(0)};
            break;
        }
    check_tools(sources, out.faults);
    check_control_words(sources, out.faults);
    return out;
}

}  // namespace seatwright::job
