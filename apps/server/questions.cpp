#include "questions.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "seatwright/hold/hold.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/store/toml_json.hpp"
#include "source.hpp"

namespace seatwright::server {

namespace {

constexpr int most_cylinders = 16, most_valves_of_kind = 4;
// Where valves stand inside a cylinder when nobody has measured them: shares of the bore spacing that leave a
// bridge on heads of common proportions (common practice; the page asks for the true places later).
constexpr double pair_share = 0.43, row_share = 0.6, side_share = 0.2;
// Facets beside a face are cut at 15 deg either way of a 45 deg face (common practice).
constexpr double beside = 15;

using store::refuse;
using store::Why;

// Reads one object of answers; remembers the first thing wrong.
class Answers {
  public:
    explicit Answers(const Json& json) : json_(json) {}

    const Json* at(const std::string& pointer) const {
        const Json::json_pointer where(pointer);
        if (!json_.is_object() || !json_.contains(where) || json_.at(where).is_null()) return nullptr;
        return &json_.at(where);
    }
    std::optional<double> number(const std::string& pointer, double low, double high,
                                 const std::string& what) {
        const Json* value = at(pointer);
        if (value == nullptr) return std::nullopt;
        if (value->is_number() && value->get<double>() >= low && value->get<double>() <= high)
            return value->get<double>();
        wrong(fmt::format("{} is a number from {} to {}", what, low, high));
        return std::nullopt;
    }
    std::string word(const std::string& pointer, const std::vector<std::string>& words,
                     const std::string& what) {
        const Json* value = at(pointer);
        if (value == nullptr) return words.front();
        for (const auto& one : words)
            if (*value == one) return one;
        wrong(fmt::format("{} is {}", what, fmt::join(words, " or ")));
        return words.front();
    }
    void wrong(const std::string& sentence) {
        if (fault_.empty()) fault_ = sentence;
    }
    const std::string& fault() const { return fault_; }

