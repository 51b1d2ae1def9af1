#include "seatwright/survey/read.hpp"

#include <fmt/format.h>

#include <map>

#include "seatwright/job/ranges.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/walk.hpp"
#include "seatwright/survey/keys.hpp"

namespace seatwright::survey {
namespace {

using job::Value;

constexpr std::array point_words{"guide", "hole", "seat", "valve head", "deck"};
constexpr std::array size_words{"bore",       "stem",         "throat",  "valve head",
                                "face width", "guide length", "to seat", "below"};
// Keys of a job whose range says what each size can be; none for a throat.
constexpr std::array size_keys{"guide.*.bore",          "valve.*.stem_diameter", "",
                               "valve.*.head_diameter", "seat.*.width",          "guide.*.length",
                               "guide.*.to_seat",       "guide.*.below"};

template <class Enum, std::size_t N>
Enum named(const std::array<const char*, N>& words, const std::string& word) {
    const auto at = std::find(words.begin(), words.end(), word);
    return static_cast<Enum>(at == words.end() ? 0 : at - words.begin());
}

class Reader {
  public:
    Reader(const job::Walked& walked, const std::string& file) : root_(walked.root) {
        out_.file = file;
        out_.units = walked.units;
    }

    void read() {
        head();
        sensor();
        std::size_t i = 0;
        for (const Value* entry : root_.tables_of("point")) point(*entry, fmt::format("point[{}]", i++));
        i = 0;
        for (const Value* entry : root_.tables_of("level")) level(*entry, fmt::format("level[{}]", i++));
        i = 0;
        for (const Value* entry : root_.tables_of("size")) size(*entry, fmt::format("size[{}]", i++));
    }

    // What only shows when all lines are seen.
    void whole() {
        if (out_.points.empty() && out_.levels.empty() && out_.sizes.empty()) {
            fault(0, "point",
                  "is missing: nothing is read in this file; wanted: [[point]], [[level]] and [[size]] as "
                  "docs/survey.md has them");
            return;
        }
        std::map<std::string, const Point*> holes;
        for (const auto& p : out_.points)
            if (p.what == What::hole) holes.emplace(p.id, &p);
        const auto no_hole = [&](const std::string& id, int line, const std::string& key) {
            const auto at = holes.find(id);
            if (at == holes.end() || at->second == nullptr) return;
            fault(line, key + ".id",
                  fmt::format(
                      "\"{}\" is a guide here and a hole in line {}; give the hole another name, or write "
                      "what = \"hole\" in both",
                      id, at->second->line));
            at->second = nullptr;  // once for each name
        };
        for (const auto& p : out_.points)
            if (p.what != What::hole && p.what != What::deck) no_hole(p.id, p.line, p.key);
        for (const auto& l : out_.levels)
            if (!l.on_deck) no_hole(l.id, l.line, l.key);
        for (const auto& s : out_.sizes) no_hole(s.id, s.line, s.key);
        hole_sizes();
        most();
    }

    Readings take() { return std::move(out_); }
    Faults faults;

  private:
    void fault(int line, std::string key, std::string text) {
        faults.push_back({out_.file, line, std::move(key), std::move(text)});
    }

    std::string word(const Value& table, const char* key, const char* otherwise = "") {
        return table.text_of(key).value_or(otherwise);
    }

    void head() {
        out_.shop = word(root_, "shop");
        out_.machine = word(root_, "machine");
        out_.fixture = word(root_, "fixture");
        for (const auto& [key, name] : {std::pair{"machine", &out_.machine}, {"fixture", &out_.fixture}})
            if (!name->empty() && out_.shop.empty())
                fault(root_.line_of(key), key,
                      "names what stands on a shop's shelf, and these readings name no shop; wanted: shop = "
                      "\"shop.toml\", or leave it out");
        out_.clamped_once = word(root_, "clamped") == "once";
        out_.head = "surveyed head";
        if (const Value* head = root_.table_of("head")) {
            out_.head = word(*head, "name", "surveyed head");
            out_.material = word(*head, "material");
            out_.mass = head->number_of("mass");
        }
        out_.title = word(root_, "title", out_.head.c_str());
        if (const Value* readout = root_.table_of("readout"))
            for (const auto& [key, axis] : {std::pair{"x_sign", 0}, {"y_sign", 1}, {"z_sign", 2}})
                if (word(*readout, key, "1") == "-1") sign_[static_cast<std::size_t>(axis)] = -1;
    }

    void sensor() {
        const Value* sensor = root_.table_of("sensor");
        if (sensor != nullptr && word(*sensor, "zero") == "deck") out_.zero = SensorZero::deck;
        const auto sd = sensor != nullptr ? sensor->number_of("sd") : std::nullopt;
        out_.sensor_sd = sd.value_or(usual_sensor_sd);
        out_.sensor_sd_assumed = !sd;
    }

    std::optional<double> coordinate(const Value& entry, const char* key, std::size_t axis) const {
        const auto value = entry.number_of(key);
        return value ? std::optional(sign_[axis] * *value + 0.0) : std::nullopt;
    }

