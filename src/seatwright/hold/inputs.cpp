#include "seatwright/hold/inputs.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_hold.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

namespace seatwright::hold {

namespace {

struct Gathering {
    const job::Job& job;
    std::vector<Input> out;

    void of_head(const std::string& what, double value, const char* unit, std::string_view key) {
        using job::Head;
        const From from = job.head.made_up(key)                   ? From::made_up
                          : Head::names(job.head.of_casting, key) ? From::casting
                          : Head::names(job.head.surveyed, key)   ? From::survey
                                                                  : From::job;
        out.push_back({what, value, unit, from});
    }
    void of_shop(const char* what, std::optional<double> value, const char* unit, bool of_shelf) {
        if (value) out.push_back({what, *value, unit, of_shelf ? From::shelf : From::job});
    }

    void head() {
        const auto& head = job.head;
        if (head.mass) of_head("head.mass", *head.mass, "kg", "head.mass");
        for (std::size_t i = 0; i < head.bolt_holes.size(); ++i)
            for (const int axis : {0, 1}) {
                const std::string key = fmt::format("head.bolt_holes[{}].{}", i, axis == 0 ? "x" : "y");
                of_head(key, head.bolt_holes[i][axis], "mm", fmt::format("head.bolt_holes[{}]", i));
            }
        if (head.bolt_hole_diameter)
            of_head("head.bolt_hole_diameter", *head.bolt_hole_diameter, "mm", "head.bolt_hole_diameter");
        for (const auto& valve : head.valves) {
            const std::array<std::pair<const char*, double>, 5> figures{{{"x", valve.seat.x()},
                                                                         {"y", valve.seat.y()},
                                                                         {"z", valve.seat.z()},
                                                                         {"incline", deg(valve.incline)},
                                                                         {"cant", deg(valve.cant)}}};
            for (std::size_t k = 0; k < figures.size(); ++k) {
                const auto& [name, value] = figures[k];
                const std::string what = fmt::format("head.valve.{}.{}", valve.id, name);
                const std::string key =
                    valve.pattern >= 0 ? fmt::format("head.pattern.valve[{}].{}", valve.pattern, name) : what;
                of_head(what, value, k < 3 ? "mm" : "deg", key);
            }
        }
    }

    void guides() {
        for (const auto kind : job::both_kinds) {
            const std::string key = fmt::format("guide.{}.bore", job::kind_word(kind));
            if (job.guide[kind] && job.guide[kind]->bore) of_head(key, *job.guide[kind]->bore, "mm", key);
        }
    }

    void shop() {
        const auto& fixture = job.fixture;
        if (!job.fixtures.empty()) {
            const bool shelf = job.fixture_of_shelf;
            of_shop("fixture.tilt[0]", deg(fixture.tilt.low), "deg", shelf);
            of_shop("fixture.tilt[1]", deg(fixture.tilt.high), "deg", shelf);
            of_shop("fixture.swing[0]", deg(fixture.swing.low), "deg", shelf);
            of_shop("fixture.swing[1]", deg(fixture.swing.high), "deg", shelf);
            of_shop("fixture.plumb_limit", deg(fixture.plumb_limit), "deg", shelf);
            of_shop("fixture.post_diameter", fixture.post_diameter, "mm", shelf);
            of_shop("fixture.clamp_force", fixture.clamp_force, "N", shelf);
            of_shop("fixture.friction", fixture.friction, "ratio", shelf);
        }
        of_shop("machine.travel_x", job.machine.travel_x, "mm", job.machine_of_shelf);
        of_shop("machine.travel_y", job.machine.travel_y, "mm", job.machine_of_shelf);
    }
};

// What a person would call the figure of that key.
const char* named(std::string_view key) {
    if (key.starts_with("head.bolt_hole")) return "bolt holes";
    if (key == "head.mass") return "the mass";
    if (key.starts_with("guide.")) return key.ends_with(".bore") ? "guide bores" : "guides";
    if (key.starts_with("valve.")) return "valves";
    if (key.starts_with("seat.")) return "seats";
    return key.ends_with("incline") || key.ends_with("cant") ? "angles" : "valve places";
}

// Hold stands on none of these but the bore; the programs do.
bool is_cut_by(std::string_view key) {
    return key.starts_with("guide.") || key.starts_with("valve.") || key.starts_with("seat.");
}

}  // namespace

const char* word_of(From from) {
    constexpr std::array words{"job", "casting", "survey", "shelf", "default"};
    return words[static_cast<std::size_t>(from)];
}

std::vector<Input> inputs_of(const job::Job& job) {
    Gathering all{job, {}};
    all.head();
    all.guides();
    all.shop();
    return std::move(all.out);
}

void say_made_up(const job::Job& job, Hold& hold) {
    if (job.head.assumed.empty()) return;
    std::vector<std::string_view> things;
    const auto add = [&](std::string_view thing) {
        if (std::find(things.begin(), things.end(), thing) == things.end()) things.push_back(thing);
    };
    for (const auto& input : hold.inputs)
        if (input.from == From::made_up) add(named(input.what));
    for (const std::string& key : job.head.assumed)
        if (is_cut_by(key) && !key.ends_with(".bore")) add(named(key));
    if (things.empty()) return;
    const List list{Join::with_and, {things.begin(), things.end()}};
    hold.warnings.push_back(
        {"hold", "not-from-you", std::nullopt, sentence<"made-up">("things"_is = list), Severity::blocking});
    HeldBack held;
    held.code = HeldCode::not_from_you;
    held.reason = sentence<"made-up-held">("things"_is = list);
    held.frees = sentence<"made-up-frees">();
    hold.held_back.push_back(std::move(held));
}

}  // namespace seatwright::hold