  private:
    const Json& json_;
    std::string fault_;
};

struct Placed {
    std::string kind;
    double x = 0, y = 0;
};

// n places along the cylinder, centred.
std::vector<double> row(int n, double spacing) {
    const double span = n < 2 ? 0 : (n == 2 ? pair_share : row_share) * spacing;
    std::vector<double> places;
    for (int i = 0; i < n; ++i) places.push_back(n < 2 ? 0 : -span / 2 + span * i / (n - 1));
    return places;
}

std::vector<Placed> places_of(Answers& answers, double spacing) {
    const auto whole = [&](const std::string& kind) {
        const auto n = answers.number("/valves/" + kind, 0, most_valves_of_kind,
                                      "the number of " + kind + " valves a cylinder");
        return static_cast<int>(std::lround(n.value_or(1)));
    };
    const int intakes = whole("intake"), exhausts = whole("exhaust");
    if (intakes + exhausts == 0) answers.wrong("a cylinder has at least one valve");
    const std::string first = answers.word("/order/first", {"intake", "exhaust"}, "the first valve");
    const std::string second = first == "intake" ? "exhaust" : "intake";
    const int of_first = first == "intake" ? intakes : exhausts,
              of_second = first == "intake" ? exhausts : intakes;
    std::vector<Placed> all;
    const bool two_rows = intakes + exhausts > 2;
    if (answers.word("/order/layout", {two_rows ? "two rows" : "in line", two_rows ? "in line" : "two rows"},
                     "the layout") == "in line") {
        const auto xs = row(of_first + of_second, spacing);
        for (std::size_t i = 0; i < xs.size(); ++i)
            all.push_back({static_cast<int>(i) < of_first ? first : second, xs[i], 0});
    } else {
        for (const double x : row(of_first, spacing)) all.push_back({first, x, side_share * spacing});
        for (const double x : row(of_second, spacing)) all.push_back({second, x, -side_share * spacing});
    }
    return all;
}

std::string number_text(double value) {
    return fmt::format("{}", std::round(value * 1e4) / 1e4 + 0.0);
}

std::string quoted(const std::string& text) {
    return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string pattern_text(Answers& answers, int cylinders, double spacing) {
    std::string text = fmt::format(
        "\n[head.pattern]\ncylinders = {}\nbore_spacing = {}\nalternate = \"{}\"\n"
        "# Places inside the cylinder are a start: measure them and put them right.\nvalve = [\n",
        cylinders, number_text(spacing),
        answers.word("/order/alternate", {"same", "mirrored"}, "every second cylinder"));
    constexpr double most_lean = 79;
    for (const auto& v : places_of(answers, spacing)) {
        const double incline =
            answers.number("/angles/" + v.kind + "/incline", -most_lean, most_lean, "an incline in degrees")
                .value_or(0);
        const double cant =
            answers.number("/angles/" + v.kind + "/cant", -most_lean, most_lean, "a cant in degrees")
                .value_or(0);
        text +=
            fmt::format("  {{ kind = \"{}\", x = {}, y = {}, z = 0, incline = {}, cant = {} }},\n", v.kind,
                        number_text(v.x), number_text(v.y), number_text(incline), number_text(cant));
    }
    return text + "]\n";
}

// Valve and seat of a kind, as far as its sizes are known.
std::string kind_text(Answers& answers, const std::string& kind, double mm_per_unit) {
    const std::string at = "/sizes/" + kind + "/";
    const double most = 200 / mm_per_unit;
    const auto size = [&](const std::string& key) {
        return answers.number(at + key, 1e-4, most, fmt::format("{} of the {} valve", key, kind));
    };
    const auto head = size("head_diameter"), stem = size("stem_diameter"), width = size("seat_width");
    const double angle = answers.number(at + "seat_angle", 10, 75, "a seat angle in degrees").value_or(45);
    std::string text;
    if (head)
        text += fmt::format("\n[valve.{}]\nhead_diameter = {}\nface_angle = {}\n", kind, number_text(*head),
                            number_text(angle));
    if (head && stem) text += fmt::format("stem_diameter = {}\n", number_text(*stem));
    if (!head || !width) return text;
    // Contact a little inside the valve's edge, facets as wide as the face (common practice).
    text += fmt::format("\n[seat.{}]\nangle = {}\nwidth = {}\ninset = {}\n", kind, number_text(angle),
                        number_text(*width), number_text(*width / 2));
    text += fmt::format("top = [ {{ angle = {}, width = {} }} ]\nthroat = [ {{ angle = {}, width = {} }} ]\n",
                        number_text(std::max(angle - beside, 1.0)), number_text(*width),
                        number_text(std::min(angle + beside, 80 - 1.0)), number_text(*width));
    return text;
}

std::vector<std::string> names_on(const std::string& shop, const std::string& table) {
    std::vector<std::string> names;
    const auto tree = store::parse_toml(shop);
    if (!tree) return names;
    if (const auto* list = (*tree)[table].as_array())
        for (const auto& node : *list)
            if (const auto* one = node.as_table())
                if (const auto name = (*one)["name"].value<std::string>()) names.push_back(*name);
    return names;
}

bool holds_all(const std::string& text, const std::string& shop) {
    const auto job = read_with_shop(text, shop);
    return job && job::needs(*job, job::Stage::hold).empty() && !plan::blocked(hold::plan(*job));
}

}  // namespace

store::Answer<std::string> text_of_answers(const Json& json, const std::string& shop) {
    Answers answers(json);
    const std::string units = answers.word("/units", {"mm", "in"}, "units");
    const double mm_per_unit = units == "in" ? mm_per_inch : 1;
    const auto cylinders = answers.number("/cylinders", 1, most_cylinders, "the number of cylinders");
    const auto spacing =
        answers.number("/bore_spacing", 10 / mm_per_unit, 1000 / mm_per_unit, "the bore spacing");
    if (!cylinders) answers.wrong("how many cylinders?");
    if (!spacing) answers.wrong("how far apart are the bores?");
    if (!answers.fault().empty()) return refuse(Why::bad, answers.fault());

    const Json* title = answers.at("/title");
    const std::string name = title != nullptr && title->is_string() ? title->get<std::string>() : "New head";
    const std::string body = fmt::format("\n[head]\nname = {}\n", quoted(name)) +
                             pattern_text(answers, static_cast<int>(std::lround(*cylinders)), *spacing) +
                             kind_text(answers, "intake", mm_per_unit) +
                             kind_text(answers, "exhaust", mm_per_unit);
    if (!answers.fault().empty()) return refuse(Why::bad, answers.fault());

    std::string top = fmt::format("title = {}\nunits = \"{}\"\nshop = \"shelf\"\n", quoted(name), units);
    if (const auto machines = names_on(shop, "machine"); !machines.empty())
        top += fmt::format("machine = {}\n", quoted(machines.front()));
    std::optional<std::string> first;
    for (const auto& fixture : names_on(shop, "fixture")) {
        const std::string text = top + fmt::format("fixture = {}\n", quoted(fixture)) + body;
        if (!first) first = text;
        if (holds_all(text, shop)) return text;
    }
    return first.value_or(top + body);
}

}  // namespace seatwright::server