    void point(const Value& entry, const std::string& key) {
        Point p;
        p.line = entry.line;
        p.key = key;
        p.setup = word(entry, "setup");
        p.tilt = entry.number_of("tilt");
        p.swing = entry.number_of("swing");
        p.what = named<What>(point_words, word(entry, "what"));
        p.id = word(entry, "id");
        p.x = coordinate(entry, "x", 0);
        p.y = coordinate(entry, "y", 1);
        p.z = coordinate(entry, "z", 2);
        const auto sd = entry.number_of("sd");
        if (!sd) out_.point_sd_assumed = true;
        p.sd = sd.value_or(usual_point_sd);
        p.ball = entry.number_of("ball").value_or(0);
        p.diameter = entry.number_of("diameter");
        p.head_height = entry.number_of("head_height");
        p.angle = entry.number_of("angle");
        p.sure = entry.flag_of("sure").value_or(false);
        if (!entry.text_of("what") || p.setup.empty()) return;  // the table of keys has said so
        complete(entry, p);
        out_.points.push_back(std::move(p));
    }

    // What a reading of its kind cannot do without.
    void complete(const Value& entry, const Point& p) {
        const bool guide = p.what == What::guide || p.what == What::seat || p.what == What::valve_head;
        const auto wants = [&](const char* name, const std::string& text) {
            if (!entry.has(name)) fault(p.line, p.key + "." + name, "is missing; " + text);
        };
        if (p.what != What::deck)
            wants("id", guide ? "wanted: the guide's name, such as \"1I\""
                              : "wanted: a name for the hole, the same in every setup");
        if (guide) name_of_guide(entry, p.id, p.key);
        if (!entry.has("x") && !entry.has("y") && !entry.has("z"))
            fault(p.line, p.key + ".x",
                  fmt::format("is missing, and so are y and z: a {} was read at no place", word_of(p.what)));
        if (p.what == What::deck)
            for (const char* axis : {"x", "y", "z"})
                wants(axis, "a place on the deck needs X, Y and Z, or it does not say how the deck lies");
        if (p.what == What::valve_head) wants("z", "a stylus on a valve's head reads Z");
        if (p.what == What::guide)
            for (const char* other : {"ball", "diameter"})
                if (entry.has(other))
                    fault(entry.line_of(other), p.key + "." + other,
                          "belongs to a hole: if this is one write what = \"hole\", a pilot over a guide has "
                          "none");
        if (p.what == What::hole && p.ball > 0 && p.diameter && 2 * p.ball <= *p.diameter)
            fault(
                entry.line_of("ball"), p.key + ".ball",
                fmt::format(
                    "is a radius and must be above half the hole's diameter ({}), or the ball falls through",
                    job::figure_words(*p.diameter / 2, job::Dimension::length, out_.units)));
        if (p.diameter && p.what == What::hole && !p.sure)
            possible(entry, "diameter", *p.diameter, "head.bolt_hole_diameter", p.key);
    }

    void name_of_guide(const Value& entry, const std::string& id, const std::string& key) {
        if (id.empty() || guide_name(id)) return;
        fault(entry.line_of("id"), key + ".id",
              fmt::format(
                  "\"{}\" is no guide's name; wanted: its cylinder, I or E, and a letter where there are "
                  "several (1I, 3Eb); of a hole write what = \"hole\"",
                  id));
    }

    void level(const Value& entry, const std::string& key) {
        Level l;
        l.line = entry.line;
        l.key = key;
        l.setup = word(entry, "setup");
        l.on_deck = word(entry, "what") == "deck";
        l.id = word(entry, "id");
        l.across = word(entry, "across") == "cant" ? job::Across::cant : job::Across::incline;
        l.first = entry.number_of("first").value_or(0);
        l.second = entry.number_of("second");
        l.sd = entry.number_of("sd").value_or(out_.sensor_sd);
        l.sure = entry.flag_of("sure").value_or(false);
        if (!l.on_deck && entry.text_of("what") && !entry.has("id"))
            fault(l.line, key + ".id", "is missing; wanted: the guide's name, such as \"1I\"");
        if (!l.on_deck) name_of_guide(entry, l.id, key);
        if (entry.text_of("what") && entry.text_of("across") && entry.number_of("first") && !l.setup.empty())
            out_.levels.push_back(std::move(l));
    }

    void size(const Value& entry, const std::string& key) {
        Size s;
        s.line = entry.line;
        s.key = key;
        s.what = named<SizeOf>(size_words, word(entry, "what"));
        s.id = word(entry, "id");
        s.value = entry.number_of("value").value_or(0);
        s.sd = entry.number_of("sd").value_or(usual_point_sd);
        name_of_guide(entry, s.id, key);
        if (!entry.text_of("what") || !entry.number_of("value")) return;
        const char* of_job = size_keys[static_cast<std::size_t>(s.what)];
        if (*of_job != '\0' && !entry.flag_of("sure").value_or(false))
            possible(entry, "value", s.value, of_job, key);
        out_.sizes.push_back(std::move(s));
    }

    // A size outside what the trade knows is a slip of the unit or of a figure.
    void possible(const Value& entry, const char* name, double value, const char* of_job,
                  const std::string& key) {
        const auto* range = job::plausible_for(of_job);
        if (range == nullptr || job::can_be(*range, value)) return;
        const Value& given = *entry.find(name);
        const auto words = [&](double mm) {
            return job::figure_words(mm, job::Dimension::length, out_.units);
        };
        const std::string typed =
            given.text.empty() ? fmt::format("{:g}", job::to_bare(value, job::Dimension::length, out_.units))
                               : given.text;
        const auto unit = job::unit_that_fits(*range, typed, out_.units);
        fault(given.line, key + "." + name,
              fmt::format("is {}; {} is {} to {}{}; if it is right write sure = true", words(value),
                          range->what, words(range->low), words(range->high),
                          unit ? fmt::format(" (in {} it would fit: write the unit behind it)", *unit) : ""));
    }

    // A hole's diameter may stand in one of its lines; where it is known the ball's height is.
    void hole_sizes() {
        std::map<std::string, double> diameters;
        for (const auto& p : out_.points)
            if (p.what == What::hole && p.diameter) diameters.emplace(p.id, *p.diameter);
        for (auto& p : out_.points) {
            if (p.what != What::hole) continue;
            const auto at = diameters.find(p.id);
            if (!p.diameter && at != diameters.end()) p.diameter = at->second;
            if (p.ball > 0 && !p.diameter)
                fault(p.line, p.key + ".diameter",
                      "is missing; how deep a ball sinks into a hole hangs on it");
            else if (p.ball == 0 && p.z)
                fault(p.line, p.key + ".ball",
                      "is missing; a hole's Z is read with a ball on its rim: give the ball's radius and the "
                      "hole's diameter, or leave Z out");
            else if (p.diameter && p.ball > 0 && 2 * p.ball <= *p.diameter)
                fault(p.line, p.key + ".ball",
                      fmt::format("is a radius and must be above half the diameter of hole {}, or the ball "
                                  "falls through",
                                  p.id));
        }
    }

    void most() {
        std::map<std::string, int> guides;
        for (const auto& p : out_.points)
            if (p.what != What::hole && p.what != What::deck) guides.emplace(p.id, p.line);
        for (const auto& l : out_.levels)
            if (!l.on_deck) guides.emplace(l.id, l.line);
        if (guides.size() > job::max_valves)
            fault(0, "point",
                  fmt::format("names {} guides; a head has at most {}", guides.size(), job::max_valves));
        for (const auto& [id, line] : guides)
            if (guide_name(id)->cylinder > job::max_cylinders) {
                fault(line, "point.id",
                      fmt::format("\"{}\" names a cylinder beyond {}, the most a head has", id,
                                  job::max_cylinders));
                break;
            }
        if (out_.points.size() + out_.levels.size() + out_.sizes.size() > most_readings)
            fault(0, "point",
                  fmt::format("and level and size hold {} readings; at most {} are worked out as one",
                              out_.points.size() + out_.levels.size() + out_.sizes.size(), most_readings));
    }

    static constexpr std::size_t most_readings = 4000;
    const Value& root_;
    Readings out_;
    std::array<double, 3> sign_{1, 1, 1};
};

}  // namespace

const char* word_of(What what) {
    return point_words[static_cast<std::size_t>(what)];
}

const char* word_of(SizeOf what) {
    return size_words[static_cast<std::size_t>(what)];
}

std::optional<GuideName> guide_name(const std::string& id) {
    std::size_t i = 0;
    GuideName out;
    out.cylinder = 0;
    while (i < id.size() && i < 3 && id[i] >= '0' && id[i] <= '9')
        out.cylinder = 10 * out.cylinder + (id[i++] - '0');
    if (i == 0 || out.cylinder < 1 || i >= id.size() || (id[i] != 'I' && id[i] != 'E')) return std::nullopt;
    out.kind = id[i] == 'I' ? job::Kind::intake : job::Kind::exhaust;
    out.letters = id.substr(i);
    if (out.letters.size() > 2 || (out.letters.size() == 2 && (out.letters[1] < 'a' || out.letters[1] > 'z')))
        return std::nullopt;
    return out;
}

Checked<Readings> read_readings(std::string_view text, const std::string& file) {
    static const job::KeyNode tree = job::tree_of(survey_keys());
    const auto document = job::read_text(std::string(text));
    auto walked = job::walk_document(document, file, job::FileKind::job, LengthUnit::mm, tree);
    Faults found = std::move(walked.faults);
    if (walked.readable) {
        Reader reader(walked, file);
        reader.read();
        // What only shows in all lines together is judged where each by itself is right.
        if (found.empty() && reader.faults.empty()) reader.whole();
        std::move(reader.faults.begin(), reader.faults.end(), std::back_inserter(found));
        if (found.empty()) return reader.take();
    }
    return tl::unexpected(job::in_reading_order(std::move(found), file, walked.more_faults));
}

}  // namespace seatwright::survey
